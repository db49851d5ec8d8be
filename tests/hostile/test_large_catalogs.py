"""Many rules of the user's own: what is done for each of them does not grow with their number."""

import datetime
from collections.abc import Iterator
from pathlib import Path

import pytest

from finishadvisor.advice.verdict import judge
from finishadvisor.advice.why import explain
from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Catalog
from finishadvisor.errors import CatalogError
from finishadvisor.rules.check import check_conditions
from finishadvisor.whole_job.opened import open_for
from tests.hostile.odd_jobs import rules_text

ON = datetime.date(2026, 9, 21)


class Watched(tuple[str, ...]):
    """Counts how often its entries are looked at."""

    looked_at = 0

    def __iter__(self) -> Iterator[str]:
        for entry in super().__iter__():
            self.looked_at += 1
            yield entry


@pytest.fixture
def catalog(tmp_path: Path) -> Catalog:
    path = tmp_path / "many (mine).toml"
    path.write_text(rules_text(200), encoding="utf-8")
    catalog = load_catalog([path])
    return catalog.model_copy(update={"own_rows": Watched(catalog.own_rows)})


def test_the_check_looks_at_each_own_row_once(catalog: Catalog) -> None:
    check_conditions(catalog)
    assert 0 < catalog.own_rows.looked_at <= 2 * 200  # type: ignore[attr-defined]


def test_the_why_of_a_finish_looks_at_each_own_row_once(catalog: Catalog) -> None:
    facts = dict.fromkeys(catalog.facts)
    why = explain("f", judge(catalog.finishes["bare"], facts, catalog), facts, catalog)
    assert sum(tried.own for tried in why.tried) == 200
    assert 0 < catalog.own_rows.looked_at <= 2 * 200  # type: ignore[attr-defined]


def test_a_mistake_still_names_the_file_it_stands_in(tmp_path: Path) -> None:
    path = tmp_path / "many (mine).toml"
    path.write_text(rules_text(3).replace("at_least = 51", "at_leest = 51"), encoding="utf-8")
    with pytest.raises(CatalogError, match=r'many \(mine\)\.toml, rule "own-1".+at_least'):
        check_conditions(load_catalog([path]))


def test_two_thousand_rules_open_with_a_job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))
    (tmp_path / "own.toml").write_text(rules_text(2000), encoding="utf-8")
    text = 'name = "n"\n[own_files]\nrules = ["own.toml"]\n[[floor]]\nname = "f"\n'
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    assert len(open_for(tmp_path, ON).catalog.own_rows) == 2000
