"""The evenness report: what was measured, patch by patch, with causes, caveats and uncertainty."""

from dataclasses import replace

from finishadvisor.papers.evenness_photo import grade_words
from finishadvisor.papers.evenness_report import METHOD, SCALE_CAVEAT, evenness_report
from finishadvisor.papers.wording import number_text, percent_text
from finishadvisor.records.evenness import Evenness, FloorEvenness
from finishadvisor.whole_job.photos import SENTENCES
from tests.papers.conftest import plain, squeezed

NAME = "glaze-room-evenness-report.pdf"


def test_figures_equal_the_record(example, example_printed):
    text = example_printed[NAME].text
    for photo in example.floors[0].evenness.photos:
        assert photo.photo in text
        assert grade_words(photo.grade) in text
        for limit in ("2", "3", "5"):
            assert percent_text(photo.share_over[limit]) in text
        assert number_text(photo.p95_de00) in text


def test_every_patch_stands_in_a_table(example, example_printed):
    text = example_printed[NAME].text
    patches = [patch for photo in example.floors[0].evenness.photos for patch in photo.patches]
    assert len(patches) >= 3
    for patch in patches:
        assert f"{patch.dL:+.1f} L*".replace("-", "−") in text
        assert f"{patch.de00:.1f}" in text
        assert SENTENCES[patch.kind] in text


def test_every_cause_has_its_check_and_what_follows(example, example_printed):
    text = squeezed(example_printed[NAME].text)
    causes = [cause for photo in example.floors[0].evenness.photos for cause in photo.causes]
    assert causes
    for cause in causes:
        assert squeezed(example.catalog.causes[cause.cause].name[1:]) in text
        assert squeezed(cause.check) in text
        assert squeezed(cause.do) in text


def test_method_uncertainty_and_the_caveat_of_the_scales_are_told(example_printed):
    text = example_printed[NAME].text
    assert METHOD in text
    assert SCALE_CAVEAT in text
    assert "one sigma" in text


def test_every_caveat_is_told(example, example_printed):
    text = example_printed[NAME].text
    for photo in example.floors[0].evenness.photos:
        for caveat in photo.caveats:
            assert SENTENCES[caveat] in text


def test_each_photo_comes_with_its_marks_and_its_map(example):
    sheet = evenness_report(example, example.floors[0], SENTENCES)
    assert {"photo-1.jpg", "photo-2.jpg", "map-1.svg", "map-2.svg"} <= set(sheet.pictures)


def test_a_refused_photo_says_why(example):
    refused = Evenness(photo="dark.jpg", refused=("too-dark", "blurred"))
    outcome = replace(
        example.floors[0], evenness=FloorEvenness(floor="Glaze room", photos=(refused,)), measurements=()
    )  # fmt: skip
    sheet = evenness_report(example, outcome, SENTENCES)
    told = plain(str(sheet.blocks))
    assert SENTENCES["too-dark"] in told
    assert SENTENCES["blurred"] in told
    assert sheet.answer == "No photo could be measured; the reasons stand below."
    assert sheet.pdf("us").startswith(b"%PDF")


def test_a_missing_photo_file_is_no_obstacle(example, tmp_path):
    sheet = evenness_report(replace(example, folder=tmp_path), example.floors[0], SENTENCES)
    assert "photo-1.jpg" not in sheet.pictures
    assert sheet.pdf("metric").startswith(b"%PDF")


def test_no_report_without_photos(metric):
    assert evenness_report(metric, metric.floors[0], SENTENCES) is None


def test_what_was_compared_and_what_is_open_is_told(example, example_printed):
    text = squeezed(example_printed[NAME].text)
    (step,) = example.floors[0].evenness.compared.load_steps
    assert step.found
    assert squeezed(f'The shade steps where "{step.load}" ends') in text
    assert (
        squeezed(f"A slow change of {number_text(example.floors[0].evenness.photos[0].lighting.taken_as_light_L)}")
        in text
    )


def test_no_look_is_promised_where_no_finish_fits(none_fits):
    words = str(evenness_report(none_fits, none_fits.floors[0], SENTENCES).blocks)
    assert "once sealed" not in words
    assert METHOD in words
