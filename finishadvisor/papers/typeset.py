"""A Typst template and plain data set into a PDF. Any warning of the typesetter is a failure."""

import importlib.util
import json
import re
import tempfile
from collections.abc import Mapping
from functools import cache
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, cast

from finishadvisor.errors import FinishAdvisorError
from finishadvisor.papers.look import look
from finishadvisor.papers.wording import plain_dates, tied

if TYPE_CHECKING:
    import typst

PAGES: Final = {"us": "us-letter", "metric": "a4"}
"""The page of a job by its units: Letter, or A4 where it is metric."""
NEARLY_EMPTY: Final = 0.25
"""A last page that ends above this share of its height is drawn in, where that saves it: our choice."""
TIGHTER: Final = (0.97, 0.94, 0.91)
"""Factors of type and spacing that are tried then; the smallest keeps the body above 9.5 points."""
_NO_LETTER: Final = re.compile(r'the text `"(.+?)"` could not be displayed')
"""As the typesetter says it of a sign that the font has no letter for."""
_FILE_NAMES: Final = {"picture", "names", "shade_maps", "kind"}
"""Keys whose values the template takes as they are."""


def font_folder() -> Path:
    """Return the folder of the open font that comes with the install.

    Raises:
        FinishAdvisorError: the font package is not installed.
    """
    found = importlib.util.find_spec("font_source_sans_pro")
    if found is None or not found.submodule_search_locations:
        raise FinishAdvisorError("The package font-source-sans-pro is missing. Install finishadvisor again.")
    return Path(found.submodule_search_locations[0]) / "files"


def typeset(
    template: str, data: Mapping[str, Any], *, units: str, pictures: Mapping[str, bytes] | None = None
) -> bytes:
    """Set one paper and return the PDF, tagged for readers of the screen (PDF/UA-1).

    Args:
        template: name of a template in papers/templates, without its ending.
        data: plain values, strings mostly; the template does no arithmetic on results.
        units: of the job, us or metric: its page, dates and hours.
        pictures: files that the template may name, by name.

    Raises:
        FinishAdvisorError: the typesetter failed or warned.
    """
    with tempfile.TemporaryDirectory(prefix="finishadvisor-") as folder_name:
        folder = Path(folder_name)
        for file in resources.files("finishadvisor.papers").joinpath("templates").iterdir():
            (folder / file.name).write_bytes(file.read_bytes())
        for name, content in (pictures or {}).items():
            (folder / name).write_bytes(content)
        printed = {key: _as_printed(value, units) for key, value in data.items()}
        first, end = _compiled(folder, template, printed, units, tight=1.0)
        if end["page"] == 1 or end["share"] > NEARLY_EMPTY:
            return first
        for tight in TIGHTER:
            fewer, closer = _compiled(folder, template, printed, units, tight=tight)
            if closer["page"] < end["page"]:
                return fewer
        return first


def _compiled(
    folder: Path, template: str, printed: Mapping[str, Any], units: str, *, tight: float
) -> tuple[bytes, dict[str, Any]]:
    """Set one paper with its type and spacing drawn in by a factor; return the PDF, and where on which page it ends.

    Raises:
        FinishAdvisorError: the typesetter failed or warned.
    """
    import typst

    style = {"type": look().type, "space": look().space, "color": look().color, "size": PAGES[units], "tight": tight}
    (folder / "data.json").write_text(json.dumps({"style": style, **printed}), encoding="utf-8")
    compiler = typst.Compiler(str(folder / f"{template}.typ"), root=str(folder), font_paths=fonts())
    try:
        pdf, warnings = compiler.compile_with_warnings(format="pdf", pdf_standards=["ua-1"])
        end = json.loads(compiler.query("<end>", field="value", one=True))
    except typst.TypstError as error:
        raise FinishAdvisorError(_not_set(template, str(error))) from error
    if warnings:
        raise FinishAdvisorError(f'The paper "{template}" was set with a warning: {warnings[0].message}')
    return cast("bytes", pdf), end


def _not_set(template: str, error: str) -> str:
    """Return the message for a paper that could not be set, with the mend where a sign has no letter in the font."""
    missing = _NO_LETTER.search(error)
    if missing is None:
        return f'The paper "{template}" could not be set: {error}'
    return (
        f'The paper "{template}" cannot show "{missing[1]}": the font that comes with the install has Latin, Greek and '
        "Cyrillic letters. Write the names and notes of the job in these."
    )


@cache
def fonts() -> "typst.Fonts":
    """Read the open font once; the fonts of the system are left aside, so that a paper is the same everywhere."""
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(font_folder())])


def _as_printed(value: Any, units: str) -> Any:
    """Return plain data with every text as it is printed: dates in words, numbers tied to their units."""
    if isinstance(value, str):
        return tied(plain_dates(value, units))
    if isinstance(value, Mapping):
        return {key: inner if key in _FILE_NAMES else _as_printed(inner, units) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_as_printed(inner, units) for inner in value]
    return value
