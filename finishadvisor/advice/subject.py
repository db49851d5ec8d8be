"""What a rule may speak of; it stands with the works, since the plan asks the same rules again for later days."""

from finishadvisor.works.subject import cautions_of, finish_subject

__all__ = ["cautions_of", "finish_subject"]
