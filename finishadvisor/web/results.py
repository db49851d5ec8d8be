"""Results of a job, worked out once for as long as nothing that they follow from has changed."""

from finishadvisor.catalog.models import Catalog
from finishadvisor.records.evenness import FloorEvenness
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


def measured_here(site: Site, here: JobAt) -> tuple[Catalog, FloorEvenness | None]:
    """Return the catalog and the kept measurement of the floor that the address names, with its likely causes.

    No finish is judged or priced for it, so that the map is soon there.
    """
    from finishadvisor.whole_job.explained import explained
    from finishadvisor.whole_job.opened import open_for
    from finishadvisor.whole_job.saved import kept

    def explain() -> tuple[Catalog, FloorEvenness | None]:
        opened, evenness = open_for(here.folder, site.on), kept(here.folder, here.floor)
        return opened.catalog, explained(opened, here.floor, evenness) if evenness else None

    key = ("measured", here.folder, state_of(here.folder), site.on, here.floor.name)
    found: tuple[Catalog, FloorEvenness | None] = site.results.get(key, explain)
    return found


def why_here(site: Site, here: JobAt, finish: str) -> WhyFinish:
    """Return every rule tried on a finish of the floor that the address names."""
    from finishadvisor.whole_job.advised import why_finish

    key = ("why", here.folder, state_of(here.folder), site.on, here.floor.name, finish)
    why: WhyFinish = site.results.get(key, lambda: why_finish(here.folder, site.on, here.floor.name, finish))
    return why
