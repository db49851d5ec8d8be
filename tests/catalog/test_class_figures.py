"""Class-wide figures against the ranges that the trade gives. Common practice, no source; a data sheet always wins."""

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.supplies import CurePoint, Material

CATALOG = load_catalog()


def at_77(material_id: str) -> CurePoint:
    return next(point for point in CATALOG.materials[material_id].cure if point.slab_f == 77)


def material(material_id: str) -> Material:
    return CATALOG.materials[material_id]


@pytest.mark.parametrize(
    ("material_id", "least_h", "most_h"),
    [
        ("epoxy-clear", (8, 12), (24, 48)), ("epoxy-solid", (8, 12), (24, 48)),
        ("epoxy-water-primer", (8, 12), (24, 48)),
        ("moisture-barrier-epoxy", (8, 12), (24, 48)), ("urethane-clear", (6, 12), (24, 24)),
        ("urethane-solid", (6, 12), (24, 24)), ("urethane-water", (6, 12), (24, 24)),
        ("polyaspartic-clear", (1, 3), (12, 24)), ("polyaspartic-base", (1, 3), (12, 24)),
        ("polyaspartic-over-flake", (1, 3), (12, 24)), ("acrylic-solvent", (2, 4), None),
        ("acrylic-tinted", (2, 4), None),
    ],
)  # fmt: skip
def test_recoat_window_at_77_f(material_id: str, least_h: tuple[float, float], most_h: tuple[float, float] | None):
    point = at_77(material_id)
    assert least_h[0] <= point.recoat_min_h <= least_h[1]
    if most_h is None:
        assert point.recoat_max_h is None
    else:
        assert point.recoat_max_h is not None
        assert most_h[0] <= point.recoat_max_h <= most_h[1]


def test_water_borne_acrylic_has_an_end_of_its_window():
    assert at_77("acrylic-water").recoat_max_h is not None


@pytest.mark.parametrize(
    ("material_id", "foot_h", "vehicle_h"),
    [
        ("acrylic-solvent", (4, 12), (72, 72)), ("acrylic-water", (4, 12), (72, 72)),
        ("epoxy-clear", (24, 24), (72, 168)),
        ("urethane-clear", (24, 24), (72, 168)), ("polyaspartic-clear", (4, 6), (24, 24)),
    ],
)  # fmt: skip
def test_return_to_service_at_77_f(material_id: str, foot_h: tuple[float, float], vehicle_h: tuple[float, float]):
    point = at_77(material_id)
    assert foot_h[0] <= point.foot_h <= foot_h[1]
    assert point.vehicle_h is not None
    assert vehicle_h[0] <= point.vehicle_h <= vehicle_h[1]


@pytest.mark.parametrize(
    ("material_id", "pot_life_min"),
    [
        ("epoxy-clear", (20, 40)), ("epoxy-solid", (20, 40)), ("epoxy-water-primer", (60, 180)),
        ("urethane-clear", (60, 240)),
        ("polyaspartic-clear", (15, 30)), ("polyaspartic-base", (15, 30)),
    ],
)  # fmt: skip
def test_pot_life_at_77_f(material_id: str, pot_life_min: tuple[float, float]):
    pot_life = at_77(material_id).pot_life_min
    assert pot_life is not None
    assert pot_life_min[0] <= pot_life <= pot_life_min[1]


@pytest.mark.parametrize(
    ("material_id", "low_f", "high_f", "rh_pct"),
    [
        ("acrylic-water", 50, 90, (0, 85)), ("acrylic-solvent", 40, 90, (0, 85)), ("epoxy-clear", 55, 90, (0, 85)),
        ("urethane-clear", 50, 90, (30, 80)), ("polyaspartic-clear", 35, 95, (0, 85)),
        ("silane-siloxane", 40, 95, (0, 100)), ("densifier", 40, 95, (0, 100)),
    ],
)  # fmt: skip
def test_air_windows_by_class(material_id: str, low_f: float, high_f: float, rh_pct: tuple[float, float]):
    limits = material(material_id).limits
    assert limits is not None
    assert (limits.air_low_f, limits.air_high_f) == (low_f, high_f)
    assert (limits.slab_low_f, limits.slab_high_f) == (low_f, high_f)
    assert (limits.rh_low_pct, limits.rh_high_pct) == rh_pct


@pytest.mark.parametrize(
    ("material_id", "solids", "film_mils"),
    [
        ("acrylic-solvent", (0.15, 0.30), (1, 2)), ("acrylic-water", (0.18, 0.30), (1, 1.5)),
        ("epoxy-water-primer", (0.45, 0.60), (2.5, 4)), ("epoxy-clear", (0.97, 1.0), (8, 16)),
        ("urethane-clear", (0.50, 0.70), (2, 3)), ("polyaspartic-clear", (0.70, 1.0), (5, 12)),
    ],
)  # fmt: skip
def test_film_figures_stay_inside_their_class(
    material_id: str, solids: tuple[float, float], film_mils: tuple[float, float]
):
    row = material(material_id)
    assert row.volume_solids is not None and row.dry_film_mils is not None
    assert solids[0] <= row.volume_solids.low and row.volume_solids.high <= solids[1]
    assert film_mils[0] <= row.dry_film_mils.low and row.dry_film_mils.high <= film_mils[1]


def test_a_repellent_goes_furthest_on_a_troweled_slab():
    rates = material("silane-siloxane").spread_ft2_per_unit
    assert rates is not None
    assert (rates.low.low, rates.low.high) == (200, 300)
    assert (rates.medium.low, rates.medium.high) == (150, 200)
    assert (rates.high.low, rates.high.high) == (100, 150)


@pytest.mark.parametrize(
    ("material_id", "least_lb_per_ft2", "most_lb_per_ft2"),
    [("quartz-sand", 0.5, 1.0), ("flake", 0.12, 0.16), ("aluminum-oxide", 0.1, 0.3)],
)
def test_broadcast_amounts(material_id: str, least_lb_per_ft2: float, most_lb_per_ft2: float):
    weight = material(material_id).weight_lb_per_ft2
    assert weight is not None
    assert (weight.low, weight.high) == (least_lb_per_ft2, most_lb_per_ft2)


def test_anti_slip_bead_is_3_to_4_oz_per_gallon_of_a_thin_top_coat():
    weight = material("anti-slip-bead").weight_lb_per_ft2
    assert weight is not None
    assert weight.low == pytest.approx(3 / 16 / 300, rel=0.1)  # 3 oz a gallon at 300 ft²
    assert weight.high == pytest.approx(4 / 16 / 160, rel=0.1)  # 4 oz a gallon at 160 ft²


def test_a_top_coat_over_full_flake_covers_100_to_140_ft2_per_gal():
    rates = material("polyaspartic-over-flake").spread_ft2_per_unit
    assert rates is not None
    assert {(band.low, band.high) for band in (rates.low, rates.medium, rates.high)} == {(100, 140)}


def test_times_double_for_18_f_less_within_the_rounding_of_the_rows():
    for row in CATALOG.materials.values():
        by_temperature = {point.slab_f: point for point in row.cure}
        if {59, 77} <= set(by_temperature):
            for name in ("tack_free_h", "recoat_min_h", "foot_h"):
                ratio = getattr(by_temperature[59], name) / getattr(by_temperature[77], name)
                assert ratio == pytest.approx(2, rel=0.05), (row.id, name)


def test_the_second_lot_risk_is_between_1_and_2_pct_and_5_pct_for_clears():
    assert 0.01 <= CATALOG.limits["short-risk-one-lot"].value <= 0.02
    assert CATALOG.limits["short-risk"].value == 0.05
