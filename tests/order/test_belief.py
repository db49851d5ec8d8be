"""What a mock-up teaches equals the textbook update of a normal mean with known variances, on the log rate."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.order.amounts import Z90, Amount, amount_of, log_sd_of
from finishadvisor.order.belief import Measured, believe
from finishadvisor.order.learn import measured_before, measured_on
from finishadvisor.works.make import make_works
from tests.works.shipped import a_floor_plain, a_job, shipped

FLOOR, PRODUCT = ("floor", "Shop"), ("product", "sealer")


@given(
    floor_sd=st.floats(0.01, 0.5),
    product_sd=st.floats(0.01, 0.5),
    error_sd=st.floats(0.01, 0.5),
    ratios=st.lists(st.floats(-0.8, 0.8), min_size=1, max_size=5),
)
def test_measuring_one_material_is_the_conjugate_normal_update(floor_sd, product_sd, error_sd, ratios):
    amount = Amount(1 / 200, {FLOOR: floor_sd, PRODUCT: product_sd})
    belief = believe([amount], [Measured(ratio, amount.weights, error_sd) for ratio in ratios])
    prior_precision = 1 / (floor_sd**2 + product_sd**2)
    precision = prior_precision + len(ratios) / error_sd**2
    assert belief.log_sd(amount) == pytest.approx(1 / math.sqrt(precision), rel=1e-6)
    assert belief.log_shift(amount) == pytest.approx(sum(ratios) / error_sd**2 / precision, rel=1e-6, abs=1e-9)


def test_nothing_measured_leaves_the_catalog_as_it_is():
    amount = Amount(1 / 200, {FLOOR: 0.3})
    belief = believe([amount], [])
    assert belief.log_shift(amount) == 0
    assert belief.log_sd(amount) == pytest.approx(0.3)


def test_a_thirsty_floor_moves_every_liquid_on_it_and_none_elsewhere():
    measured = Amount(1 / 200, {FLOOR: 0.2, PRODUCT: 0.2})
    same_floor = Amount(1 / 300, {FLOOR: 0.1})
    elsewhere = Amount(1 / 300, {("floor", "Patio"): 0.1})
    belief = believe([measured, same_floor, elsewhere], [Measured(0.3, measured.weights, 0.1)])
    # by the formula for a jointly normal pair: covariance over variance of the measurement, times what was measured
    assert belief.log_shift(same_floor) == pytest.approx(0.1 * 0.2 / (0.04 + 0.04 + 0.01) * 0.3)
    assert belief.log_shift(elsewhere) == 0
    assert belief.log_sd(elsewhere) == pytest.approx(0.1)


def test_drawn_causes_have_the_mean_and_spread_that_are_believed():
    amount = Amount(1 / 200, {FLOOR: 0.2, PRODUCT: 0.3})
    belief = believe([amount], [Measured(0.4, amount.weights, 0.1)])
    drawn = belief.weights(amount) @ belief.draw(200_000, np.random.default_rng(5))
    assert drawn.mean() == pytest.approx(belief.log_shift(amount), abs=4 * belief.log_sd(amount) / math.sqrt(200_000))
    assert drawn.std() == pytest.approx(belief.log_sd(amount), rel=0.01)


def sealed_shop(**more):
    job = a_job(a_floor_plain(**more))
    floor, catalog = job.floors[0], shipped()
    return floor, make_works(floor, catalog.finishes["enhancer"], (), floor.answers, catalog)


def first_use(works):
    return next(use for task in works.tasks for use in task.materials if use.first_coat)


def test_a_mock_up_on_the_floor_updates_the_log_rate_of_its_coat():
    mock_up = {"finish": "enhancer", "area_ft2": 20, "material": "color-enhancer", "coat": 1, "used": 0.15}
    floor, works = sealed_shop(mock_up=[mock_up])
    catalog = shipped()
    amount = amount_of(first_use(works), works, catalog)
    belief = believe([amount], measured_on(floor, works, catalog))
    error = catalog.limits["mock-up-sd"].value ** 2 + amount.zone_sd**2
    prior = amount.log_sd**2
    seen = math.log(20 / 0.15)
    mean = (-math.log(amount.median) / prior + seen / error) / (1 / prior + 1 / error)
    assert -math.log(amount.median) - belief.log_shift(amount) == pytest.approx(mean)
    assert belief.log_sd(amount) == pytest.approx(math.sqrt(1 / (1 / prior + 1 / error)))


def test_past_use_on_another_job_teaches_the_product_but_not_the_slab():
    used = {
        "material": "color-enhancer",
        "layer": "enhancer",
        "coats": 2,
        "area_ft2": 400,
        "used": 8,
        "date": "2026-05-01",
    }
    past = a_job(a_floor_plain(used=[used], decision={"finish": "enhancer"}))
    _, works = sealed_shop()
    catalog = shipped()
    amount = amount_of(first_use(works), works, catalog)
    (measured,) = measured_before([past], catalog)
    belief = believe([amount], [measured])
    assert belief.log_shift(amount) > 0
    assert not any(cause[0] == "floor" and cause[1] == "Shop" for cause in measured.weights)
    shared = sum(weight * amount.weights.get(cause, 0) for cause, weight in measured.weights.items())
    total = sum(weight**2 for weight in measured.weights.values()) + measured.error_sd**2
    assert belief.log_shift(amount) == pytest.approx(shared / total * measured.log_ratio)


def test_what_was_used_in_two_coats_is_set_against_both():
    used = {
        "material": "color-enhancer",
        "layer": "enhancer",
        "coats": 2,
        "area_ft2": 100,
        "used": 2,
        "date": "2026-05-01",
    }
    floor, works = sealed_shop(used=[used])
    (measured,) = measured_on(floor, works, shipped())
    uses = [use for task in works.tasks for use in task.materials if use.material == "color-enhancer"]
    expected = 100 * sum(amount_of(use, works, shipped()).median for use in uses)
    assert measured.log_ratio == pytest.approx(math.log(2 / expected))


def test_amounts_of_nothing_or_of_supplies_teach_nothing():
    used = [
        {"material": "color-enhancer", "layer": "enhancer", "area_ft2": 100, "used": 0, "date": "2026-05-01"},
        {"material": "masking-tape", "layer": "mask", "area_ft2": 100, "used": 90, "date": "2026-05-01"},
    ]
    floor, works = sealed_shop(used=used)
    assert measured_on(floor, works, shipped()) == ()


def test_a_range_is_the_tenth_and_ninetieth_percentile_on_the_log_scale():
    rate = shipped().materials["silane-siloxane"].spread_ft2_per_unit.medium
    assert math.exp(2 * Z90 * log_sd_of(rate)) == pytest.approx(rate.high / rate.low)
    assert log_sd_of(rate.model_copy(update={"high": rate.low})) == 0
