"""The pages of docs/ that list the catalog are current, and lead to each other."""

import re
from pathlib import Path

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.pages import main, pages

DOCS = Path(__file__).parents[2] / "docs"
MADE = pages(load_catalog())


@pytest.mark.parametrize("name", sorted(MADE))
def test_a_page_is_current(name: str):
    written = (DOCS / name).read_text(encoding="utf-8")
    assert written == MADE[name], "make it anew: python -m finishadvisor.catalog.pages docs"


def test_every_citation_leads_to_a_source():
    headings = set(re.findall(r"^## (\S+)$", MADE["sources.md"], flags=re.MULTILINE))
    cited = {link for text in MADE.values() for link in re.findall(r"\(sources\.md#([^)]+)\)", text)}
    assert cited <= headings


def test_every_row_has_its_entry():
    catalog = load_catalog()
    for name, rows in (
        ("finishes.md", catalog.finishes),
        ("materials.md", catalog.materials),
        ("work.md", catalog.work_items),
        ("work.md", catalog.cautions),
        ("facts.md", catalog.facts),
        ("rules.md", catalog.rules),
        ("rules.md", catalog.cause_rules),
    ):
        assert [id_ for id_ in rows if f"`{id_}`" not in MADE[name]] == []


def test_the_example_of_a_rule_of_ones_own_can_be_used(tmp_path: Path):
    example = MADE["rules.md"].split("```toml\n")[1].split("```")[0]
    (tmp_path / "mine.toml").write_text(example, encoding="utf-8")
    assert load_catalog([tmp_path / "mine.toml"]).own_rows == ("rule no-epoxy-on-porch (mine.toml)",)


def test_the_pages_are_written_into_the_folder_that_is_named(tmp_path: Path):
    main(tmp_path)
    assert {path.name: path.read_text(encoding="utf-8") for path in tmp_path.iterdir()} == MADE
