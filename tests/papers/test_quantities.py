"""Quantities inside sentences: converted on metric papers, rounded as the sentence was, and left alone elsewhere."""

import re

import pytest

from finishadvisor.papers.quantities import in_job_units, in_units, said
from tests.papers.conftest import plain

US_UNIT = re.compile(
    r"\d ?(?:ft|feet|foot|inch|inches|gal|gallons?|mils?|°F|F|lbs?|pounds?|oz|psi|mph|perms?)(?![\w])"
    r"|\d in\b(?! (?:the|an?|each|this|\d))|\b(?:inch|inches|gallons?|pounds?|mils)\b|\d['\"]"
)
"""US units and the marks of feet and inches; feet without a number are those of persons."""
US_TIME = re.compile(r"\d [AP]M\b|\b[A-Z][a-z]{2} \d{1,2}, ")
METRIC_TIME = re.compile(r"\b\d{1,2} [A-Z][a-z]{2}(?:,| 20)|(?<![\d:])[012]\d:\d\d\b(?! ?[AP]M)")


@pytest.mark.parametrize(
    ("us", "metric"),
    [
        # 1 ft = 0.3048 m, 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 US gal = 3.785411784 L exactly (NIST HB 44, App. C)
        ("stand 8 ft or higher", "stand 2.4 m or higher"),
        ("a 2 x 2 ft square", "a 60 x 60 cm square"),
        ("over 15 ft", "over 4.5 m"),
        ("2 to 5 ft across", "0.6 to 1.5 m across"),
        ("averaged over 3 in, and", "averaged over 75 mm, and"),
        ("an 18 x 18 in sheet of 4 mil poly", "an 450 x 450 mm sheet of 100 µm poly"),
        ("40 to 60 lb", "18 to 27 kg"),
        ("every 100 ft²", "every 9.3 m²"),
        ("the first 1,000 ft²", "the first 93 m²"),
        ("12.5 ft", "3.8 m"),
        ("452.5 ft²", "42.04 m²"),
        ("1/4 in thick", "6.3 mm thick"),
        ("3 to 4 oz in each gallon", "85 to 115 g in each 3.8 L"),
        ("for each inch of slab", "for each 25 mm of slab"),
        ("a wet edge of a foot free", "a wet edge of 30 cm free"),
        ("under half a square foot", "under 460 cm²"),
        # 1 psi = 6894.757 Pa; 1 perm = 57.2135 ng/(Pa s m²) (NIST SP 811, App. B.8)
        ("less than 200 psi", "less than 1.4 MPa"),
        ("3,500 psi or more", "24 MPa or more"),
        ("0.1 perm or less", "5.7 ng/(Pa·s·m²) or less"),
        # 0.2 lb/ft² an hour is 1 kg/m² an hour in ACI 305R (from memory)
        ("above 0.2 lb/ft² an hour", "above 1 kg/m² an hour"),
        ("0.5 lb per ft²", "2.4 kg/m²"),
        ("3 lb per 1,000 ft² in 24 h", "15 g/m² in 24 h"),
        ("work out pounds per 1,000 ft² in 24 h", "work out g/m² in 24 h"),
        ("25 cubic feet per minute for each inch", "0.28 m³ per minute for each centimeter"),
        ("wind up to 12 mph", "wind up to 19 km/h"),
    ],
)
def test_a_quantity_is_converted_and_rounded_as_it_was(us, metric):
    assert in_units(us, "metric") == metric
    assert in_units(us, "us") == us


@pytest.mark.parametrize(
    ("us", "metric"),
    [
        ("hold 60 to 70 °F", "hold 16 to 21 °C"),
        ("between 50 and 85 °F", "between 10 and 29 °C"),
        ("60-70 F", "16-21 °C"),
        ("at -4 °F", "at -20 °C"),
        ("raise it by about 5 °F a day", "raise it by about 2.8 °C a day"),
        ("3 °F above the dew point; 5 °F is needed", "1.7 °C above the dew point; 2.8 °C is needed"),
        ("halved for each 18 °F warmer", "halved for each 10 °C warmer"),
        ("the slab warms by 2 °F an hour", "the slab warms by 1.1 °C an hour"),
    ],
)  # fmt: skip
def test_a_temperature_is_not_a_difference_of_temperatures(us, metric):
    assert in_units(us, "metric") == metric


@pytest.mark.parametrize(
    "text",
    [
        "cold cans in 24 h", "first in 8 in 10 cases", "2 in the field", "feet, water and furniture", "ASTM F2170",
        "CSP 2 to 3", "a* 16.9", "step 2 of 3", "at least 2 days", "99 % filter", "0.1 loss", "P100",
    ],
)  # fmt: skip
def test_what_is_no_us_quantity_stays(text):
    assert in_units(text, "metric") == text


def test_a_sentence_is_told_as_the_job_has_it():
    note = "Tack-free about Tue 2026-09-22 16:02 at 68 °F; from 07:30 on"
    assert said(note, "us") == "Tack-free about Tue Sep 22, 4:02 PM at 68 °F; from 7:30 AM on"
    assert said(note, "metric") == "Tack-free about Tue 22 Sep, 16:02 at 20 °C; from 07:30 on"


def test_a_job_in_us_units_is_the_same_job(example):
    assert in_job_units(example) is example


def test_names_numbers_and_ids_stay(metric_example):
    said = in_job_units(metric_example)
    for id_, material in metric_example.catalog.materials.items():
        assert said.catalog.materials[id_] == material
    assert [floor.floor for floor in said.floors] == [floor.floor for floor in metric_example.floors]
    assert [task.title for floor in said.floors for task in floor.works.tasks] == [
        task.title for floor in metric_example.floors for task in floor.works.tasks
    ]
    assert said.catalog.facts["slab_rh_pct"].how != metric_example.catalog.facts["slab_rh_pct"].how


@pytest.mark.parametrize("job", ["metric", "metric_example"])
def test_no_metric_paper_bears_a_us_unit(job, request, printed_job):
    names = [material.name for material in request.getfixturevalue(job).catalog.materials.values()]
    for paper in printed_job(job).values():
        text = paper.text
        for name in names:  # a product is sold under the size in its name
            text = text.replace(plain(name), "")
        assert not US_UNIT.findall(text), paper.paper.name
        assert not US_TIME.findall(text), paper.paper.name


def test_no_us_paper_bears_the_hours_of_the_other_kind(example_printed):
    for paper in example_printed.values():
        assert not METRIC_TIME.findall(paper.text), paper.paper.name


def test_no_sentence_of_the_catalog_keeps_a_us_unit(metric_example):
    """Every finish, not only those of the example: a sentence that no pattern reads is found here."""
    catalog = in_job_units(metric_example).catalog
    said = [row.sentence for row in (*catalog.cautions.values(), *catalog.outside_kinds.values())]
    said += [row.because for row in (*catalog.rules.values(), *catalog.cause_rules.values())]
    said += [text for row in catalog.facts.values() for text in (row.question, row.how)]
    said += [step for row in catalog.work_items.values() for step in row.steps]
    said += [text for row in catalog.causes.values() for text in (row.check, row.do)]
    for finish in catalog.finishes.values():
        said += [finish.look, finish.upkeep.touch_up, *finish.upkeep.care, *finish.goes_wrong, *finish.closes]
        said += finish.before_the_pour
    assert len(said) > 500
    assert [text for text in said if US_UNIT.search(text)] == []
