"""Chooses packs of all materials together: the cheapest whose chance that anything runs short stays within the limit.

The chance is counted on drawn jobs. A job is short when any material is; jobs that are short in two materials count
once, so that the choice has to be made for all materials together.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.order.pack_sets import PackSet
from finishadvisor.order.search import Menu, cheapest_picks

_PACKS_PER_CENT: Final = 10_000
"""Cost counts before the number of packs: a cent outweighs as many packs."""


@dataclass(frozen=True)
class Choice:
    """One material: its worthwhile pack sets by rising total, its drawn needs of shape (draws,), and its kind."""

    sets: tuple[PackSet, ...]
    needs: NDArray[np.float64]
    one_lot: bool


@dataclass(frozen=True)
class Chosen:
    """The pack set of each material, and the share of drawn jobs in which anything runs short."""

    sets: tuple[PackSet, ...]
    short_risk: float


def choose_packs(choices: Sequence[Choice], risk_limit: float, one_lot_limit: float) -> Chosen:
    """Return the cheapest pack sets whose chance of running short is within the limits.

    Args:
        choices: all materials; the last set of each covers every drawn need.
        risk_limit: greatest share of drawn jobs in which anything may run short.
        one_lot_limit: greatest share in which a one-lot material may run short.

    Returns:
        The cheapest sets, exactly, as far as `search.MOST_BRANCHES` reaches; among equally cheap ones those with fewer
        packs, then always the same.
    """
    if not choices:
        return Chosen((), 0.0)
    draws = len(choices[0].needs)
    budget, lot_budget = (math.floor(limit * draws + 1e-9) for limit in (risk_limit, one_lot_limit))
    offers = [_offer(choice, min(budget, lot_budget) if choice.one_lot else budget) for choice in choices]
    menus = [menu for _, menu in offers]
    open_ = [number for number, menu in enumerate(menus) if len(menu.costs) > 1]
    picks = [0] * len(choices)
    if open_:
        best = cheapest_picks([menus[number] for number in open_], budget, lot_budget)
        for number, pick in zip(open_, best, strict=True):
            picks[number] = pick
    short = np.zeros(draws, dtype=bool)
    for menu, pick in zip(menus, picks, strict=True):
        short |= menu.missed > pick
    return Chosen(tuple(sets[pick] for (sets, _), pick in zip(offers, picks, strict=True)), float(short.mean()))


def _offer(choice: Choice, budget: int) -> tuple[tuple[PackSet, ...], Menu]:
    """Leave out sets that fall short too often alone, and dearer sets that fall short just as often."""
    totals = np.array([each.total for each in choice.sets]) * (1 + 1e-12)
    missed = np.searchsorted(totals, choice.needs, side="left")
    short = len(missed) - np.bincount(missed, minlength=len(totals)).cumsum()[: len(totals)]
    kept: list[int] = []
    for number, count in enumerate(short):
        if count <= budget and (not kept or count < short[kept[-1]]):
            kept.append(number)
    sets = tuple(choice.sets[number] for number in kept)
    costs = np.array([each.cents * _PACKS_PER_CENT + each.packs for each in sets], dtype=np.int64)
    return sets, Menu(costs, np.searchsorted(np.array(kept), missed, side="left"), choice.one_lot)
