"""Jobs for tests, from the plain values that a job.toml would hold."""

from typing import Any

from finishadvisor.job.document import Job


def job_from_plain(plain: dict[str, Any], *, metric: bool) -> Job:
    """Build a job; bare numbers are feet and °F, or meters and °C where `metric`."""
    return Job.model_validate(plain, context={"metric": metric})
