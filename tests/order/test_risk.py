"""The stated chance of running short holds in jobs that another generator simulates, zone by zone."""

import math

import numpy as np
import pytest

from finishadvisor.order.make import make_order
from finishadvisor.works.make import make_works
from tests.order.other_generator import OtherGenerator, risk_of
from tests.works.shipped import a_floor_plain, a_job, required, shipped

JOBS = 60_000


def lines(*at, y):
    return {"joint": [{"kind": "control", "start": (x, 0), "end": (x, y)} for x in at]}


def a_two_floor_job(limit=None, mock_up=()):
    shop = a_floor_plain(36, 24, "Shop", outline=lines(12, 24, y=24))
    patio = a_floor_plain(20, 15, "Patio", outline=lines(10, y=15), mock_up=list(mock_up))
    business = {} if limit is None else {"business": {"short_risk_limit": limit}}
    return a_job(shop, patio, **business)


def works_of(job, finishes=("epoxy-urethane-solid", "enhancer")):
    catalog = shipped()
    facts = ({}, {"surface": "broom"})
    return [
        make_works(floor, catalog.finishes[finish], [required("repair-cracks")], known, catalog)
        for floor, finish, known in zip(job.floors, finishes, facts, strict=True)
    ]


def within_four_standard_errors(order, risk, error):
    of_order = math.sqrt(order.short_risk * (1 - order.short_risk) / shipped().limits["draws"].value)
    return abs(risk - order.short_risk) <= 4 * math.hypot(error, of_order)


@pytest.mark.parametrize("limit", [0.01, 0.05, 0.20])
def test_the_stated_risk_holds_at_limits_of_1_5_and_20_percent(limit):
    job = a_two_floor_job(limit)
    works = works_of(job)
    order = make_order(works, job, shipped())
    generator = OtherGenerator(shipped(), JOBS, seed=round(1000 * limit))
    risk, error = risk_of(order, generator.needs(works), np.ones(JOBS))
    assert 0 < order.short_risk <= limit
    assert within_four_standard_errors(order, risk, error)


@pytest.mark.parametrize("limit", [0.01, 0.05, 0.20])
def test_the_stated_risk_holds_after_a_mock_up(limit):
    mock_up = {"finish": "enhancer", "area_ft2": 25, "material": "color-enhancer", "coat": 1, "used": 0.50}
    job = a_two_floor_job(limit, [mock_up])
    works = works_of(job)
    order = make_order(works, job, shipped())
    generator = OtherGenerator(shipped(), 4 * JOBS, seed=round(1000 * limit) + 7)
    use = next(use for task in works[1].tasks for use in task.materials if use.first_coat)
    weights = generator.likelihood(works[1], use, 0.50 / 25)
    risk, error = risk_of(order, generator.needs(works), weights)
    assert within_four_standard_errors(order, risk, error)
    unheeded = make_order(works, a_two_floor_job(limit), shipped())
    ignorant, its_error = risk_of(unheeded, generator.needs(works), weights)
    assert not within_four_standard_errors(unheeded, ignorant, its_error), "the mock-up made no difference to test"


def test_the_stated_risk_holds_for_flake_and_polish():
    job = a_two_floor_job()
    works = works_of(job, ("polyaspartic-flake", "polished-dyed"))
    order = make_order(works, job, shipped())
    generator = OtherGenerator(shipped(), JOBS, seed=3)
    risk, error = risk_of(order, generator.needs(works), np.ones(JOBS))
    assert within_four_standard_errors(order, risk, error)


def test_a_second_lot_is_needed_in_no_more_than_one_job_in_a_hundred():
    job = a_two_floor_job()
    works = works_of(job)
    order = make_order(works, job, shipped())
    needs = OtherGenerator(shipped(), JOBS, seed=11).needs(works)
    one_lot = {id_: need for id_, need in needs.items() if shipped().materials[id_].one_lot}
    assert set(one_lot) == {"epoxy-solid", "urethane-solid"}
    risk, error = risk_of(order, one_lot, np.ones(JOBS))
    of_order = math.sqrt(0.01 * 0.99 / shipped().limits["draws"].value)
    assert risk <= 0.01 + 4 * math.hypot(error, of_order)
