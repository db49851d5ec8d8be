"""Readers of jobs and of own rows: odd entries and damaged bytes end in a result or in one line."""

import copy
import json
import random
import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from finishadvisor.catalog.load import load_catalog
from finishadvisor.errors import CatalogError, FinishAdvisorError
from finishadvisor.rules.check import check_conditions
from finishadvisor.whole_job.opened import open_for
from finishadvisor.whole_job.work_through import work_through
from tests.hostile.command import run_line
from tests.hostile.damage import DAMAGES
from tests.hostile.kept_examples import examples
from tests.hostile.odd_jobs import ODD_VALUES, OWN_RULES, changed_job, full_text, places
from tests.hostile.one_reader import ON, SAVED, one_clear_line
from tests.hostile.readers import SOUND_ROWS


# --- job.toml --------------------------------------------------------------------------------------------------------
def test_the_job_that_is_made_odd_is_sound(full_job: Path) -> None:
    opened = open_for(full_job, ON)
    assert opened.job.prices
    assert opened.job.floors[0].used
    assert opened.job.floors[0].mock_ups
    assert opened.catalog.own_rows == ("rule no-flake-in-sun (own-rules.toml)",)


@pytest.mark.parametrize("start", range(0, 120, 60))
def test_odd_entries_open_or_are_answered(start: int, full_job: Path) -> None:
    opened = 0
    for number in range(start, start + 60):
        name, text = changed_job(number)
        (full_job / "job.toml").write_text(text, encoding="utf-8")
        try:
            open_for(full_job, ON)
            opened += 1
        except FinishAdvisorError as error:
            one_clear_line(error)
        except Exception as error:
            raise AssertionError(name) from error
    assert 3 < opened < 57


@pytest.mark.parametrize("start", range(1000, 1024, 12))
def test_odd_jobs_that_open_are_worked_through_to_order_and_plan(start: int, full_job: Path) -> None:
    for number in range(start, start + 12):
        name, text = changed_job(number)
        (full_job / "job.toml").write_text(text, encoding="utf-8")
        try:
            whole = work_through(full_job, ON)
            json.dumps([part.as_json() for part in (whole.advice, whole.order, whole.plan) if part], allow_nan=False)
        except FinishAdvisorError as error:
            one_clear_line(error)
        except Exception as error:
            raise AssertionError(name) from error


@pytest.mark.parametrize("file", sorted(SAVED.glob("job-*.toml")), ids=lambda path: path.name)
def test_jobs_kept_from_earlier_tries(file: Path, full_job: Path, capfd: pytest.CaptureFixture[str]) -> None:
    shutil.copyfile(file, full_job / "job.toml")
    for command in ("check", "order"):
        run_line(capfd, command, full_job, *(["--on", ON] if command != "check" else []))


def test_damaged_bytes_of_a_job_open_or_are_answered(full_job: Path) -> None:
    data = full_text().encode()
    for number in range(150):
        chance = random.Random(number)
        (full_job / "job.toml").write_bytes(chance.choice(DAMAGES[:-1])(bytearray(data), chance))
        try:
            open_for(full_job, ON)
        except FinishAdvisorError as error:
            one_clear_line(error)


# --- catalog overlays ------------------------------------------------------------------------------------------------
def load_own(path: Path) -> None:
    try:
        check_conditions(load_catalog([path]))
    except CatalogError as error:
        one_clear_line(error)


def test_odd_entries_of_own_rows_load_or_are_answered(tmp_path: Path) -> None:
    import tomlkit

    sound = tomlkit.parse(SOUND_ROWS.read_text(encoding="utf-8")).unwrap()
    every = places(sound)
    tried = 0
    for number in range(150):
        chance = random.Random(number)
        rows = copy.deepcopy(sound)
        place = chance.choice(every)
        holder: Any = rows
        for key in place[:-1]:
            holder = holder[key]
        holder[place[-1]] = chance.choice(ODD_VALUES)
        try:
            text = tomlkit.dumps(rows)
        except (ValueError, TypeError, AttributeError):
            continue
        path = tmp_path / f"own-{number}.toml"
        path.write_text(text, encoding="utf-8")
        try:
            load_own(path)
        except Exception as error:
            raise AssertionError(f"{number}: {place}") from error
        tried += 1
    assert tried > 100


@pytest.mark.parametrize("file", sorted(SAVED.glob("rows-*.toml")), ids=lambda path: path.name)
def test_own_rows_kept_from_earlier_tries(file: Path) -> None:
    load_own(file)


def test_damaged_bytes_of_own_rows_load_or_are_answered(tmp_path: Path) -> None:
    data = SOUND_ROWS.read_bytes()
    for number in range(120):
        chance = random.Random(number)
        path = tmp_path / f"own-{number}.toml"
        path.write_bytes(chance.choice(DAMAGES[:-1])(bytearray(data), chance))
        load_own(path)


CONDITIONS = st.recursive(
    st.dictionaries(
        st.sampled_from(["place", "slab_rh_pct", "heat_in_slab", "age_days", "nothing", "not", "any_of", ""]),
        st.sampled_from(["indoors", "", 3, -1.5, True, None])
        | st.lists(st.sampled_from(["indoors", "outdoors", 3]), max_size=3)
        | st.dictionaries(
            st.sampled_from(["below", "at_least", "above", "is"]), st.sampled_from([3, 80, "x", True]), max_size=3
        ),
        max_size=3,
    ),
    lambda inner: (
        st.builds(lambda a: {"not": a}, inner) | st.builds(lambda a: {"any_of": a}, st.lists(inner, max_size=3))
    ),
    max_leaves=6,
)


@examples(80)
@given(when=CONDITIONS)
@example(when={"any_of": []})
@example(when={"not": {}})
def test_any_condition_of_an_own_rule_loads_or_is_answered(when: dict[str, Any], tmp_path: Path) -> None:
    import tomlkit

    try:
        inline = tomlkit.inline_table()
        inline.update(when)
        text = OWN_RULES.replace(
            'when = { sun = ["full"], slab_rh_pct = { at_least = 60 } }', f"when = {inline.as_string()}"
        )
    except Exception:  # None and the like, which TOML has no form for
        return
    path = tmp_path / "own.toml"
    path.write_text(text, encoding="utf-8")
    load_own(path)
