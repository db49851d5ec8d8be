"""Drawn needs have the spread and the links that the model states: zones average out, films share the crew's hand."""

import math

import numpy as np
import pytest

from finishadvisor.order.amounts import log_sd_of, yield_log_sd
from finishadvisor.order.make import draw_lines
from finishadvisor.works.make import make_works
from tests.works.shipped import a_floor_plain, a_job, shipped, with_limits

DRAWS = 40_000
MANY = with_limits(shipped(), draws=DRAWS)


def log_needs(finish, outline=None, catalog=MANY):
    """Log of the drawn needs of each layer of a finish on a burned slab without a profile."""
    job = a_job(a_floor_plain(40, 24, outline=outline or {}))
    facts = {"surface": "hard-steel-trowel"}
    works = make_works(job.floors[0], catalog.finishes[finish], (), facts, catalog)
    return {each.line.layer: np.log(each.needs) for each in draw_lines([works], job, catalog) if each.line.layer}


def joints(number):
    spacing = 40 / (number + 1)
    return {
        "joint": [
            {"kind": "control", "start": (n * spacing, 0), "end": (n * spacing, 24)} for n in range(1, number + 1)
        ]
    }


def variance_parts(material):
    """Variance of the log need of a later coat of a liquid, and how much of it differs from zone to zone."""
    zone = shipped().limits["share-zone"].value
    of_rate = log_sd_of(material.spread_ft2_per_unit.low) ** 2
    return of_rate + yield_log_sd(material.loss) ** 2, of_rate * zone


def test_zones_average_out():
    total, by_zone = variance_parts(shipped().materials["silane-siloxane"])
    whole = log_needs("repellent")["repellent"].var()
    eight = log_needs("repellent", joints(7))["repellent"].var()
    error = 4 * total * math.sqrt(2 / DRAWS)
    assert whole == pytest.approx(total, abs=error)
    assert eight == pytest.approx(total - by_zone * 7 / 8, abs=error)
    assert whole - eight > 0.5 * by_zone


def test_zones_of_a_film_average_out():
    film_sd = log_sd_of(shipped().materials["urethane-clear"].dry_film_mils)
    by_zone = film_sd**2 * shipped().limits["share-zone"].value
    whole = log_needs("epoxy-urethane-clear")["top"].var()
    eight = log_needs("epoxy-urethane-clear", joints(7))["top"].var()
    error = 4 * whole * math.sqrt(2 / DRAWS) * math.sqrt(2)
    assert whole - eight == pytest.approx(by_zone * 7 / 8, abs=error)
    assert by_zone * 7 / 8 > 2 * error


def test_a_heavy_hand_takes_more_of_every_film():
    """Covariance of the log needs of two films: the crew's hand, and the part of the loss that is the crew's."""
    catalog = with_limits(MANY, share_build=0)
    needs = log_needs("epoxy-urethane-clear", catalog=catalog)
    epoxy, urethane = (shipped().materials[id_] for id_ in ("epoxy-clear", "urethane-clear"))
    fill = 2.5 / (11 + 2.5)  # share of the first coat that fills the ground profile: no film, no hand
    hand, loss = shipped().limits["share-hand"].value, shipped().limits["share-loss"].value
    shared = hand * (1 - fill) * log_sd_of(epoxy.dry_film_mils) * log_sd_of(urethane.dry_film_mils)
    shared += loss * yield_log_sd(epoxy.loss) * yield_log_sd(urethane.loss)
    covariance = np.cov(needs["build"], needs["top"])[0, 1]
    error = 4 * needs["build"].std() * needs["top"].std() / math.sqrt(DRAWS)
    assert covariance == pytest.approx(shared, abs=error)
    assert shared > 2 * error


def test_the_median_need_is_that_of_the_expected_figures():
    job = a_job()
    works = make_works(job.floors[0], MANY.finishes["repellent"], (), {}, MANY)
    for each in draw_lines([works], job, MANY):
        assert np.median(each.needs) == pytest.approx(each.expected, rel=0.01)
