"""Handlers by subject: read the request, ask `whole_job`, render a template."""
