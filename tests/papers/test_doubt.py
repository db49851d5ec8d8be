"""Crew and supplier read it where the finish planned does not suit its floor, or where that cannot be told yet."""

from dataclasses import replace

import pytest

from finishadvisor.papers.doubt import doubt_of_chosen
from finishadvisor.papers.job_sheet import job_sheet
from finishadvisor.papers.order_list import order_list_data


def judged(whole, verdict):
    """Return the example with the finish of its first floor judged otherwise."""
    first, *others = whole.floors
    finishes = tuple(
        finish.model_copy(update={"verdict": verdict}) if finish.id == first.finish else finish
        for finish in first.advice.finishes
    )
    first = replace(first, advice=first.advice.model_copy(update={"finishes": finishes}))
    return replace(whole, floors=(first, *others))


@pytest.mark.parametrize(
    ("verdict", "told"), [("does-not-suit", "It does not suit this floor"), ("cannot-tell", "cannot be told yet")]
)
def test_job_sheet_and_order_list_say_that_the_finish_is_in_doubt(example, verdict, told):
    whole = judged(example, verdict)
    outcome = whole.floors[0]
    assert told in doubt_of_chosen(outcome)
    assert told in str(job_sheet(whole, outcome, []).blocks)
    assert any(told in line for line in order_list_data(whole, whole.order)["warnings"])


@pytest.mark.parametrize("verdict", ["suits", "suits-if"])
def test_nothing_is_said_of_a_finish_that_suits(example, verdict):
    whole = judged(example, verdict)
    assert doubt_of_chosen(whole.floors[0]) == ""
