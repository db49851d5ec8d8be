"""What a person types on the command line, and what is told when it cannot be taken."""

import datetime
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from finishadvisor.__main__ import main as from_the_script
from finishadvisor.catalog.load import load_catalog
from finishadvisor.cli.main import cli, main
from finishadvisor.cli.marks import read_cell_in, read_corners, read_size
from finishadvisor.cli.new import ask, matching
from finishadvisor.errors import JobError, UsageError
from finishadvisor.whole_job.changes import begin_job
from finishadvisor.whole_job.named import finish_named, floor_named, material_named
from finishadvisor.whole_job.typed_use import read_amount

SLAB = """
name = "House"
units = "{units}"
[[floor]]
name = "Bay"
[floor.outline]
rectangle = [{{ x = "20 ft", y = "10 ft" }}]
[floor.answers]
place = "indoors"
use = "workshop"
"""
USED = ["--layer", "seal", "--material", "acrylic-water", "--on", "2026-09-21"]


@pytest.fixture
def house(tmp_path: Path) -> Path:
    (tmp_path / "job.toml").write_text(SLAB.format(units="us"), encoding="utf-8")
    return tmp_path


def refused(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: object) -> str:
    """Run the command line, and return the one line that it ends with."""
    monkeypatch.setattr(sys, "argv", ["finishadvisor", *map(str, words)])
    with pytest.raises(SystemExit) as left:
        main()
    lines = capsys.readouterr().err.splitlines()
    assert left.value.code == 2
    assert len(lines) == 1
    return lines[0]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["advice"], 'no command "advice". Did you mean "advise"? See: finishadvisor --help'),
        (["advise"], "Missing argument 'JOB'. See: finishadvisor advise --help"),
        (["advise", "a", "b"], "into quotes. See: finishadvisor advise --help"),
        (["done", "a", "--task", "wash", "--time", "25:00"], '"14:30" or "2:30 PM"'),
    ],
)
def test_a_wrong_call_says_where_help_is(words, told, monkeypatch, capsys):
    assert told in refused(monkeypatch, capsys, *words)


def test_ctrl_c_while_the_command_is_loaded_ends_in_one_line(monkeypatch):
    def interrupted() -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("finishadvisor.cli.main.main", interrupted)
    with pytest.raises(SystemExit) as left:
        from_the_script()
    assert left.value.code == "Stopped. What was finished before is kept."


def test_check_tells_one_mistake_once_and_lists_several(house):
    job = house / "job.toml"
    good = job.read_text(encoding="utf-8")
    job.write_text(good.replace("units", "unit"), encoding="utf-8")
    one = CliRunner().invoke(cli, ["check", str(house)])
    assert isinstance(one.exception, JobError) and one.output == ""
    job.write_text(good.replace("units", "unit").replace("[[floor]]", "crew = 0\n[[floor]]"), encoding="utf-8")
    two = CliRunner().invoke(cli, ["check", str(house)])
    assert len(two.output.splitlines()) == 2
    assert "2 mistakes, all listed above" in str(two.exception)


def test_a_floor_may_be_left_out_where_there_is_one(house):
    assert floor_named(house, None) == "Bay"
    assert floor_named(house, " bay ") == "Bay"
    with pytest.raises(JobError, match='no floor "Hall" in this job; it has "Bay"'):
        floor_named(house, "Hall")
    text = SLAB.format(units="us") + '[[floor]]\nname = "Hall"\n'
    (house / "job.toml").write_text(text, encoding="utf-8")
    with pytest.raises(UsageError, match='say which with --floor: "Bay", "Hall"'):
        floor_named(house, None)


def test_finishes_and_materials_go_by_id_or_name():
    catalog = load_catalog(())
    assert finish_named("Clear polyaspartic", catalog) == finish_named("polyaspartic-clear", catalog)
    assert material_named("CLEAR POLYASPARTIC", catalog) == "polyaspartic-clear"
    with pytest.raises(JobError, match='Did you mean "densified"'):
        finish_named("densifed", catalog)


@pytest.mark.parametrize(
    ("typed", "unit", "units", "kept"),
    [
        ("490", "ft²", "us", 490),
        ("1,200 sq ft", "ft²", "us", 1200),
        ("46.4515200 m2", "ft²", "us", 500),
        ("46.4515200", "ft²", "metric", 500),
        ("3.5 gal", "gal", "metric", 3.5),
        ("3.785411784 L", "gal", "us", 1),
        ("45.359237 kg", "lb", "us", 100),
        ("3 pieces", "piece", "us", 3),
    ],
)
def test_amounts_are_read_with_or_without_their_unit(typed, unit, units, kept):
    # 1 ft = 0.3048 m, 1 US gal = 231 in³ = 3.785411784 L, 1 lb = 0.45359237 kg, all exact
    assert read_amount("--amount", typed, unit, units) == pytest.approx(kept, rel=1e-12)


@pytest.mark.parametrize("typed", ["seven", "", "-3", "7 lb", "3 L 2", "1,2", "nan", "inf", "gal"])
def test_what_is_no_amount_is_refused_with_an_example(typed):
    with pytest.raises(UsageError, match=r"12\.5 gal or 12\.5 L"):
        read_amount("--amount", typed, "gal", "us")


def test_use_is_kept_in_the_files_units_and_told_in_the_jobs(house):
    (house / "job.toml").write_text(SLAB.format(units="metric"), encoding="utf-8")
    words = ["used", str(house), "--area", "18.6", "--amount", "2", *USED]
    told = CliRunner().invoke(cli, words, catch_exceptions=False).output
    assert told.startswith("Written: 2 L of Clear acrylic sealer, water-borne (acrylic-water) for seal on 18.6 m²")
    assert "used = 0.528" in (house / "job.toml").read_text(encoding="utf-8")


def test_a_layer_that_the_material_does_not_go_into_is_refused(house):
    before = (house / "job.toml").read_bytes()
    words = ["used", str(house), "--area", "200", "--amount", "1", *USED[2:], "--layer", "sealer"]
    result = CliRunner().invoke(cli, words)
    assert str(result.exception) == '"sealer" is not a layer that acrylic-water goes into; write one of: seal.'
    assert (house / "job.toml").read_bytes() == before


def test_the_first_letters_of_an_answer_will_do(monkeypatch):
    place = load_catalog(()).facts["place"]
    typed = iter(["outdor", "out"])
    said = []
    monkeypatch.setattr(click, "prompt", lambda *_args, **_more: next(typed))
    monkeypatch.setattr(click, "echo", said.append)
    assert ask(place) == "outdoors"
    assert said == ['"outdor" is not one of the answers. Did you mean "outdoors"? Press Enter if you do not know.']
    assert matching("wa", ("warehouse", "wash-bay", "walk")) == ("warehouse", "wash-bay", "walk")
    assert matching("walk", ("walk", "walkway")) == ("walk",)
    assert matching("Wash bay", ("warehouse", "wash-bay")) == ("wash-bay",)


def test_a_place_or_a_name_that_will_not_do_is_refused_before_anything_is_asked(tmp_path):
    begin_job(tmp_path / "house", "House", {})
    (tmp_path / "note.txt").write_text("call the plant", encoding="utf-8")
    for words, told in (
        (["house"], "There is a job in"),
        (["note.txt"], "is a file. Name a folder"),
        (["shed", "--name", "s" * 81], "a name has at most 80"),
    ):
        result = CliRunner().invoke(cli, ["new", str(tmp_path / words[0]), *words[1:]])
        assert result.output == ""
        assert told in str(result.exception)
    assert not (tmp_path / "shed").exists()


def test_a_task_that_is_recorded_already_gets_the_new_day(house):
    text = (house / "job.toml").read_text(encoding="utf-8")
    done = '[[floor.done]]\ntask = "test-slab-rh"\ndate = 2026-09-20\n'
    (house / "job.toml").write_text(text + done, encoding="utf-8")
    words = ["done", str(house), "--task", "test-slab-rh", "--on", "2026-09-21"]
    CliRunner().invoke(cli, words, catch_exceptions=False)
    after = (house / "job.toml").read_text(encoding="utf-8")
    assert "date = 2026-09-21" in after
    assert after.count("[[floor.done]]") == 1


def test_pixels_and_sizes_are_read_as_people_write_them():
    assert read_corners("1, 2 3,4 5,  6 7,8") == ((1, 2), (3, 4), (5, 6), (7, 8))
    assert read_size("20' 6\" by 15'") == (20.5, 15)
    assert read_size("6,1 m x 4,5 m") == pytest.approx((6.1 / 0.3048, 4.5 / 0.3048))
    assert read_cell_in("25.4 mm") == pytest.approx(1)
    with pytest.raises(UsageError, match="has no unit"):
        read_cell_in("1")


def test_a_day_and_an_hour_as_the_trade_writes_it_are_recorded(house):
    words = ["done", str(house), "--task", "wash", "--time", "2:30 PM", "--on", "2026-09-21", "--and-before"]
    result = CliRunner().invoke(cli, words, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    assert f"time = {datetime.time(14, 30)}" in (house / "job.toml").read_text(encoding="utf-8")


def test_a_result_for_a_folder_that_is_not_there_is_refused_before_any_work(house):
    result = CliRunner().invoke(cli, ["advise", str(house), "--json", str(house / "nowhere" / "advice.json")])
    assert result.output == ""
    assert "There is no folder" in str(result.exception)
