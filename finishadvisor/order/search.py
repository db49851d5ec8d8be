"""Finds the cheapest picks from several menus whose joint chance of falling short stays within a budget.

Branch and bound. In the bound every short job has a price, which is charged to the materials that fall short in it;
since the charges of one job never add up to more than its price, jobs short in two materials are not counted twice,
and the materials fall apart into separate choices. The bound holds whatever the charges are; they are only tuned to be
high.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

MOST_BRANCHES: Final = 5_000
"""Where this is reached, the best picks found so far stand: within the budget, and cheapest as far as was searched."""

_TUNING_STEPS: Final = 60
_GOLDEN: Final = (math.sqrt(5) - 1) / 2


@dataclass(frozen=True)
class Menu:
    """What may be picked of one material.

    `costs` rises over the picks, shape (picks,). `missed` says for each job how many picks, from the first on, fall
    short in it, shape (jobs,).
    """

    costs: Ints
    missed: Ints
    one_lot: bool


def cheapest_picks(menus: Sequence[Menu], budget: int, lot_budget: int) -> list[int]:
    """Return the pick of each menu.

    Args:
        menus: two picks or more in each; the last pick of each falls short in no job.
        budget: number of jobs in which any pick may fall short.
        lot_budget: number of jobs in which a pick of a one-lot menu may fall short.
    """
    order = sorted(range(len(menus)), key=lambda number: (-int(np.diff(menus[number].costs).max()), number))
    search = _Search([menus[number] for number in order], budget, lot_budget)
    best = search.best()
    return [best[order.index(number)] for number in range(len(menus))]


class _Search:
    """One search; places are menus in the order in which they are branched on."""

    def __init__(self, menus: Sequence[Menu], budget: int, lot_budget: int) -> None:
        self.places = range(len(menus))
        self.costs = [menu.costs for menu in menus]
        self.lots = [menu.one_lot for menu in menus]
        self.budget, self.lot_budget = budget, lot_budget
        missed = np.stack([menu.missed for menu in menus], axis=1)
        self.missed, self.counts = np.unique(missed[missed.any(axis=1)], axis=0, return_counts=True)
        self.picks = self._improved(self._even())
        self.cost = self._cost(self.picks)
        self.charges, self.price = self._tuned()
        relaxed = [int(self._charged(one, self.charges[:, one]).argmin()) for one in self.places]
        self.picks = min(self.picks, self._improved(self._repaired(relaxed)), key=self._cost)
        self.cost = self._cost(self.picks)
        self.branches = 0

    def best(self) -> list[int]:
        """Return the cheapest picks."""
        none = np.zeros(len(self.counts), dtype=bool)
        self._branch([], 0, none, none)
        return self.picks

    # --- branching ---------------------------------------------------------------------------------------------------

    def _branch(self, picked: list[int], cost: int, short: Flags, lot_short: Flags) -> None:
        place = len(picked)
        if place == len(self.places):
            if cost < self.cost:
                self.picks, self.cost = list(picked), cost
            return
        self.branches += 1
        charges = self.charges * ~short[:, None]
        least = [self._charged(one, charges[:, one]) for one in self.places[place:]]
        rest = sum(float(each.min()) for each in least[1:]) - self.price * (self.budget - self._weight(short))
        for pick in np.flatnonzero(least[0] + (cost + rest - 0.5) < self.cost):
            falls_short = self.missed[:, place] > pick
            now_short = short | falls_short
            now_lot_short = lot_short | falls_short if self.lots[place] else lot_short
            if self._weight(now_short) > self.budget or self._weight(now_lot_short) > self.lot_budget:
                continue
            now = cost + int(self.costs[place][pick])
            if self.branches < MOST_BRANCHES and now + self._least(place + 1, now_short) < self.cost:
                self._branch([*picked, int(pick)], now, now_short, now_lot_short)

    def _least(self, place: int, short: Flags) -> int:
        """Return a cost that the places from this one on cannot undercut, once these jobs are short."""
        if place == len(self.places):
            return 0
        charges = self.charges * ~short[:, None]
        bound = sum(float(self._charged(one, charges[:, one]).min()) for one in self.places[place:])
        return math.ceil(bound - self.price * (self.budget - self._weight(short)) - 0.5)

    def _charged(self, place: int, charges: Floats) -> Floats:
        """Return the cost of each pick with the charges for the jobs in which it falls short."""
        picks = len(self.costs[place])
        by_missed = np.bincount(self.missed[:, place], weights=charges, minlength=picks + 1)
        charged: Floats = self.costs[place] + by_missed[::-1].cumsum()[::-1][1 : picks + 1]
        return charged

    # --- tuning the bound --------------------------------------------------------------------------------------------

    def _tuned(self) -> tuple[Floats, float]:
        """Return charges of shape (jobs, places) and the price of a short job, for a high bound at the root.

        Each step moves the charges of a job toward the materials that fall short in it at the bound's own picks.
        """
        falls = (self.missed > 0).astype(float)
        shares = falls / falls.sum(axis=1, keepdims=True)
        dearest = float(sum(int(costs[-1]) for costs in self.costs)) / max(1, self.budget) + 1.0
        price = self._best_price(shares, 0.0, dearest, rounds=40)
        best = (self._root_bound(shares, price), shares, price)
        for step in range(_TUNING_STEPS):
            if best[0] > self.cost - 1:
                break
            charges = shares * (price * self.counts[:, None])
            picks = [int(self._charged(one, charges[:, one]).argmin()) for one in self.places]
            falls = (self.missed > np.array(picks)).astype(float)
            number = falls.sum(axis=1, keepdims=True)
            shares = shares + (np.where(number > 0, falls / np.maximum(1, number), shares) - shares) / (step + 2)
            price = self._best_price(shares, price / 2, price * 2, rounds=12)
            bound = self._root_bound(shares, price)
            if bound > best[0]:
                best = (bound, shares, price)
        _, shares, price = best
        return shares * (price * self.counts[:, None]), price

    def _root_bound(self, shares: Floats, price: float) -> float:
        charges = shares * (price * self.counts[:, None])
        return sum(float(self._charged(one, charges[:, one]).min()) for one in self.places) - price * self.budget

    def _best_price(self, shares: Floats, low: float, high: float, rounds: int) -> float:
        """Return the price with the highest root bound, which is concave in it: golden section."""
        left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        at_left, at_right = self._root_bound(shares, left), self._root_bound(shares, right)
        for _ in range(rounds):
            if at_left < at_right:
                low, left, at_left = left, right, at_right
                right = low + _GOLDEN * (high - low)
                at_right = self._root_bound(shares, right)
            else:
                high, right, at_right = right, left, at_left
                left = high - _GOLDEN * (high - low)
                at_left = self._root_bound(shares, left)
        return (low + high) / 2

    # --- good picks to begin with ------------------------------------------------------------------------------------

    def _even(self) -> list[int]:
        """Return picks within the budget for sure: each place may use up an even part of it."""
        even = self.budget // len(self.places)
        even_lot = min(even, self.lot_budget // max(1, sum(self.lots)))
        picks = []
        for place in self.places:
            by_missed = np.bincount(self.missed[:, place], weights=self.counts)
            short = by_missed[::-1].cumsum()[::-1][1:]  # jobs in which each pick falls short
            picks.append(int((short > (even_lot if self.lots[place] else even)).sum()))
        return picks

    def _repaired(self, picks: list[int]) -> list[int]:
        """Raise picks until they are within the budget, each time by the step that mends most for its cost."""
        while not self._allowed(picks):
            weight = self._weight(self._short(picks))
            mended = [
                ((weight - self._weight(self._short(_raised(picks, place)))) / self._step_cost(picks, place), -place)
                for place in self.places
                if picks[place] + 1 < len(self.costs[place])
            ]
            picks = _raised(picks, -max(mended)[1])
        return picks

    def _improved(self, picks: list[int]) -> list[int]:
        """Lower picks as far as they go, and raise one to lower another, while that saves."""
        while True:
            cost = self._cost(picks)
            tries = [self._lowered(picks, skip=None)]
            tries += [
                self._lowered(_raised(picks, place), skip=place)
                for place in self.places
                if picks[place] + 1 < len(self.costs[place])
            ]
            best = min(tries, key=self._cost)
            if self._cost(best) >= cost:
                return picks
            picks = best

    def _lowered(self, picks: Sequence[int], skip: int | None) -> list[int]:
        """Lower each pick in turn as far as the budget allows."""
        lowered = list(picks)
        for place in self.places:
            if place == skip:
                continue
            lowest, allowed = 0, lowered[place]
            while lowest < allowed:
                lowered[place] = (lowest + allowed) // 2
                if self._allowed(lowered):
                    allowed = lowered[place]
                else:
                    lowest = lowered[place] + 1
            lowered[place] = allowed
        return lowered

    def _step_cost(self, picks: Sequence[int], place: int) -> float:
        return float(self.costs[place][picks[place] + 1] - self.costs[place][picks[place]])

    def _short(self, picks: Sequence[int]) -> Flags:
        return np.asarray((self.missed > np.array(picks)).any(axis=1))

    def _weight(self, short: Flags) -> int:
        return int(self.counts @ short)

    def _allowed(self, picks: Sequence[int]) -> bool:
        lots = [place for place in self.places if self.lots[place]]
        lot_short = np.asarray((self.missed[:, lots] > np.array(picks)[lots]).any(axis=1))
        return self._weight(self._short(picks)) <= self.budget and self._weight(lot_short) <= self.lot_budget

    def _cost(self, picks: Sequence[int]) -> int:
        return sum(int(costs[pick]) for costs, pick in zip(self.costs, picks, strict=True))


def _raised(picks: Sequence[int], place: int) -> list[int]:
    return [pick + (number == place) for number, pick in enumerate(picks)]
