"""Screening put in where recoat windows alone cannot be kept: as little as lets the floor fit."""

import itertools
from collections.abc import Collection, Sequence

from finishadvisor.catalog.models import Catalog
from finishadvisor.plan.chain import Link, bound_coats, screening_link, with_conditions
from finishadvisor.plan.floors import fits, plan_floors
from finishadvisor.plan.slab import FloorAir, Site
from finishadvisor.records.works import FloorWorks


def with_screening(
    chain: tuple[Link, ...], site: Site, works: FloorWorks, air: FloorAir, crew: int
) -> tuple[Link, ...]:
    """Return the chain, with as few screenings as let it fit where the windows alone cannot be kept.

    Of equally few, those are taken with which the floor is done earliest. Where none help, the chain stays as it is.
    """
    if fits(chain, site.clock, crew):
        return chain
    late_coats = _late_coats(chain)
    for count in range(1, len(late_coats) + 1):
        tried = []
        for chosen in itertools.combinations(late_coats, count):
            links = _screened(chain, chosen, works, air, site.catalog)
            (plan,) = plan_floors([links], site.clock, crew)
            if plan.feasible:
                tried.append((plan.end, chosen, links))
        if tried:
            return min(tried, key=lambda found: found[:2])[2]
    return chain


def fits_with_screening(chain: Sequence[Link], site: Site, works: FloorWorks, air: FloorAir, crew: int) -> bool:
    """Return whether a floor by itself finds its place, if need be with every coat screened."""
    if fits(chain, site.clock, crew):
        return True
    late_coats = _late_coats(chain)
    return bool(late_coats) and fits(_screened(chain, late_coats, works, air, site.catalog), site.clock, crew)


def _late_coats(chain: Sequence[Link]) -> tuple[int, ...]:
    return tuple(upper for _, upper in bound_coats(chain))


def _screened(
    chain: Sequence[Link], before: Collection[int], works: FloorWorks, air: FloorAir, catalog: Catalog
) -> tuple[Link, ...]:
    links: list[Link] = []
    for number, link in enumerate(chain):
        if number in before:
            links.append(screening_link(link, works, catalog))
        links.append(link)
    return with_conditions(links, air, catalog)
