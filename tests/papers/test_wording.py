"""How numbers, dates and long words are put on paper."""

import datetime

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.papers.wording import (
    area_text,
    counted,
    hours_text,
    percent_text,
    plain_dates,
    quantity_text,
    sentence,
    sides_text,
    stability_words,
    tied,
)

NBSP = "\N{NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("452 ft² in 2 days", f"452{NBSP}ft² in 2{NBSP}days"),
        ("60 to 70 °F", f"60 to 70{NBSP}°F"),
        ("9.4 mils, 1.06 gal", f"9.4{NBSP}mils, 1.06{NBSP}gal"),
        ("4 x 4 ft", f"4{NBSP}x{NBSP}4{NBSP}ft"),
        ("1,604 ft²/gal", f"1,604{NBSP}ft²/gal"),
        ("Mon Sep 21, 7:00 AM", f"Mon Sep{NBSP}21, 7:00{NBSP}AM"),
        ("3 inches", "3 inches"),
        ("10 minutes", f"10{NBSP}minutes"),
    ],
)
def test_numbers_stay_with_their_units(text, shown):
    assert tied(text) == shown


def test_words_of_the_trade_are_never_broken_but_endless_ones_are():
    assert "\N{ZERO WIDTH SPACE}" not in tied("polyaspartic silane/siloxane semi-rigid efflorescence")
    long = tied("W" * 80)
    assert max(len(part) for part in long.split("\N{ZERO WIDTH SPACE}")) <= 10
    assert long.replace("\N{ZERO WIDTH SPACE}", "") == "W" * 80


def test_every_unit_that_is_counted_has_a_plural():
    counted_units = {material.unit for material in load_catalog(()).materials.values()} - {"gal", "lb", "ft"}
    assert len(counted_units) > 4
    assert [unit for unit in counted_units if quantity_text(2, unit, "us") != f"2 {unit}s"] == []


@pytest.mark.parametrize(
    ("area_ft2", "us", "metric"),
    [
        (0.42, "0.4 ft²", "0.04 m²"),
        (9.5, "9.5 ft²", "0.88 m²"),
        (10, "10 ft²", "0.9 m²"),
        (640.2, "640 ft²", "59.5 m²"),
    ],
)
def test_small_areas_are_not_rounded_to_nothing(area_ft2, us, metric):
    assert (area_text(area_ft2, "us"), area_text(area_ft2, "metric")) == (us, metric)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("hold until 2026-09-25, when dry", "hold until Fri Sep 25, 2026, when dry"),
        ("Tack-free about Tue 2026-09-22 16:02; keep", "Tack-free about Tue Sep 22, 4:02 PM; keep"),
        ("lot 2026-13-40", "lot 2026-13-40"),
        ("07:45 to 08:30: wash", "7:45 AM to 8:30 AM: wash"),
        ("08:30:15 stays, and 3:08:30 too", "08:30:15 stays, and 3:08:30 too"),
    ],
)
def test_dates_are_told_as_a_person_says_them(text, shown):
    assert plain_dates(text) == shown
    assert datetime.date(2026, 9, 25).strftime("%a") == "Fri"


def test_shares_times_counts_and_sentences():
    assert percent_text(0.0) == "0 %"
    assert percent_text(0.004) == "below 1 %"
    assert percent_text(0.0334, 1) == "3.3 %"
    assert hours_text(0.75) == "45 min"
    assert hours_text(6) == "6 h"
    assert hours_text(72) == "3 days"
    assert counted(1, "floor") == "1 floor"
    assert counted(2000, "piece") == "2,000 pieces"
    assert sentence(" wait two days ") == "Wait two days."
    assert sentence("Ready?") == "Ready?"


def test_things_take_an_s_and_units_do_not():
    assert quantity_text(2, "pair", "us") == "2 pairs"
    assert quantity_text(1, "pair", "us") == "1 pair"
    assert quantity_text(2, "gal", "us") == "2 gal"


@pytest.mark.parametrize(
    ("share", "often", "close"),
    [
        (1.0, "first in every case tried.", False),
        (0.97, "first in almost every case.", False),
        (0.84, "first in about 8 of 10 cases.", False),
        (0.66, "first in about 7 of 10 cases.", False),
        (0.64, "first in about 6 of 10 cases.", True),
        (0.02, "first in hardly any case.", True),
    ],
)
def test_how_far_to_rely_on_the_first_place(share, often, close):
    told = stability_words(share)
    assert often in told
    assert told.endswith("look at the second choice too.") == close


@pytest.mark.parametrize(
    ("width_ft", "length_ft", "us", "metric"),
    [
        (0.8, 1.99, "10 in × 24 in", "24 cm × 61 cm"),
        (3.0, 1.7, "36 in × 20 in", "91 cm × 52 cm"),
        (0.2, 30, "2 in × 30 ft", "6 cm × 9.14 m"),
        (2.0, 5.5, "2 ft × 5.5 ft", "0.61 m × 1.68 m"),
    ],
)
def test_the_sides_of_a_patch_are_told_as_read_off_a_tape(width_ft, length_ft, us, metric):
    assert sides_text(width_ft, length_ft, "us") == us
    assert sides_text(width_ft, length_ft, "metric") == metric
