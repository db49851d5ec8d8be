"""The evenness report over time: one page a place, only for what was photographed on several days."""

import base64
import io
import re
from dataclasses import replace
from datetime import timedelta
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from finishadvisor.papers.evenness_report import evenness_report
from finishadvisor.papers.over_time import change_sentence, over_time, places_over_time
from finishadvisor.papers.over_time_maps import DatedMap, over_time_maps
from finishadvisor.records.comparison import Comparison, ShadeChange
from finishadvisor.whole_job.photos import SENTENCES

SVG = "{http://www.w3.org/2000/svg}"
WEEKS = timedelta(days=28)
FADES = {"days": 28, "seen_ft2": 200.0, "changed_share": 0.12, "fading": True, "whole_slab_de00": None}


def seen_again(example, *, after=WEEKS, p95=None, compared=None, **marks):
    """Return the glaze room with its west photo taken once more as "again.jpg"."""
    outcome = example.floors[0]
    photo, measured = outcome.floor.photos[0], outcome.measurements[0]
    again = photo.model_copy(update={"file": "again.jpg", "taken": photo.taken + after, **marks})
    changed = {"photo": "again.jpg"} | ({} if p95 is None else {"p95_de00": p95})
    evenness = measured.evenness.model_copy(update=changed)
    photos, floor = outcome.evenness.photos, outcome.floor
    return replace(
        outcome,
        floor=floor.model_copy(update={"photos": (*floor.photos, again)}),
        measurements=(*outcome.measurements, replace(measured, evenness=evenness)),
        evenness=outcome.evenness.model_copy(update={"photos": (*photos, evenness), "compared": compared}),
    )


def files_of(places):
    return [[shot.photo.file for shot in shots] for shots in places]


def test_nothing_over_time_where_all_photos_are_of_one_day(example):
    for outcome in example.floors:
        assert over_time(outcome, example) == ([], {})
    assert "over time" not in str(evenness_report(example, example.floors[0], SENTENCES).blocks).lower()


def test_a_place_seen_on_two_days_has_a_page_with_maps_figures_and_ages(example):
    compared = Comparison(changes=(ShadeChange(before="glaze-room-west.jpg", after="again.jpg", **FADES),))
    outcome = seen_again(example, compared=compared)
    sheet = evenness_report(example, outcome, SENTENCES)
    assert "over-time-1-1.svg" in sheet.pictures
    start = next(n for n, block in enumerate(sheet.blocks) if block.get("words") == "Over time")
    assert sheet.blocks[start - 1]["kind"] == "new-page"
    page = sheet.blocks[start : start + 8]
    (table,) = [block for block in page if block["kind"] == "table"]
    assert [row[:3] for row in table["rows"]] == [
        ["Fri Sep 18, 2026", "53 days", "glaze-room-west.jpg"],
        ["Fri Oct 16, 2026", "81 days", "again.jpg"],
    ]
    sigma = outcome.evenness.photos[0].sigma
    assert all(row[5].endswith(f"± {sigma.p95_de00:.2f}") for row in table["rows"])
    assert any("marks are fading" in block.get("words", "") for block in page)
    assert "marks are fading" not in str(sheet.blocks[:start])  # told once
    assert "See the page over time." in str(sheet.blocks[:start])
    assert sheet.pdf("us").startswith(b"%PDF")


def test_a_kept_measurement_without_maps_still_has_its_figures(example):
    blocks, pictures = over_time(replace(seen_again(example), measurements=()), example)
    assert pictures == {}
    assert "81 days" in str(blocks)
    assert not [block for block in blocks if block["kind"] == "picture"]


@pytest.mark.parametrize(
    ("marks", "found"),
    [
        ({}, [["glaze-room-west.jpg", "again.jpg"]]),
        ({"origin_on_plan": (13, 18), "turned_deg": 180}, [["glaze-room-west.jpg", "again.jpg"]]),
        ({"origin_on_plan": (13, 0)}, [["glaze-room-east.jpg", "again.jpg"]]),
        ({"origin_on_plan": (40, 0)}, []),
        ({"shows": "after-preparation"}, []),
    ],
)
def test_only_photos_of_one_place_of_the_slab_are_set_side_by_side(example, marks, found):
    assert files_of(places_over_time(seen_again(example, **marks))) == found


def test_of_several_photos_of_one_day_one_is_taken(example):
    assert places_over_time(seen_again(example, after=timedelta(hours=2))) == []


def test_a_change_is_real_only_beyond_twice_its_uncertainty(example):
    first = example.floors[0].evenness.photos[0]
    beyond = 2 * 2**0.5 * first.sigma.p95_de00
    for by, word in ((0.9 * beyond, "no change can be told"), (1.1 * beyond, "become less even")):
        (shots,) = places_over_time(seen_again(example, p95=first.p95_de00 + by))
        assert word in change_sentence(*shots, "us")
    (shots,) = places_over_time(seen_again(example, p95=first.p95_de00))
    faded = change_sentence(shots[0], shots[1], "us")
    assert "28 days" in faded
    assert "no change can be told" in faded
    before = replace(shots[0], evenness=first.model_copy(update={"p95_de00": first.p95_de00 + 1.1 * beyond}))
    assert "become more even" in change_sentence(before, shots[1], "us")
    unknown = replace(shots[0], evenness=first.model_copy(update={"sigma": None}))
    assert "is not known" in change_sentence(unknown, shots[1], "us")


def images_of(picture):
    """Return the pictures in a drawing as arrays."""
    files = [image.get("href").partition(",")[2] for image in picture.iter(f"{SVG}image")]
    return [np.asarray(Image.open(io.BytesIO(base64.b64decode(file)))) for file in files]


@pytest.mark.parametrize(
    ("shares", "p95", "wanted"),
    [
        ((0.0,), 0.0, ["the marks stay"]),
        ((0.0,), 9.0, ["the change is slow, or small everywhere"]),
        ((0.3, 0.0), 9.0, ["30 % of the", "Between the other photos nothing changed"]),
        ((0.3,), 9.0, ["30 % of the"]),
    ],
)
def test_what_was_compared_place_by_place_never_contradicts_the_verdict(example, shares, p95, wanted):
    changes = [
        ShadeChange(before="glaze-room-west.jpg", after="again.jpg", **{**FADES, "changed_share": share})
        for share in shares
    ]
    first = example.floors[0].evenness.photos[0]
    outcome = seen_again(example, p95=first.p95_de00 + p95, compared=Comparison(changes=tuple(changes)))
    blocks, _ = over_time(outcome, example)
    told = [block["words"] for block in blocks if block["kind"] == "text"][1:]
    assert len(told) == len(wanted)
    assert all(words in one for words, one in zip(wanted, told, strict=True))


def test_the_typical_shade_is_told_of_photos_with_a_card_only(example):
    outcome = seen_again(example)
    lab = outcome.evenness.photos[0].typical_lab
    photos = [one.model_copy(update={"level": "assumed"}) if one.photo == "again.jpg" else one
              for one in outcome.evenness.photos]  # fmt: skip
    outcome = replace(outcome, evenness=outcome.evenness.model_copy(update={"photos": tuple(photos)}))
    (table,) = [block for block in over_time(outcome, example)[0] if block["kind"] == "table"]
    assert [row[-1] for row in table["rows"]] == [f"{lab[0]:.1f}", "–"]


def dated(example, **more):
    measured = example.floors[0].measurements[0]
    plain = {"shade": measured.shade, "patches": measured.evenness.patches, "turned_deg": 0, "day": "d", "age": "a"}
    return DatedMap(**{**plain, **more})


def test_many_days_fill_several_pictures_of_one_width(example):
    pictures = [ElementTree.fromstring(one) for one in over_time_maps([dated(example)] * 9)]
    assert [len(images_of(picture)) for picture in pictures] == [8 + 1, 1 + 1]  # each with its bar
    assert pictures[0].get("width") == pictures[1].get("width")


def quarter_turned(shade, patches):
    """Return a map and its patches as a photo shows them whose first side runs along the plan's second one."""

    def turned(cells):
        return np.swapaxes(cells, 0, 1)[::-1]

    outlines = [tuple((y, shade.width_ft - x) for x, y in patch.outline_ft) for patch in patches]
    return (
        replace(shade, lab=turned(shade.lab), de00=turned(shade.de00), used=turned(shade.used),
                width_ft=shade.length_ft, length_ft=shade.width_ft),
        tuple(patch.model_copy(update={"outline_ft": line}) for patch, line in zip(patches, outlines, strict=True)),
    )  # fmt: skip


def test_maps_lie_as_the_plan_does_however_the_photo_was_turned(example):
    measured = example.floors[0].measurements[0]
    shade, patches = measured.shade, measured.evenness.patches
    assert patches

    def drawn(deg):
        picture = ElementTree.fromstring(over_time_maps([DatedMap(shade, patches, deg, "d", "a")])[0])
        numbers = re.findall(r"[\d.]+", " ".join(path.get("d") for path in picture.iter(f"{SVG}path")))
        return images_of(picture)[0], np.array(numbers, float)

    cells, lines = drawn(0)
    for deg in (90, 180, 270):
        shade, patches = quarter_turned(shade, patches)
        turned_cells, turned_lines = drawn(deg)
        assert np.array_equal(turned_cells, cells), deg
        assert turned_lines == pytest.approx(lines, abs=0.02), deg
    assert drawn(0)[0].shape != cells.shape
