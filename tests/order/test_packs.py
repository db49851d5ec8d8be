"""Packs are the cheapest whose chance of running short is within the limit: brute force finds none cheaper."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.errors import JobError
from finishadvisor.order import search
from finishadvisor.order.pack_sets import PackPrice, PackSet, basis_of, cheapest_cover, pack_prices, worthwhile_sets
from finishadvisor.order.packs import Choice, choose_packs
from tests.works.shipped import a_job, shipped

SIZES = st.sampled_from([0.16, 1.0, 1.5, 2.0, 3.0, 5.0])
PRICES = st.integers(0, 40).map(float)


def pack(size, price):
    return PackPrice(size, price, price, price, yours=False)


packs = st.dictionaries(SIZES, PRICES, min_size=1, max_size=3).map(
    lambda sizes: tuple(pack(size, price) for size, price in sorted(sizes.items(), reverse=True))
)


def every_set(prices, most, *, one_size):
    """Every set of packs in which no pack could be left out and still hold `most`."""
    ranges = [range(int(most / price.size) + 2) for price in prices]
    for counts in itertools.product(*ranges):
        if one_size and sum(count > 0 for count in counts) > 1:
            continue
        total = sum(count * price.size for count, price in zip(counts, prices, strict=True))
        cents = round(100 * sum(count * price.expected for count, price in zip(counts, prices, strict=True)))
        yield total, cents, counts


@given(prices=packs, need=st.floats(0.05, 9), one_size=st.booleans())
def test_the_cheapest_cover_holds_the_need_and_none_is_cheaper(prices, need, one_size):
    prices = tuple(price for price in prices if price.size > 0.5) or (pack(1.0, 7.0),)
    cover = cheapest_cover(prices, need, one_size=one_size)
    assert cover.total >= need - 1e-9
    assert sum(count * price.size for count, price in zip(cover.counts, prices, strict=True)) == pytest.approx(
        cover.total
    )
    cheapest = min(cents for total, cents, _ in every_set(prices, need, one_size=one_size) if total >= need - 1e-9)
    assert cover.cents == cheapest
    if one_size:
        assert sum(count > 0 for count in cover.counts) <= 1


def small_choice(draw_needs, prices, one_lot):
    needs = np.array(draw_needs)
    return Choice(worthwhile_sets(prices, 0.0, float(needs.max()), one_size=one_lot), needs, one_lot)


@st.composite
def small_orders(draw):
    draws = draw(st.integers(5, 40))
    number = draw(st.integers(1, 3))
    choices, offers = [], []
    for _ in range(number):
        needs = draw(st.lists(st.floats(0.1, 6), min_size=draws, max_size=draws))
        sizes = draw(st.dictionaries(st.sampled_from([1.0, 1.5, 2.0, 5.0]), PRICES, min_size=1, max_size=2))
        prices = tuple(pack(size, price) for size, price in sorted(sizes.items(), reverse=True))
        one_lot = draw(st.booleans())
        choices.append(small_choice(needs, prices, one_lot))
        offers.append(prices)
    return choices, offers


@settings(max_examples=150, deadline=None)
@given(order=small_orders(), limit=st.sampled_from([0.0, 0.05, 0.2, 0.5]), lot_limit=st.sampled_from([0.0, 0.1, 0.3]))
def test_brute_force_over_all_packs_finds_no_cheaper_admissible_order(order, limit, lot_limit):
    choices, offers = order
    chosen = choose_packs(choices, limit, lot_limit)

    def risk(totals, only_lots=False):
        short = np.zeros(len(choices[0].needs), dtype=bool)
        for choice, total in zip(choices, totals, strict=True):
            if choice.one_lot or not only_lots:
                short |= choice.needs > total * (1 + 1e-12)
        return short.mean()

    totals = [each.total for each in chosen.sets]
    assert chosen.short_risk == pytest.approx(risk(totals))
    assert risk(totals) <= limit + 1e-9
    assert risk(totals, only_lots=True) <= lot_limit + 1e-9
    candidates = []
    for choice, prices in zip(choices, offers, strict=True):
        by_total: dict[float, int] = {}
        for total, cents, _ in every_set(prices, float(choice.needs.max()), one_size=choice.one_lot):
            by_total[total] = min(cents, by_total.get(total, cents))
        candidates.append(list(by_total.items()))
    cheapest = min(
        sum(cents for _, cents in combination)
        for combination in itertools.product(*candidates)
        if risk([total for total, _ in combination]) <= limit + 1e-9
        and risk([total for total, _ in combination], only_lots=True) <= lot_limit + 1e-9
    )
    assert sum(each.cents for each in chosen.sets) == cheapest


@pytest.mark.parametrize("begin", ["well", "badly"])
@pytest.mark.parametrize("seed", range(10))
def test_no_combination_of_five_correlated_materials_is_cheaper(seed, begin, monkeypatch):
    """Large enough for the bound to cut branches off; every combination of worthwhile sets is tried.

    Begun badly, with the dearest picks, branch and bound alone has to find the cheapest.
    """
    if begin == "badly":
        monkeypatch.setattr(search._Search, "_improved", lambda self, _: [len(costs) - 1 for costs in self.costs])
    random = np.random.default_rng(seed)
    shared = random.standard_normal(300)
    choices = []
    for _ in range(5):
        needs = random.uniform(3, 8) * np.exp(0.25 * (0.6 * shared + 0.8 * random.standard_normal(300)))
        price = float(random.integers(20, 90))
        prices = (pack(5.0, round(4.3 * price)), pack(1.0, price))
        choices.append(small_choice(needs, prices, bool(random.random() < 0.3)))
    chosen = choose_packs(choices, 0.08, 0.03)
    short = [np.array([choice.needs > each.total for each in choice.sets]) for choice in choices]
    costs = [np.array([each.cents for each in choice.sets]) for choice in choices]
    usable = [np.flatnonzero(each.mean(axis=1) <= (0.03 if choice.one_lot else 0.08)) for each, choice in
              zip(short, choices, strict=True)]  # fmt: skip
    cheapest = math.inf
    for picks in itertools.product(*usable):
        cost = sum(int(cost[pick]) for cost, pick in zip(costs, picks, strict=True))
        if cost >= cheapest:
            continue
        rows = [each[pick] for each, pick in zip(short, picks, strict=True)]
        lots = [row for row, choice in zip(rows, choices, strict=True) if choice.one_lot]
        if np.any(rows, axis=0).mean() <= 0.08 and (not lots or np.any(lots, axis=0).mean() <= 0.03):
            cheapest = cost
    assert sum(each.cents for each in chosen.sets) == cheapest


def test_jobs_short_in_two_materials_count_once():
    """Two materials that run short in the same draws may both be short; in different draws only one may."""
    one_pack = (pack(1.0, 10.0),)
    early, late = [2.0] * 5 + [1.0] * 95, [1.0] * 95 + [2.0] * 5
    together = choose_packs([small_choice(early, one_pack, False), small_choice(early, one_pack, False)], 0.05, 0.01)
    apart = choose_packs([small_choice(early, one_pack, False), small_choice(late, one_pack, False)], 0.05, 0.01)
    assert [each.total for each in together.sets] == [1, 1]
    assert sorted(each.total for each in apart.sets) == [1, 2]


def test_equally_cheap_sets_fall_to_fewer_packs_and_always_the_same_way():
    prices = (pack(5.0, 50.0), pack(1.0, 10.0))
    assert cheapest_cover(prices, 5.0, one_size=False).counts == (1, 0)
    choices = [small_choice([2.0] * 5 + [1.0] * 95, (pack(1.0, 10.0),), False) for _ in range(2)]
    choices[1] = small_choice([1.0] * 95 + [2.0] * 5, (pack(1.0, 10.0),), False)
    results = {tuple(each.counts for each in choose_packs(choices, 0.05, 0.01).sets) for _ in range(5)}
    assert len(results) == 1


def test_a_search_that_is_cut_short_still_keeps_within_the_limit(monkeypatch):
    random = np.random.default_rng(3)
    choices = []
    for price in (31.0, 47.0, 59.0, 83.0, 22.0, 71.0):
        needs = random.uniform(5, 15) * np.exp(0.25 * random.standard_normal(2000))
        choices.append(small_choice(needs, (pack(5.0, 4.4 * price), pack(1.0, price)), one_lot=False))
    exact = choose_packs(choices, 0.05, 0.01)
    monkeypatch.setattr(search, "MOST_BRANCHES", 0)
    cut = choose_packs(choices, 0.05, 0.01)
    assert cut.short_risk <= 0.05
    assert sum(each.cents for each in cut.sets) >= sum(each.cents for each in exact.sets)


def test_a_pack_too_small_to_count_is_refused():
    with pytest.raises(JobError, match="more than 100,000 packs"):
        cheapest_cover((pack(1e-6, 1.0),), 5.0, one_size=False)


def test_no_material_is_no_order():
    assert choose_packs([], 0.05, 0.01).sets == ()


def test_sets_rise_in_total_and_cost_together():
    sets = worthwhile_sets((pack(5.0, 80.0), pack(1.0, 20.0)), 0.0, 12.0, one_size=False)
    assert all(a.total < b.total and a.cents < b.cents for a, b in itertools.pairwise(sets))
    assert PackSet(5.0, 8000, 1, (1, 0)) in sets
    assert all(each.total != 4.0 for each in sets), "four single gallons cost as much as a five gallon pail"


def test_the_users_prices_replace_all_class_wide_sizes_of_that_material():
    job = a_job(price=[{"material": "acrylic-water", "size": 4, "price": 99.5}])
    priced = pack_prices(shipped().materials["acrylic-water"], job)
    assert [(price.size, price.expected, price.yours) for price in priced] == [(4, 99.5, True)]
    assert not any(price.yours for price in pack_prices(shipped().materials["acrylic-solvent"], job))


@pytest.mark.parametrize(
    ("yours", "currency", "basis"),
    [
        ([False], "USD", "class-wide"),
        ([True, True], "USD", "your prices"),
        ([True, False], "USD", "mixed"),
        ([True], "EUR", "your prices"),
        ([False], "EUR", "class-wide, in US dollars"),
    ],
)
def test_the_basis_says_whose_prices_they_are(yours, currency, basis):
    assert basis_of(yours, currency) == basis
