"""Photos that must be refused, and sound ones that must not."""

import numpy as np
import pytest

from finishadvisor.demo.render import Camera
from finishadvisor.evenness.gate import judge_coverage, judge_days, judge_light
from finishadvisor.evenness.look import cell_in_for
from finishadvisor.evenness.measure import PhotoMarks, measure
from finishadvisor.evenness.words import Caveat, Refusal

from .conftest import falling_light, slab_lab


def answers(shot):
    found = shot.measured().evenness
    return found.refused, found.caveats, found.warnings


@pytest.mark.parametrize(
    ("exposure", "refusal"),
    [
        ({"gain": 0.06, "noise": 0.02}, "too-dark"),
        ({"gain": 9.0}, "blown-out"),
        ({"blur_px": 4.0}, "blurred"),
        ({"shake_px": 25, "blur_px": 1.2}, "blurred"),
    ],
)
def test_a_spoiled_photo_is_refused_with_how_to_retake_it(shoot, exposure, refusal) -> None:
    refused, caveats, warnings = answers(shoot(slab_lab(), **exposure))
    assert refused == (refusal,)
    assert caveats == ()
    assert len(warnings) == 1
    assert warnings[0].endswith(".")


@pytest.mark.parametrize(
    ("exposure", "refusal"),
    [({"blur_px": 0.7}, None), ({"blur_px": 4.0}, "blurred"), ({"shake_px": 25, "blur_px": 1.2}, "blurred")],
)
def test_blur_shows_on_ground_as_bright_as_the_slab_by_its_color(shoot, exposure, refusal) -> None:
    greener = (0.10, 0.30, 0.18)  # the mean of its codes is the slab's
    shot = shoot(slab_lab(lab=(50.0, 0.0, 0.0)), surroundings=greener, fall_off=0.0, **exposure)
    assert shot.picture[:20, :20].mean() == pytest.approx(shot.picture[440:460, 590:610].mean(), abs=4)
    refused, caveats, _ = answers(shot)
    assert refused == (None if refusal is None else (refusal,))
    assert caveats == ()


def test_a_tiny_photo_is_refused(shoot) -> None:
    camera = Camera((6, -5, 11), (6, 4.4), 100, 75, 26)
    assert answers(shoot(slab_lab(), camera=camera))[0] == ("too-few-pixels",)


def test_a_flat_view_bears_a_caveat_and_a_very_flat_one_is_refused(shoot) -> None:
    low = Camera((6, -9, 3.4), (6, 4), 1600, 1200, 24)
    assert "flat-view" in answers(shoot(slab_lab(), camera=low))[1]
    floor = Camera((6, -9, 0.7), (6, 4), 1600, 1200, 24)
    refused = answers(shoot(slab_lab(), camera=floor))[0]
    assert refused
    assert set(refused) <= {"view-too-flat", "too-few-pixels"}


@pytest.mark.parametrize("color", [(27, 0, 0), (40, 8, 12), (52, 6, 10), (68, 2, 8)])
@pytest.mark.parametrize("fall", [0.1, 1.0])
def test_a_sound_photo_bears_no_caveat(shoot, color, fall) -> None:
    lab = slab_lab(lab=color)
    refused, caveats, warnings = answers(shoot(lab, light=falling_light(lab, fall)))
    assert refused is None
    assert caveats == ()
    assert warnings == ()


def test_a_huge_slab_neither_takes_forever_nor_all_memory(shoot) -> None:
    shot = shoot(slab_lab())
    found = measure(shot.path, PhotoMarks(size_ft=(900, 700)), cell_in=12).evenness
    assert found.refused == ("too-few-pixels",)
    assert cell_in_for(1200) == 1
    assert cell_in_for(1201) == 3
    assert 630_000 * 144 / cell_in_for(630_000) ** 2 == pytest.approx(200_000)


def test_what_is_left_out_on_request_does_not_count_against_the_photo() -> None:
    assert judge_coverage({"left-out": 0.7}, 0.28)[0] == []
    assert judge_coverage({"object": 0.6}, 0.4)[0] == [Refusal.TOO_LITTLE_SLAB]
    assert judge_coverage({"object": 0.3}, 0.7)[1] == [Caveat.PARTLY_MEASURED, Caveat.OBJECTS_LEFT_OUT]


def test_age_wetting_and_steepness() -> None:
    assert judge_days(27, None) == [Caveat.YOUNG_SLAB]
    assert judge_days(28, 1) == [Caveat.WETTED_LATELY]
    assert judge_days(None, None) == []
    assert judge_light(np.exp(1.2)) == ([], [])
    assert judge_light(5.0)[1] == [Caveat.LIGHT_STEEP]
    assert judge_light(25.0)[0] == [Refusal.LIGHT_TOO_UNEVEN]
