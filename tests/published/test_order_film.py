"""Published worked examples of film and spread arithmetic, redone through a whole order line.

Spreading-rate note: 1604 x volume solids / dry film; 65 % at 5 mil = 208.5 ft²/gal, at 125 µm = 5.2 m²/L.
Estimating guide table: 35 % solids cover 561, 281, 187, 140 ft²/gal at 1, 2, 3, 4 mil; 100 % cover 160 at 10 mil.
Paint help desk, October 2003: 52 % solids at 1.5 mil, 30 % of it reaching the surface, cover 167 ft²/gal.
"""

import pytest

from finishadvisor.order.make import make_order
from finishadvisor.works.make import make_works
from tests.works.shipped import a_floor_plain, a_job, shipped, with_limits, with_rows


def exactly(value):
    return {"low": value, "expected": value, "high": value}


def coated(area_ft2, solids, mils, loss=0.0, units="us"):
    """The order line of one coat of a film with these figures on a burned slab, so that no profile is filled."""
    base = shipped().materials["epoxy-clear"].model_dump()
    film = (
        shipped()
        .materials["epoxy-clear"]
        .model_validate(
            base
            | {"volume_solids": exactly(solids), "dry_film_mils": exactly(mils), "loss": exactly(loss)}
            | {"first_coat_factor": None}
        )
    )
    finish = shipped().finishes["epoxy-urethane-clear"]
    build = next(layer for layer in finish.layers if layer.material == "epoxy-clear")
    plain = finish.model_copy(update={"preparation": (), "layers": (build.model_copy(update={"before": ()}),)})
    catalog = with_rows(with_limits(shipped(), draws=10, mock_up_area_ft2=0), film, plain)
    job = a_job(a_floor_plain(f"{area_ft2}ft", "1ft"), units=units)
    works = make_works(job.floors[0], plain, (), {"surface": "hard-steel-trowel"}, catalog)
    return next(line for line in make_order([works], job, catalog).floors[0].lines if line.layer)


@pytest.mark.parametrize(
    ("ft2_per_gal", "solids", "mils", "loss"),
    [
        ("208.5", 0.65, 5, 0.0),
        ("561", 0.35, 1, 0.0),
        ("281", 0.35, 2, 0.0),
        ("187", 0.35, 3, 0.0),
        ("140", 0.35, 4, 0.0),
        ("160", 1.0, 10, 0.0),
        ("167", 0.52, 1.5, 0.7),
    ],
)
def test_a_gallon_covers_what_is_printed(ft2_per_gal, solids, mils, loss, printed):
    line = coated(1000, solids, mils, loss)
    assert 1000 / line.need.expected == printed(ft2_per_gal)
    assert line.need.low == pytest.approx(line.need.expected)
    assert line.need.high == pytest.approx(line.need.expected)


def test_a_liter_covers_what_is_printed(printed):
    line = coated(1000, 0.65, 125 / 25.4, units="metric")
    assert 1000 * 0.3048**2 / (line.need.expected * 3.785411784) == printed("5.2")
    assert "125 µm ÷ 0.65 solids" in line.working
    assert line.working.endswith(" L")
