"""Packs and what they cost: the user's own prices, else class-wide ones, and the sets of packs worth considering."""

import sys
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from finishadvisor.catalog.supplies import Material
from finishadvisor.errors import JobError
from finishadvisor.job.document import Job
from finishadvisor.records.base import Money

CLASS_WIDE: Final = "class-wide"
YOUR_PRICES: Final = "your prices"
MIXED: Final = "mixed"
_IN_DOLLARS: Final = {
    CLASS_WIDE: ", in US dollars",
    MIXED: ", class-wide part in US dollars",
    YOUR_PRICES: "",
}
_HAIR: Final = 1e-9
_MOST_PACKS: Final = 100_000
_MOST_EXCHANGED: Final = 20
"""So many packs of one size are tried in exchange for packs of another."""


class PackPrice(NamedTuple):
    """One size that can be bought, in the material's unit, and its price."""

    size: float
    low: float
    expected: float
    high: float
    yours: bool


class PackSet(NamedTuple):
    """A number of packs of each size. Cheaper sets come first; among equally cheap ones, fewer packs."""

    total: float
    cents: int
    packs: int
    counts: tuple[int, ...]


def pack_prices(material: Material, job: Job) -> tuple[PackPrice, ...]:
    """Return the sizes that can be bought, largest first.

    Where the user states prices of a material, only those sizes count: they are what can be had, and prices of two
    origins and perhaps two currencies are not mixed within one material.
    """
    own = [
        PackPrice(price.size, price.price, price.price, price.price, yours=True)
        for price in job.prices
        if price.material == material.id
    ]
    listed = own or [
        PackPrice(pack.size, pack.price.low, pack.price.expected, pack.price.high, yours=False)
        for pack in material.packs
    ]
    return tuple(sorted(listed, key=lambda pack: -pack.size))


def worthwhile_sets(prices: Sequence[PackPrice], least: float, most: float, *, one_size: bool) -> tuple[PackSet, ...]:
    """Return every set of packs that no cheaper set outdoes.

    Args:
        prices: the sizes that can be bought.
        least: smaller sets are left out.
        most: the last set returned holds this, none holds more without need.
        one_size: packs of different size are not put together (they come from different lots).

    Returns:
        Sets by rising total and rising cost.

    Raises:
        JobError: a pack is so small that more than 100,000 of it would be needed.
    """
    smallest = min(price.size for price in prices)
    if most > _MOST_PACKS * smallest:
        raise JobError(
            f"A pack holds {smallest:g} and {most:,.6g} may be needed: more than {_MOST_PACKS:,} packs. "
            "Check the pack sizes of your prices, and their unit."
        )
    if not one_size:
        found = _outdone_by_none(_sets(prices, range(len(prices)), most), most)
    else:
        alone = [_sets(prices, [number], most) for number in range(len(prices))]
        found = _outdone_by_none([each for sets in alone for each in sets], most)
    return tuple(each for each in found if each.total >= least - _HAIR)


@lru_cache(maxsize=4096)
def cheapest_cover(prices: tuple[PackPrice, ...], need: float, *, one_size: bool) -> PackSet:
    """Return the cheapest set of packs that holds a need."""
    return worthwhile_sets(prices, need, need, one_size=one_size)[0]


def money_of(counts: Sequence[int], prices: Sequence[PackPrice]) -> tuple[float, float, float]:
    """Return what packs cost at low, expected and high prices."""
    bought = list(zip(counts, prices, strict=True))
    return (
        sum(count * price.low for count, price in bought),
        sum(count * price.expected for count, price in bought),
        sum(count * price.high for count, price in bought),
    )


def basis_of(yours: Iterable[bool], currency: str) -> str:
    """Return on whose prices an amount rests; class-wide prices are US dollars and say so in other currencies."""
    origins = set(yours)
    basis = MIXED if origins == {True, False} else YOUR_PRICES if origins == {True} else CLASS_WIDE
    return basis if currency == "USD" else basis + _IN_DOLLARS[basis]


def total_money(parts: Sequence[Money]) -> Money:
    """Return the sum of amounts; its basis is theirs, or mixed."""
    bases = {part.basis for part in parts}
    return Money(
        low=sum(part.low for part in parts),
        expected=sum(part.expected for part in parts),
        high=sum(part.high for part in parts),
        basis=bases.pop() if len(bases) == 1 else _mixed(bases),
    )


def _mixed(bases: set[str]) -> str:
    return MIXED + (_IN_DOLLARS[MIXED] if any("US dollars" in basis for basis in bases) else "")


def _sets(prices: Sequence[PackPrice], numbers: Sequence[int], most: float) -> list[PackSet]:
    """Return sets of the numbered sizes, adding one size after the other and keeping what none outdoes.

    Adding the same packs to two sets leaves the one that outdoes the other ahead: nothing is lost by dropping early.
    """
    sets = [PackSet(0.0, 0, 0, (0,) * len(prices))]
    for number in numbers:
        price = prices[number]
        cents = _cents(price)
        useful = _most_useful(price, tuple(prices[other] for other in numbers if other != number))
        sets = _outdone_by_none(
            [
                PackSet(
                    each.total + count * price.size,
                    each.cents + count * cents,
                    each.packs + count,
                    (*each.counts[:number], each.counts[number] + count, *each.counts[number + 1 :]),
                )
                for each in sets
                for count in range(min(useful, _most_packs(most - each.total, price.size)) + 1)
            ],
            most,
        )
    return sets


@lru_cache(maxsize=4096)
def _most_useful(price: PackPrice, others: tuple[PackPrice, ...]) -> int:
    """Return how many packs of a size make sense beside the others: before some of another hold as much for less."""
    useful, cents = sys.maxsize, _cents(price)
    for other in others:
        for number in range(1, _MOST_EXCHANGED + 1 if cents else 1):
            packs = -(-number * _cents(other) // cents)  # so many cost as much or more
            saves = (number * _cents(other), number) < (packs * cents, packs)
            if saves and packs <= useful and packs * price.size <= number * other.size + _HAIR:
                useful = packs - 1
    return useful


def _cents(price: PackPrice) -> int:
    return round(price.expected * 100)


def _most_packs(missing: float, size: float) -> int:
    return max(0, int(-(-(missing - _HAIR) // size)))


def _outdone_by_none(sets: Iterable[PackSet], most: float) -> list[PackSet]:
    """Return the sets of which none holds as much for less; what exceeds `most` is worth nothing."""
    kept: list[PackSet] = []
    held = -1.0
    for each in sorted(sets, key=lambda one: (one.cents, one.packs, -one.total, one.counts)):
        worth = min(each.total, most)
        if worth > held + _HAIR:
            kept.append(each)
            held = worth
    return kept
