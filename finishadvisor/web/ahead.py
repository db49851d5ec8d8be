"""What is done before it is asked for: once all photos are marked, measuring comes next, and then its map."""

from contextlib import suppress
from typing import Final

from finishadvisor.errors import FinishAdvisorError
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.web.rendering import templates
from finishadvisor.web.site import JobAt, Site

PAGES: Final = ("evenness.html", "work.html")


def load_for_map(site: Site, here: JobAt) -> None:
    """Load what the evenness page needs by explaining a measurement of no photos; nothing of it is kept.

    A mistake in the job is left for the page itself to tell.
    """
    from finishadvisor.job.outline import floor_polygon
    from finishadvisor.papers import evenness_words
    from finishadvisor.whole_job import one_photo
    from finishadvisor.whole_job.explained import explained
    from finishadvisor.whole_job.opened import open_for

    del evenness_words, one_photo  # loaded is all that they need to be
    for name in PAGES:
        templates().get_template(name)
    with suppress(FinishAdvisorError):
        nothing = FloorEvenness(floor=here.floor.name, photos=(), together=None)
        explained(open_for(here.folder, site.on), here.floor, nothing)
        if here.floor.outline:
            floor_polygon(here.floor.outline)  # patches are held against it
