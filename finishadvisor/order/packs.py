"""Chooses packs of all materials together: the cheapest whose chance that anything runs short stays within the limit.

The chance is counted on drawn jobs. A job is short when any material is; jobs that are short in two materials count
once, so that the choice has to be made for all materials together. It is made exactly, by branch and bound: the bound
charges each short job to the materials that fall short in it, which is what makes the materials separate.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.order.pack_sets import PackSet

_PACKS_PER_CENT: Final = 10_000
"""Cost counts before the number of packs: a cent outweighs as many packs."""

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Choice:
    """One material: its worthwhile pack sets by rising total, its drawn needs of shape (draws,), and its kind."""

    sets: tuple[PackSet, ...]
    needs: Floats
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
        The cheapest sets; among equally cheap ones those with fewer packs, then the first in order.
    """
    if not choices:
        return Chosen((), 0.0)
    draws = len(choices[0].needs)
    budget, lot_budget = (math.floor(limit * draws + 1e-9) for limit in (risk_limit, one_lot_limit))
    menus = [_menu(choice, min(budget, lot_budget) if choice.one_lot else budget) for choice in choices]
    open_ = [number for number, menu in enumerate(menus) if len(menu.sets) > 1]
    picks = [0] * len(choices)
    if open_:
        search = _Search([menus[number] for number in open_], budget, lot_budget)
        for number, pick in zip(open_, search.best(), strict=True):
            picks[number] = pick
    short = np.zeros(draws, dtype=bool)
    for menu, pick in zip(menus, picks, strict=True):
        short |= menu.missed > pick
    return Chosen(tuple(menu.sets[pick] for menu, pick in zip(menus, picks, strict=True)), float(short.mean()))


@dataclass(frozen=True)
class _Menu:
    """The sets of one material that may be chosen, and for each drawn job how many of them fall short in it."""

    sets: tuple[PackSet, ...]
    costs: Ints
    missed: Ints
    one_lot: bool


def _menu(choice: Choice, budget: int) -> _Menu:
    """Leave out sets that fall short too often alone, and dearer sets that fall short just as often."""
    totals = np.array([each.total for each in choice.sets]) * (1 + 1e-12)
    missed = np.searchsorted(totals, choice.needs, side="left")
    short = [int((missed > number).sum()) for number in range(len(totals))]
    kept: list[int] = []
    for number, count in enumerate(short):
        if count <= budget and (not kept or count < short[kept[-1]]):
            kept.append(number)
    sets = tuple(choice.sets[number] for number in kept)
    costs = np.array([each.cents * _PACKS_PER_CENT + each.packs for each in sets], dtype=np.int64)
    return _Menu(sets, costs, np.searchsorted(np.array(kept), missed, side="left"), choice.one_lot)


class _Search:
    """Branch and bound over the menus of materials that leave a choice."""

    def __init__(self, menus: Sequence[_Menu], budget: int, lot_budget: int) -> None:
        self.order = sorted(range(len(menus)), key=lambda number: (-int(np.diff(menus[number].costs).max()), number))
        self.costs = [menus[number].costs for number in self.order]
        self.lots = [menus[number].one_lot for number in self.order]
        self.budget, self.lot_budget = budget, lot_budget
        missed = np.stack([menus[number].missed for number in self.order], axis=1)
        patterns, counts = np.unique(missed[missed.any(axis=1)], axis=0, return_counts=True)
        self.missed: Ints = patterns
        self.counts: Ints = counts
        self.charges, self.price = self._charges()
        self.picks = self._greedy()
        self.cost = self._cost(self.picks)

    def best(self) -> list[int]:
        """Return the pick of each menu, in the order in which the menus were given."""
        none = np.zeros(len(self.counts), dtype=bool)
        self._branch([], 0, none, none)
        picks = [0] * len(self.order)
        for place, number in enumerate(self.order):
            picks[number] = self.picks[place]
        return picks

    def _branch(self, picked: list[int], cost: int, short: NDArray[np.bool_], lot_short: NDArray[np.bool_]) -> None:
        place = len(picked)
        if place == len(self.order):
            if cost < self.cost:
                self.picks, self.cost = list(picked), cost
            return
        for pick, of_pick in enumerate(self.costs[place]):
            falls_short = self.missed[:, place] > pick
            now_short = short | falls_short
            now_lot_short = lot_short | falls_short if self.lots[place] else lot_short
            if self._weight(now_short) > self.budget or self._weight(now_lot_short) > self.lot_budget:
                continue
            now = cost + int(of_pick)
            if now + sum(int(costs[0]) for costs in self.costs[place + 1 :]) >= self.cost:
                return
            if now + self._least(place + 1, now_short) < self.cost:
                self._branch([*picked, pick], now, now_short, now_lot_short)

    def _weight(self, short: NDArray[np.bool_]) -> int:
        return int(self.counts @ short)

    def _least(self, place: int, short: NDArray[np.bool_]) -> int:
        """Return a cost that the materials from `place` on cannot undercut, once these jobs are short."""
        if place == len(self.order):
            return 0
        charges = self.charges * ~short[:, None]
        bound = sum(float(self._charged(one, charges[:, one]).min()) for one in range(place, len(self.order)))
        return math.ceil(bound - self.price * (self.budget - self._weight(short)) - 0.5)

    def _charged(self, place: int, charges: Floats) -> Floats:
        """Return the cost of each set of a material with the charges for the jobs in which it falls short."""
        sets = len(self.costs[place])
        by_missed = np.bincount(self.missed[:, place], weights=charges, minlength=sets + 1)
        falling = by_missed[::-1].cumsum()[::-1]
        charged: Floats = self.costs[place] + falling[1 : sets + 1]
        return charged

    def _charges(self) -> tuple[Floats, float]:
        """Return the charge for each short job and material, and the price of a short job, for a high bound.

        The charges of one job add up to no more than the price of a short job, so that no bound exceeds the truth
        whatever they are; they are moved by subgradient steps toward the highest bound at the root.
        """
        shares = (self.missed > 0) / np.maximum(1, (self.missed > 0).sum(axis=1, keepdims=True))
        price = self._best_price(shares)
        best = (self._root_bound(shares, price), shares, price)
        for step in range(60):
            charges = shares * (price * self.counts[:, None])
            picks = [int(self._charged(one, charges[:, one]).argmin()) for one in range(len(self.order))]
            falls = (self.missed > np.array(picks)).astype(float)
            target = np.where(
                falls.any(axis=1, keepdims=True), falls / np.maximum(1, falls.sum(axis=1, keepdims=True)), shares
            )
            shares = shares + (target - shares) / (step + 2)
            price = self._best_price(shares)
            best = max(best, (self._root_bound(shares, price), shares, price), key=lambda one: one[0])
        _, shares, price = best
        return shares * (price * self.counts[:, None]), price

    def _root_bound(self, shares: Floats, price: float) -> float:
        charges = shares * (price * self.counts[:, None])
        bound = sum(float(self._charged(one, charges[:, one]).min()) for one in range(len(self.order)))
        return bound - price * self.budget

    def _best_price(self, shares: Floats) -> float:
        """Return the price of a short job with the highest root bound, which is concave in it: golden section."""
        low, high = 0.0, float(sum(int(costs[-1]) for costs in self.costs)) / max(1, self.budget) + 1.0
        ratio = (math.sqrt(5) - 1) / 2
        for _ in range(40):
            left, right = high - ratio * (high - low), low + ratio * (high - low)
            if self._root_bound(shares, left) < self._root_bound(shares, right):
                low = left
            else:
                high = right
        return (low + high) / 2

    def _greedy(self) -> list[int]:
        """Return picks within the limits: from the cheapest up, each time the step that mends most for its cost."""
        picks = [0] * len(self.order)
        while not self._allowed(picks):
            steps = [
                (self._mended(picks, place) / float(self.costs[place][pick + 1] - self.costs[place][pick]), -place)
                for place, pick in enumerate(picks)
                if pick + 1 < len(self.costs[place])
            ]
            picks[-max(steps)[1]] += 1
        return picks

    def _mended(self, picks: list[int], place: int) -> int:
        raised = [pick + (number == place) for number, pick in enumerate(picks)]
        return self._weight(self._short(picks)) - self._weight(self._short(raised))

    def _short(self, picks: Sequence[int]) -> NDArray[np.bool_]:
        return np.asarray((self.missed > np.array(picks)).any(axis=1))

    def _allowed(self, picks: Sequence[int]) -> bool:
        lots = [number for number, one_lot in enumerate(self.lots) if one_lot]
        lot_short = np.asarray((self.missed[:, lots] > np.array(picks)[lots]).any(axis=1))
        return self._weight(self._short(picks)) <= self.budget and self._weight(lot_short) <= self.lot_budget

    def _cost(self, picks: Sequence[int]) -> int:
        return sum(int(costs[pick]) for costs, pick in zip(self.costs, picks, strict=True))
