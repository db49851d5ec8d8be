"""Every dependency has its reason in DEVELOPERS.md and its license in docs/licenses.md, which name no other package."""

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
STATED = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
PACKAGES = sorted(re.split(r"[<>=;\[ ]", line)[0] for line in STATED)


def first_cells(path: str) -> list[str]:
    """The first cell of every table row of a page."""
    rows = (ROOT / path).read_text(encoding="utf-8").splitlines()
    return [row.split("|")[1].strip() for row in rows if row.startswith("| ")]


def test_the_licenses_are_those_of_the_dependencies() -> None:
    named = [cell.split(" (")[0] for cell in first_cells("docs/licenses.md")]
    assert sorted(set(named) - {"package", "---"}) == PACKAGES


@pytest.mark.parametrize("package", PACKAGES)
def test_each_dependency_has_its_reason(package: str) -> None:
    reasons = {name.strip() for cell in first_cells("DEVELOPERS.md") for name in cell.split(",")}
    assert package in reasons
