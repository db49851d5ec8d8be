"""Results of a job, worked out once for as long as nothing that they follow from has changed."""

from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.why import WhyFinish
from finishadvisor.web.site import JobAt, Site, state_of


def whole_job(site: Site, here: JobAt, *, with_order: bool = False, with_plan: bool = False) -> WholeJob:
    """Return the job worked through and told in its units, with its order or its plan where asked for."""
    from finishadvisor.papers.quantities import in_job_units
    from finishadvisor.whole_job.work_through import work_through

    key = ("whole", here.folder, state_of(here.folder), site.on, with_order, with_plan)
    whole: WholeJob = site.results.get(
        key, lambda: in_job_units(work_through(here.folder, site.on, with_order=with_order, with_plan=with_plan))
    )
    return whole


def outcome_here(site: Site, here: JobAt, *, with_plan: bool = False) -> tuple[WholeJob, FloorOutcome]:
    """Return the job and the outcome of the floor that the address names; its prices hold what a plan adds."""
    whole = whole_job(site, here, with_plan=with_plan)
    return whole, next(outcome for outcome in whole.floors if outcome.floor.name == here.floor.name)


def floor_alone(site: Site, here: JobAt) -> tuple[WholeJob, FloorOutcome]:
    """Return a floor as if it were the whole job, with its outcome: sooner there than all floors."""
    from finishadvisor.papers.quantities import in_job_units
    from finishadvisor.whole_job.work_through import work_through

    def work() -> WholeJob:
        alone = work_through(here.folder, site.on, floor_name=here.floor.name, with_order=False, with_plan=False)
        return in_job_units(alone)

    whole: WholeJob = site.results.get(("alone", here.folder, state_of(here.folder), site.on, here.floor.name), work)
    return whole, whole.floors[0]


def why_here(site: Site, here: JobAt, finish: str) -> WhyFinish:
    """Return every rule tried on a finish of the floor that the address names."""
    from finishadvisor.whole_job.advised import why_finish

    key = ("why", here.folder, state_of(here.folder), site.on, here.floor.name, finish)
    why: WhyFinish = site.results.get(key, lambda: why_finish(here.folder, site.on, here.floor.name, finish))
    return why
