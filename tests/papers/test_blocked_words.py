"""Reasons that come back are told once."""

import datetime

from finishadvisor.papers.blocked_words import blocked_words
from tests.plan.whole import ON, a_job, plan_for


def test_a_cold_room_is_told_once_for_each_coat_with_how_often():
    plan = plan_for(job=a_job({"room": {"air": 48, "rh_pct": 60, "slab": 46}}))
    cold = [each for each in blocked_words(plan.blocked) if "the slab is 46" in each.why]
    spans = [span for span in plan.blocked if "the slab is 46" in span.why]
    assert len(spans) > len(cold) == len({span.task for span in spans})
    for each in cold:
        assert each.when.endswith(f"{sum(span.task == each.task for span in spans)} times")


def test_what_blocks_once_has_its_hours_and_no_count():
    plan = plan_for(job=a_job({"pour": {"date": ON - datetime.timedelta(days=11)}}))
    (young,) = [each for each in blocked_words(plan.blocked) if "not ready" in each.why]
    assert young.when.startswith("Mon Sep 21")
    assert "times" not in young.when
