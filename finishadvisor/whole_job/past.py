"""The user's other jobs, whose mock-ups and amounts really used make this job's order better."""

from pathlib import Path

from finishadvisor.errors import JobError
from finishadvisor.job.document import Job
from finishadvisor.job.folder import JOB_FILE, open_job


def past_jobs(folder: Path) -> tuple[Job, ...]:
    """Return the jobs in the folders beside this job's folder that tell what was really used, by folder name.

    A job that cannot be read is passed over: it must not stop the order of another one.
    """
    found = []
    here = folder.resolve()
    for beside in sorted(path.parent for path in here.parent.glob(f"*/{JOB_FILE}")):
        if beside == here:
            continue
        try:
            job = open_job(beside).job
        except JobError:
            continue
        if any(floor.used or floor.mock_ups for floor in job.floors):
            found.append(job)
    return tuple(found)
