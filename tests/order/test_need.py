"""Each line can be redone on a calculator, in either unit system, and more area never needs less."""

import math
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.errors import CatalogError
from finishadvisor.order.make import draw_lines, make_order
from finishadvisor.order.need import lines_of
from finishadvisor.works.make import make_works
from tests.order.calculator import redo
from tests.works.shipped import a_floor, a_floor_plain, a_job, required, shipped, with_limits, with_rows

FINISHES = sorted(shipped().finishes)
ASKED = [
    required("repair-cracks"), required("test-slab-rh"), required("add-anti-slip"), required("mark-nosings"),
    required("fill-control-joints"), required("strip-acrylic"), required("moisture-barrier", "unknown"),
]  # fmt: skip
MOCK_UP = {"finish": "acrylic-water", "area_ft2": 20, "material": "acrylic-water", "used": 0.2}
QUICK = with_limits(shipped(), draws=500)


def an_order(finish, units="us", catalog=QUICK, **more):
    floor = a_floor_plain(
        "30ft", "20ft", outline={"steps": [{"count": 3, "width": "4ft", "tread": "12in", "riser": "7in"}]}, **more
    )
    job = a_job(floor, units=units)
    works = make_works(job.floors[0], catalog.finishes[finish], ASKED, {"surface": "broom"}, catalog)
    return make_order([works], job, catalog)


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("finish", FINISHES)
def test_each_line_can_be_redone_on_a_calculator(finish, units):
    order = an_order(finish, units)
    liters = {"gal": 3.785411784, "lb": 0.45359237, "ft": 0.3048}
    for line in order.floors[0].lines:
        by_hand, printed = redo(line.working)
        assert by_hand == pytest.approx(printed, rel=3e-4), line.working
        if line.need.expected:
            factor = liters.get(line.need.unit, 1) if units == "metric" else 1
            assert printed == pytest.approx(line.need.expected * factor, rel=1e-4), line.working


def test_a_line_corrected_by_a_mock_up_says_so_and_can_be_redone():
    order = an_order("acrylic-water", mock_up=[MOCK_UP])
    line = next(line for line in order.floors[0].lines if line.material == "acrylic-water")
    by_hand, printed = redo(line.working)
    assert "as the mock-up showed" in line.working
    assert by_hand == pytest.approx(printed, rel=3e-4)
    assert line.need.expected == pytest.approx(printed, rel=1e-4)


@pytest.mark.parametrize("finish", FINISHES)
def test_unit_systems_agree(finish):
    us, metric = an_order(finish, "us"), an_order(finish, "metric")
    assert us.packs == metric.packs
    assert [line.need for line in us.floors[0].lines] == [line.need for line in metric.floors[0].lines]


@pytest.mark.parametrize("finish", ["acrylic-water", "polyaspartic-flake", "polished-dyed"])
def test_a_floor_typed_in_meters_is_ordered_like_the_same_floor_in_feet(finish):
    def order(units, x, y, start, end):
        joint = {"kind": "control", "start": start, "end": end}
        job = a_job(a_floor_plain(x, y, outline={"joint": [joint]}), units=units)
        works = make_works(job.floors[0], QUICK.finishes[finish], ASKED, {}, QUICK)
        return make_order([works], job, QUICK)

    feet = order("us", 30, 20, (10, 0), (10, 20))
    meters = order("metric", 9.144, 6.096, (3.048, 0), (3.048, 6.096))
    assert [(packs.material, packs.packs) for packs in feet.packs] == [(p.material, p.packs) for p in meters.packs]
    assert meters.short_risk == pytest.approx(feet.short_risk)


def test_metric_lines_print_metric_units():
    workings = " | ".join(line.working for line in an_order("polyaspartic-flake", "metric").floors[0].lines)
    for unit in (" m²", "µm", " L", "kg/m²", " kg"):
        assert unit in workings
    for unit in ("ft²", "gal", "mils", " lb"):
        assert unit not in workings


@settings(max_examples=15, deadline=None)
@given(
    finish=st.sampled_from(["enhancer", "polyaspartic-flake", "acrylic-water"]),
    sides=st.tuples(st.floats(8, 60), st.floats(8, 60)),
    more=st.floats(1, 1.5),
)
def test_more_area_never_needs_less_and_never_costs_less(finish, sides, more):
    orders = []
    for factor in (1, more):
        job = a_job(a_floor_plain(sides[0] * factor, sides[1]))
        works = make_works(job.floors[0], QUICK.finishes[finish], [required("repair-cracks")], {}, QUICK)
        orders.append(make_order([works], job, QUICK))
    small, large = orders
    for less, greater in zip(small.floors[0].lines, large.floors[0].lines, strict=True):
        assert less.material == greater.material
        for end in ("low", "expected", "high"):
            assert getattr(less.need, end) <= getattr(greater.need, end) * (1 + 1e-9)
    assert small.total_cost.expected <= large.total_cost.expected


@pytest.mark.parametrize("finish", FINISHES)
def test_low_and_high_are_the_tenth_and_ninetieth_percentile_of_the_drawn_needs(finish):
    job = a_job()
    works = make_works(job.floors[0], QUICK.finishes[finish], (), {}, QUICK)
    drawn = draw_lines([works], job, QUICK)
    lines = make_order([works], job, QUICK).floors[0].lines
    for line, draws in zip(lines, drawn, strict=True):
        below = (draws.needs < line.need.low * (1 - 1e-9)).mean()
        above = (draws.needs > line.need.high * (1 + 1e-9)).mean()
        assert below <= 0.1 + 1e-9
        assert above <= 0.1 + 1e-9
        assert line.need.low <= line.need.expected * (1 + 1e-9)
        assert line.need.expected <= line.need.high * (1 + 1e-9)


def test_the_first_coat_on_a_thirsty_floor_takes_more():
    def need(absorption):
        works = make_works(a_floor(), shipped().finishes["enhancer"], (), {"absorption": absorption}, shipped())
        return next(line for line in lines_of(works, shipped(), "us") if line.layer)

    low, high = need("low"), need("high")
    assert high.median > low.median
    first, later = low.coats
    assert first.median / later.median == pytest.approx(
        shipped().materials["color-enhancer"].first_coat_factor.expected
    )


def test_a_film_takes_solids_thickness_fill_and_loss_into_account():
    works = make_works(a_floor(40, 25), shipped().finishes["epoxy-urethane-clear"], (), {}, shipped())
    line = next(line for line in lines_of(works, shipped(), "us") if line.layer == "build")
    epoxy = shipped().materials["epoxy-clear"]
    fill = works.profile_fill_mils.expected
    expected = (
        (1000 + works.mock_up_ft2)
        / 1604.167
        * (epoxy.dry_film_mils.expected / epoxy.volume_solids.expected + fill)
        * epoxy.first_coat_factor.expected
        / (1 - epoxy.loss.expected)
    )
    assert fill > 0
    assert line.median == pytest.approx(expected, rel=1e-5)


def test_a_material_that_does_not_fit_its_task_is_refused_by_name():
    item = shipped().work_items["mask"]
    broken = item.model_copy(update={"materials": shipped().work_items["wash"].materials})
    catalog = with_rows(shipped(), broken)
    works = make_works(a_floor(), catalog.finishes["acrylic-water"], (), {}, catalog)
    with pytest.raises(CatalogError, match='"mask" has extent "edge" but uses up "neutral-detergent"'):
        lines_of(works, catalog, "us")


def test_a_material_without_the_figure_of_its_basis_is_refused_by_name():
    broken = shipped().materials["acrylic-water"].model_copy(update={"dry_film_mils": None})
    catalog = with_rows(shipped(), broken)
    works = make_works(a_floor(), catalog.finishes["acrylic-water"], (), {}, catalog)
    with pytest.raises(CatalogError, match='"acrylic-water" is reckoned by film'):
        lines_of(works, catalog, "us")


def test_every_material_of_every_work_item_fits_its_task():
    floor = a_floor(outline={"steps": [{"count": 2, "width": "4ft", "tread": "12in", "riser": "7in"}]})
    for item in shipped().work_items:
        works = make_works(floor, shipped().finishes["bare"], [required(item)], {}, shipped())
        assert all(math.isfinite(line.median) for line in lines_of(works, shipped(), "us"))


def test_the_lines_printed_in_the_guide_can_be_redone():
    guide = (Path(__file__).parents[2] / "docs" / "order.md").read_text(encoding="utf-8")
    lines = [line.strip() for line in guide.splitlines() if line.startswith("    (")]
    assert len(lines) == 2
    for line in lines:
        by_hand, printed = redo(line)
        assert by_hand == pytest.approx(printed, rel=3e-4), line


def test_what_is_counted_stands_in_the_plural_behind_any_number_but_one():
    workings = [line.working for line in an_order("polyaspartic-flake").floors[0].lines]
    number_and_unit = re.compile(r"([\d.,]+) (pairs?|pieces?|sets?|rolls?)\b(?!/)")
    counted = [found for line in workings for found in number_and_unit.findall(line)]
    assert len(counted) > 5
    assert all((number == "1") != unit.endswith("s") for number, unit in counted), counted
