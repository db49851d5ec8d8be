"""The earliest plan found for all floors of a job on one calendar of the crew.

Exact in that screening is inserted only where no plan within the search keeps all windows (see `screening`).

Heuristic: floors are planned one behind the other, later ones in the gaps that earlier ones leave, in every order up to
four floors and in rotation beyond, with at most twelve of them first; where several teams may work, each floor is one
team's. A smaller team than the crew is tried too and wins where it ends earlier, so that neither more crew nor more
teams ever end later.
"""

import itertools
from collections.abc import Iterable, Sequence
from typing import Final

from finishadvisor.plan.chain import Link
from finishadvisor.plan.clock import Clock
from finishadvisor.plan.placing import Calendar
from finishadvisor.plan.search import NEVER, FloorPlan, FloorSearch

_MOST_ORDERED_FLOORS: Final = 4
_MOST_ROTATIONS: Final = 12
"""Beyond so many floors the work of a plan would grow with the square of their number."""

_Cost = tuple[int, int, int]
"""What is least: floors that do not fit, then the end of the last, then the sum of the ends."""

_DEAREST: Final[_Cost] = (NEVER, 0, 0)


def plan_floors(chains: Sequence[Sequence[Link]], clock: Clock, crew: int, *smaller: int) -> tuple[FloorPlan, ...]:
    """Return the earliest plans found for all floors on one calendar, in the order of the floors given.

    Args:
        chains: the chain of each floor.
        clock: the plan's clock with the working hours.
        crew: workers of one team of all; a smaller team is used where it ends earlier.
        smaller: workers of each team where there are two that work on different floors at once, where three, and so on.
    """
    calendar = Calendar(clock.stretches, clock.longest_stretch)
    best: tuple[FloorPlan, ...] = ()
    least = _DEAREST
    for teams, most in enumerate((crew, *smaller), start=1):
        for team, order in itertools.product(range(most, 0, -1), _orders(len(chains))):
            found = _in_order(chains, order, [calendar] * teams, team, least)
            if found is not None:
                best, least = found
    return best


def fits(chain: Sequence[Link], clock: Clock, crew: int) -> bool:
    """Return whether a floor by itself finds its place with the crew or a smaller team."""
    calendar = Calendar(clock.stretches, clock.longest_stretch)
    return any(FloorSearch(chain, calendar, team).run().feasible for team in range(crew, 0, -1))


def _orders(floors: int) -> Iterable[tuple[int, ...]]:
    if floors <= _MOST_ORDERED_FLOORS:
        return itertools.permutations(range(floors))
    tried = min(floors, _MOST_ROTATIONS)
    firsts = [number * floors // tried for number in range(tried)]
    return (tuple((first + number) % floors for number in range(floors)) for first in firsts)


def _in_order(
    chains: Sequence[Sequence[Link]], order: Sequence[int], calendars: list[Calendar], team: int, least: _Cost
) -> tuple[tuple[FloorPlan, ...], _Cost] | None:
    """Return the plans of floors taken in an order, and their cost; None once they cannot cost less than the least.

    Each floor goes to the team that is done with it first. No part of a cost falls as floors are added, so the first
    floors can tell.
    """
    plans: dict[int, FloorPlan] = {}
    cost: _Cost = (0, 0, 0)
    for number in order:
        tried = [(FloorSearch(chains[number], each, team).run(), place) for place, each in _different(calendars)]
        plan, place = min(tried, key=lambda found: (not found[0].feasible, found[0].end))
        plans[number] = plan
        cost = _with_floor(cost, plan)
        if cost >= least:
            return None
        if plan.feasible:
            busy = (span for placed in plan.placed for span in placed.spans)
            calendars[place] = calendars[place].without(busy)
    return tuple(plans[number] for number in range(len(chains))), cost


def _different(calendars: Sequence[Calendar]) -> Iterable[tuple[int, Calendar]]:
    """Return the calendars of teams that have begun, and of one that has not, each with its place."""
    return {id(each): (place, each) for place, each in enumerate(calendars)}.values()


def _with_floor(cost: _Cost, plan: FloorPlan) -> _Cost:
    missing, latest, summed = cost
    return (missing, max(latest, plan.end), summed + plan.end) if plan.feasible else (missing + 1, latest, summed)
