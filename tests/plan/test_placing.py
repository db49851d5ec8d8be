"""The crew's free time with work taken out of it, against counting quarter hour by quarter hour."""

from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.plan.placing import Calendar


@st.composite
def stretches(draw):
    """Days with their nights in between, as a clock has them."""
    found, slot = [], 0
    for _ in range(draw(st.integers(0, 6))):
        begin = slot + draw(st.integers(1, 20))
        slot = begin + draw(st.integers(1, 20))
        found.append((begin, slot))
    return found


def slots_of(spans):
    return {slot for begin, end in spans for slot in range(begin, end)}


SPANS = st.lists(st.tuples(st.integers(0, 150), st.integers(1, 40)).map(lambda pair: (pair[0], sum(pair))), max_size=5)


@given(stretches(), SPANS)
def test_work_taken_out_leaves_the_other_free_slots_and_no_more(free, busy):
    left = Calendar(free, 20).without(busy).free
    assert slots_of(left) == slots_of(free) - slots_of(busy)
    assert left == sorted(left)
    assert all(begin < end for begin, end in left)


@given(stretches(), SPANS, st.integers(0, 160))
def test_free_time_from_a_slot_on_is_what_lies_behind_it(free, busy, slot):
    calendar = Calendar(free, 20).without(busy)
    assert slots_of(calendar.from_slot(slot)) == {
        free_slot for free_slot in slots_of(calendar.free) if free_slot >= slot
    }


def test_a_calendar_that_work_is_taken_from_stays_as_it_is():
    calendar = Calendar([(0, 10), (20, 30)], 10)
    assert calendar.without([(5, 25)]).free == [(0, 5), (25, 30)]
    assert calendar.free == [(0, 10), (20, 30)]
    assert calendar.begin_at(25) == 20
