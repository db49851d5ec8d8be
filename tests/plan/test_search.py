"""The search keeps every limit, ends as early as brute force, and never later with more crew."""

import datetime
import itertools
import math
import random

from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.plan.floors import plan_floors
from finishadvisor.plan.placing import Calendar
from finishadvisor.plan.search import FloorSearch
from tests.plan.fixtures import a_chain, a_clock, a_link, a_material, an_air
from tests.plan.independent import breaches, brute_force_end

QUICK = {"slab_f": 77, "tack_free_h": 1, "recoat_min_h": 2, "recoat_max_h": 9}


@st.composite
def airs(draw, hours, rainy=True):
    """Random weather from a drawn seed: days and nights, fronts, a slab that follows behind, some rain and sun."""
    weather = random.Random(draw(st.integers(0, 10**9)))
    middle_f, swing_f, lag = weather.uniform(55, 85), weather.uniform(0, 15), weather.uniform(0.02, 0.3)
    wetness = weather.uniform(0, 0.06) if rainy else 0.0
    air_f, rh_pct, slab_f = [], [], []
    front = slab = 0.0
    for hour in range(hours):
        front = 0.97 * front + weather.gauss(0, 1.2)
        air_f.append(round(min(max(middle_f + front + swing_f * math.sin((hour - 14) * math.pi / 12), 20), 115), 1))
        rh_pct.append(round(min(max(weather.gauss(58, 15), 5), 100)))
        slab = air_f[0] if hour == 0 else slab + lag * (air_f[-1] - slab)
        slab_f.append(round(slab, 1))
    rain = [weather.random() < wetness for _ in range(hours)]
    sun = [weather.random() < 0.06 for _ in range(hours)]
    return an_air(hours, air_f=air_f, slab_f=slab_f, rh_pct=rh_pct, rain=rain, direct_sun=sun)


def plan(links, clock, crew):
    return FloorSearch(links, Calendar(clock.stretches, clock.longest_stretch), crew).run()


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_no_coat_breaks_a_window_a_limit_or_the_work_hours(data):
    clock = a_clock(12)
    air = data.draw(airs(clock.hours))
    shorter = {**QUICK, "slab_f": 95, "tack_free_h": 0.5, "recoat_min_h": 1, "recoat_max_h": 15}
    resin = a_material({**QUICK, "recoat_max_h": 28}, shorter)
    top = a_material({"slab_f": 77, "recoat_min_h": 3, "recoat_max_h": 40}, id_="top")
    hours = [data.draw(st.floats(0.5, 3)) for _ in range(4)]
    links = a_chain(
        air, a_link(hours[0]), a_link(hours[1], resin, 70), a_link(0.5, phase=70), a_link(hours[2], resin, 70),
        a_link(hours[3], top, 70),
    )  # fmt: skip
    found = plan(links, clock, 1)
    assert breaches(found.placed, clock) == []


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_the_search_ends_when_brute_force_ends(data):
    clock = a_clock(3, start=datetime.time(9), end=datetime.time(12))
    air = data.draw(airs(clock.hours))
    resin = a_material({**QUICK, "recoat_max_h": data.draw(st.sampled_from([9, 23, 26, 30]))}, air_low_f=50)
    hours = [data.draw(st.sampled_from([0.5, 1.0, 1.75])) for _ in range(3)]
    links = a_chain(air, a_link(hours[0]), a_link(hours[1], resin, 70), a_link(hours[2], resin, 70))
    least = brute_force_end(links, clock, 1)
    found = plan(links, clock, 1)
    assert (found.end if found.feasible else float("inf")) == least


def test_a_first_coat_waits_so_that_the_second_keeps_its_window():
    # Friday's coat could only be followed on Monday, behind its 24 h: it is laid on Monday with a follower on Tuesday.
    friday = datetime.date(2026, 6, 5)
    clock = a_clock(10, first=friday)
    resin = a_material({"slab_f": 77, "recoat_min_h": 10, "recoat_max_h": 30})
    air = an_air(clock.hours)
    found = plan(a_chain(air, a_link(2, resin, 70), a_link(2, resin, 70)), clock, 1)
    assert [clock.moment(here.start).strftime("%a %H:%M") for here in found.placed] == ["Mon 07:00", "Tue 07:00"]
    assert brute_force_end(a_chain(air, a_link(2, resin, 70), a_link(2, resin, 70)), clock, 1) == found.end


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_more_crew_never_ends_later(data):
    """Short days, and tasks on both sides of the length up to which work is done in one go.

    A larger team can make a task short enough to be done in one go, which then does not fit into what is left of the
    day, where the smaller team would have begun it: taking the whole crew for everything does end later.
    """
    clock = a_clock(8, start=datetime.time(8), end=datetime.time(12))
    resin = a_material(QUICK | {"recoat_max_h": 50})
    air = an_air(clock.hours)
    chains = []
    for _ in range(data.draw(st.integers(1, 2))):
        hours = [data.draw(st.integers(2, 28)) / 4 for _ in range(2)]
        begin = clock.stretches[0][0] + data.draw(st.integers(0, 15))
        chains.append(a_chain(air, a_link(hours[0], not_before_slot=begin), a_link(hours[1], resin, 70)))
    ends = []
    for crew in (1, 2, 3, 4, 5):
        plans = plan_floors(chains, clock, crew)
        fits = all(found.feasible for found in plans)
        ends.append(max(found.end for found in plans) if fits else float("inf"))
    assert ends == sorted(ends, reverse=True)


def test_one_crew_works_on_one_floor_at_a_time():
    clock = a_clock(10)
    resin = a_material()
    chains = [a_chain(an_air(clock.hours), a_link(5), a_link(3, resin, 70), a_link(3, resin, 70)) for _ in range(3)]
    spans = sorted(span for found in plan_floors(chains, clock, 2) for here in found.placed for span in here.spans)
    assert len(spans) >= 9
    assert all(before[1] <= after[0] for before, after in itertools.pairwise(spans))


def test_a_later_floor_uses_the_hours_in_which_an_earlier_one_sets():
    clock = a_clock(10)
    slow = a_material({"slab_f": 77, "recoat_min_h": 16, "recoat_max_h": 48})
    chains = [a_chain(an_air(clock.hours), a_link(2, slow, 70), a_link(2, slow, 70)) for _ in range(2)]
    ends = [clock.moment(found.end).strftime("%a") for found in plan_floors(chains, clock, 1)]
    assert ends == ["Tue", "Tue"]


def test_preparation_is_drawn_up_to_the_coat():
    clock = a_clock(20)
    wait_until = clock.slot_of_day(datetime.date(2026, 6, 11))
    coat = a_link(2, a_material(), 70, not_before_slot=wait_until)
    found = plan(a_chain(an_air(clock.hours), a_link(1, phase=10), a_link(3, phase=40), coat), clock, 1)
    begins = [f"{clock.moment(here.start):%d %H:%M}" for here in found.placed]
    assert begins == ["01 07:00", "10 07:00", "11 07:00"]


def test_rain_waits_until_the_coat_bears_water():
    clock = a_clock(5)
    resin = a_material({"slab_f": 77, "recoat_min_h": 6, "tack_free_h": 1, "water_h": 24})
    rain = [hour == 7 + 1 + 24 for hour in range(clock.hours)]
    # Laid from 7 to 8 it bears water at 8 the next morning, when it rains: that is in time. An hour more is not.
    (here,) = plan(a_chain(an_air(clock.hours, rain=rain), a_link(1, resin, 70)), clock, 1).placed
    assert f"{clock.moment(here.start):%a %H:%M}" == "Mon 07:00"
    (later,) = plan(a_chain(an_air(clock.hours, rain=rain), a_link(1.25, resin, 70)), clock, 1).placed
    assert f"{clock.moment(later.start):%a %H:%M}" == "Tue 09:00"


def test_a_wait_holds_up_everything_but_other_tests():
    clock = a_clock(20)
    links = a_chain(an_air(clock.hours), a_link(1, phase=10, wait_h=24), a_link(1, phase=10), a_link(1, phase=30))
    found = plan(links, clock, 1)
    assert [clock.moment(here.start).strftime("%a %H:%M") for here in found.placed] == [
        "Mon 07:00", "Mon 08:00", "Tue 08:00",
    ]  # fmt: skip


def test_a_coat_that_outlasts_the_workday_is_laid_in_parts():
    clock = a_clock(10)
    found = plan(a_chain(an_air(clock.hours), a_link(12, a_material(), 70)), clock, 1)
    assert [end - start for start, end in found.placed[0].spans] == [24, 24]
    assert breaches(found.placed, clock) == []


def test_without_working_hours_nothing_fits():
    clock = a_clock(10, start=datetime.time(7), end=datetime.time(7))
    assert not plan(a_chain(an_air(clock.hours), a_link(1)), clock, 1).feasible


def test_many_floors_are_tried_in_few_orders_and_each_is_planned():
    clock = a_clock(60)
    air = an_air(clock.hours)
    chains = [a_chain(air, a_link(1 + number % 3)) for number in range(30)]
    plans = plan_floors(chains, clock, 1)
    assert all(found.feasible for found in plans)
    spans = sorted(span for found in plans for placed in found.placed for span in placed.spans)
    assert all(before[1] <= after[0] for before, after in itertools.pairwise(spans))


def together(plans):
    """The most tasks that run at once, over all floors."""
    spans = [span for found in plans for placed in found.placed for span in placed.spans]
    return max(sum(begin <= slot < end for begin, end in spans) for slot, _ in spans)


def test_two_teams_work_on_two_floors_at_once_and_never_on_more():
    clock = a_clock(60)
    air = an_air(clock.hours)
    # Tasks that are too short to be shared: the second worker of one team stands by, and may as well do another floor.
    chains = [a_chain(air, *(a_link(0.5) for _ in range(12))) for _ in range(3)]
    one, two = (plan_floors(chains, clock, 2, *smaller) for smaller in ((), (1,)))
    assert (together(one), together(two)) == (1, 2)
    assert max(found.end for found in two) < max(found.end for found in one)
    for found in two:
        assert breaches(found.placed, clock) == []


@settings(max_examples=15, deadline=None)
@given(st.data())
def test_more_teams_never_end_later(data):
    clock = a_clock(40)
    air = data.draw(airs(clock.hours, rainy=False))
    resin = a_material({**QUICK, "recoat_max_h": 28})
    chains = [
        a_chain(air, a_link(data.draw(st.floats(0.5, 12))), a_link(data.draw(st.floats(0.5, 6)), resin, 70))
        for _ in range(data.draw(st.integers(1, 3)))
    ]
    ends = []
    for smaller in ((), (2,), (2, 1)):
        plans = plan_floors(chains, clock, 4, *smaller)
        ends.append((sum(not found.feasible for found in plans), max(found.end for found in plans)))
        assert together(plans) <= 1 + len(smaller)
    assert ends == sorted(ends, reverse=True)
