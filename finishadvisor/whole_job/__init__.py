"""The one way through a job: photo -> evenness -> facts -> findings -> works -> plan -> order -> ranking.

Command line, page and papers go through here; the four packages it joins never import one another.
"""
