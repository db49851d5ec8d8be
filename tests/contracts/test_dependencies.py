"""Every dependency has its reason in DEVELOPERS.md and its license in docs/licenses.md, which name no other package."""

import re
import tomllib
from importlib.metadata import packages_distributions
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


SERVES_WITHOUT_IMPORT = {
    "jinja2": "starlette fills templates with it",
    "python-multipart": "starlette reads forms with it",
    "tzdata": "time zones on Windows",
}


@pytest.mark.parametrize("package", sorted(set(PACKAGES) - set(SERVES_WITHOUT_IMPORT)))
def test_each_dependency_is_used(package: str) -> None:
    modules = [
        module
        for module, names in packages_distributions().items()
        if package in {name.replace("_", "-") for name in names}
    ]
    code = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "finishadvisor").rglob("*.py"))
    assert any(re.search(rf"(from|import) {module}\b|find_spec\(\"{module}\"", code) for module in modules)
