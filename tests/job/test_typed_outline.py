"""An outline typed entry by entry: what is not touched stays to the letter, and what is touched is what was typed."""

import re
from pathlib import Path

import pytest

from finishadvisor.errors import ChangedMeanwhileError, JobError
from finishadvisor.job.folder import job_version, open_job
from finishadvisor.job.outline import area_ft2
from finishadvisor.job.typed_outline import (
    TypedJoint,
    TypedOutline,
    TypedPolygon,
    TypedRectangle,
    TypedSteps,
    draw_outline,
    outline_as_typed,
)

WRITTEN = """\
name = "Shop"  # a comment
[[floor]]
name = "Bay"

# how the bay lies
[floor.outline]
origin = "by the roller door"
polygons = [
    # the bay itself
    [[0, 0], ["24ft", 0], [24, 10], [8, 10], [8, 18], [0, 18]],
    # its recess
    [[24, 2], [26.5, 2], [26.5, 6], [24, 6]],  # measured twice
]
cut_outs = [[[10, 3], [12, 3], [12, 5], [10, 5]]]
edge = "80 ft"  # with the column

# the first rectangle
[[floor.outline.rectangle]]
corner = [0, 18]
x = "8 ft"  # to the wall
y = 4

# the second one
[[floor.outline.rectangle]]
corner = [0, "22ft"]
x = 8
y = 2.5

# the joints
[[floor.outline.joint]]
kind = "control"
start = [12, 0]
end = [12, 10]
width = "1/4in"
moving = false

[[floor.outline.steps]]
count = 2
width = "4 ft"
tread = "11in"
riser = "7in"

# and nothing else
[floor.answers]
place = "indoors"
"""
L_SHAPE = (("0", "0"), ("24ft", "0"), ("24ft", "10ft"), ("8 ft", "10ft"), ("8 ft", "18ft"), ("0", "18ft"))


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "job.toml").write_text(WRITTEN, encoding="utf-8")
    return tmp_path


def text_of(folder: Path) -> str:
    return (folder / "job.toml").read_text(encoding="utf-8")


def comments_of(text: str) -> list[str]:
    return sorted(re.findall(r"#.*", text))


def outline_of(folder: Path):
    return open_job(folder).job.floors[0].outline


def with_part(typed: TypedOutline, key: str, number: int, **changed) -> TypedOutline:
    parts = list(getattr(typed, key))
    parts[number] = parts[number].model_copy(update=changed)
    return typed.model_copy(update={key: tuple(parts)})


def test_an_outline_that_is_not_touched_stays_to_the_letter(folder):
    draw_outline(folder, "Bay", outline_as_typed(folder, "Bay"))
    assert text_of(folder) == WRITTEN


def test_the_same_length_in_other_words_is_no_change(folder):
    typed = with_part(outline_as_typed(folder, "Bay"), "rectangles", 0, x="8'", y="4ft")
    draw_outline(folder, "Bay", typed)
    assert text_of(folder) == WRITTEN


def test_one_corner_is_moved_and_nothing_else(folder):
    typed = outline_as_typed(folder, "Bay")
    recess = list(typed.polygons[1].corners)
    recess[2] = ("27ft 3in", "6")
    draw_outline(folder, "Bay", with_part(typed, "polygons", 1, corners=tuple(recess)))
    assert text_of(folder) == WRITTEN.replace("[26.5, 6]", '["27ft 3in", 6]')


def test_entries_of_every_part_are_changed_where_they_stand(folder):
    typed = outline_as_typed(folder, "Bay")
    typed = with_part(typed, "rectangles", 1, y="3ft")
    typed = with_part(typed, "joints", 0, end=("12", "8ft 6in"), moving="yes", depth="1in")
    typed = with_part(typed, "steps", 0, count="3")
    draw_outline(folder, "Bay", typed.model_copy(update={"edge": "", "x_direction": "along the wall"}))
    outline = outline_of(folder)
    assert outline.rectangles[1].y == 3
    assert outline.joints[0].end == (12, 8.5)
    assert outline.joints[0].moving is True
    assert outline.steps[0].count == 3
    assert outline.edge is None
    assert outline.x_direction == "along the wall"
    kept = [line for line in comments_of(WRITTEN) if line != "# with the column"]
    assert comments_of(text_of(folder)) == kept


def test_parts_are_taken_out_and_put_in(folder):
    typed = outline_as_typed(folder, "Bay")
    typed = typed.model_copy(update={
        "rectangles": (
            typed.rectangles[1].model_copy(update={"corner": ("0", "18ft")}),
            TypedRectangle(corner=("-2", "0"), x="2ft", y="3ft"),
        ),
        "polygons": (typed.polygons[0],),
        "cut_outs": (*typed.cut_outs, TypedPolygon(corners=(("1", "1"), ("2", "1"), ("2", "2")))),
        "joints": (*typed.joints, TypedJoint(kind="crack", start=("0", "5"), end=("8", "6"))),
        "steps": (),
    })  # fmt: skip
    draw_outline(folder, "Bay", typed)
    outline = outline_of(folder)
    assert [(each.corner, each.x, each.y) for each in outline.rectangles] == [((0, 18), 8, 2.5), ((-2, 0), 2, 3)]
    assert len(outline.polygons) == 1
    assert outline.cut_outs[1] == ((1, 1), (2, 1), (2, 2))
    assert [joint.kind for joint in outline.joints] == ["control", "crack"]
    assert outline.steps == ()
    kept = {"# how the bay lies", "# the second one", "# the joints", "# and nothing else"}
    assert kept <= set(comments_of(text_of(folder)))


def test_an_outline_from_nothing(tmp_path):
    before = 'name = "Shop"\n[[floor]]\nname = "Bay"\n\n# more\n[[floor.reading]]\n'
    (tmp_path / "job.toml").write_text(before + 'kind = "ph"\nvalue = 9\ndate = 2026-09-01\n', encoding="utf-8")
    typed = TypedOutline(
        polygons=(TypedPolygon(corners=L_SHAPE),),
        steps=(TypedSteps(count="2", width="4ft", tread="11in", riser="7in"),),
        origin="by the door",
    )
    draw_outline(tmp_path, "Bay", typed)
    assert area_ft2(outline_of(tmp_path)) == 24 * 10 + 8 * 8
    assert "# more" in text_of(tmp_path)
    draw_outline(tmp_path, "Bay", TypedOutline())
    assert outline_of(tmp_path) is None
    assert len(open_job(tmp_path).job.floors[0].readings) == 1


def test_an_outline_on_one_line_is_changed_on_that_line(tmp_path):
    (tmp_path / "job.toml").write_text(
        'name = "Shop"\nfloor = [{ name = "Bay", outline = { rectangle = [{ x = 9, y = 8 }] } }]\n', encoding="utf-8"
    )
    typed = outline_as_typed(tmp_path, "Bay")
    more = TypedRectangle(corner=("9", "0"), x="2ft", y="2ft")
    cut = TypedPolygon(corners=(("1", "1"), ("2", "1"), ("2", "2")))
    draw_outline(
        tmp_path, "Bay", typed.model_copy(update={"rectangles": (*typed.rectangles, more), "cut_outs": (cut,)})
    )
    assert area_ft2(outline_of(tmp_path)) == 72 + 4 - 0.5


def test_what_the_commands_refuse_is_refused_in_the_same_words(folder):
    crossed = (("0", "0"), ("10", "0"), ("0", "10"), ("10", "10"))
    typed = with_part(outline_as_typed(folder, "Bay"), "polygons", 0, corners=crossed)
    with pytest.raises(JobError, match="polygon 1 crosses or touches itself near x 5', y 5'"):
        draw_outline(folder, "Bay", typed)
    with pytest.raises(JobError, match="is not a length"):
        draw_outline(folder, "Bay", with_part(outline_as_typed(folder, "Bay"), "rectangles", 0, x="eight"))
    with pytest.raises(JobError, match="is missing"):
        draw_outline(folder, "Bay", with_part(outline_as_typed(folder, "Bay"), "rectangles", 0, x=""))
    assert text_of(folder) == WRITTEN


def test_a_polygon_of_too_few_corners_is_one_mistake_not_a_chain_of_them(folder):
    typed = with_part(outline_as_typed(folder, "Bay"), "polygons", 0, corners=(("0", "0"),))
    with pytest.raises(JobError) as refused:
        draw_outline(folder, "Bay", typed)
    assert len(refused.value.mistakes) == 1
    assert "too few entries (1); at least 3" in str(refused.value)


def test_an_outline_thought_out_for_an_older_job_is_not_written(folder):
    typed, version = outline_as_typed(folder, "Bay"), job_version(folder)
    (folder / "job.toml").write_text(WRITTEN + "\n", encoding="utf-8")
    with pytest.raises(ChangedMeanwhileError):
        draw_outline(folder, "Bay", typed, version)


def test_places_in_an_older_file_that_are_gone_become_new_parts(folder):
    typed = with_part(outline_as_typed(folder, "Bay"), "polygons", 1, was=7)
    draw_outline(folder, "Bay", typed)
    assert len(outline_of(folder).polygons) == 2
