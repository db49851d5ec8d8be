"""The user's rows replace shipped ones of the same id or join them, and it is said which are in force."""

import os
from pathlib import Path

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.errors import CatalogError

LIMIT = """
[[limit]]
id = "{id}"
value = {value}
unit = "share"
meaning = "Greatest chance of running short"
source = {{ id = "our-choice", reason = "We drive a long way." }}
"""


def own_file(folder: Path, name: str, *limits: tuple[str, float]) -> Path:
    path = folder / name
    path.write_text("".join(LIMIT.format(id=id_, value=value) for id_, value in limits), encoding="utf-8")
    return path


def test_a_known_id_replaces_the_row_and_a_new_one_joins(tmp_path: Path):
    shipped = load_catalog()
    own = load_catalog([own_file(tmp_path, "mine.toml", ("short-risk", 0.02), ("own-limit", 1))])
    assert own.limits["short-risk"].value == 0.02
    assert shipped.limits["short-risk"].value == 0.05
    assert set(own.limits) - set(shipped.limits) == {"own-limit"}
    assert own.own_rows == ("limit short-risk (mine.toml)", "limit own-limit (mine.toml)")
    assert shipped.own_rows == ()


def test_a_later_file_wins_and_only_rows_in_force_are_named(tmp_path: Path):
    first = own_file(tmp_path, "company.toml", ("short-risk", 0.02))
    second = own_file(tmp_path, "job.toml", ("short-risk", 0.03))
    assert load_catalog([first, second]).limits["short-risk"].value == 0.03
    assert load_catalog([first, second]).own_rows == ("limit short-risk (job.toml)",)
    assert load_catalog([second, first]).limits["short-risk"].value == 0.02


def test_a_file_named_twice_counts_once(tmp_path: Path):
    path = own_file(tmp_path, "mine.toml", ("own-limit", 1))
    assert load_catalog([path, path]).own_rows == ("limit own-limit (mine.toml)",)


def test_an_id_twice_in_one_file_is_refused(tmp_path: Path):
    path = own_file(tmp_path, "mine.toml", ("own-limit", 1), ("own-limit", 2))
    with pytest.raises(CatalogError, match=r'limit "own-limit" is repeated: mine.toml'):
        load_catalog([path])


def test_a_changed_file_is_read_again(tmp_path: Path):
    path = own_file(tmp_path, "mine.toml", ("short-risk", 0.02))
    assert load_catalog([path]).limits["short-risk"].value == 0.02
    own_file(tmp_path, "mine.toml", ("short-risk", 0.04))
    os.utime(path, ns=(1, 1))
    assert load_catalog([path]).limits["short-risk"].value == 0.04


def test_rules_about_causes_of_unevenness_go_apart(tmp_path: Path):
    rows = tmp_path / "causes.toml"
    rows.write_text(
        """
[[cause]]
id = "own-cause"
name = "spilled milk"
removable = true
check = "Smell it."
do = "Wash."
advice = "hold"
source = { id = "common-practice" }

[[rule]]
id = "own-cause-outdoors"
about = { cause = "own-cause" }
when = { place = "outdoors" }
effect = "favor"
because = "Cows pass"
source = { id = "common-practice" }
""",
        encoding="utf-8",
    )
    catalog = load_catalog([rows])
    assert "own-cause-outdoors" in catalog.cause_rules
    assert "own-cause-outdoors" not in catalog.rules


def test_the_users_finish_may_be_made_of_the_users_material():
    catalog = load_catalog([Path(__file__).parent / "sound" / "my-rows.toml"])
    assert catalog.own_rows[0] == "material sealer (my-rows.toml)"
    assert len(catalog.own_rows) == 8


def test_unchanged_files_give_the_same_catalog():
    assert load_catalog() is load_catalog()
