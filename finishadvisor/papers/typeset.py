"""A Typst template and plain data set into a PDF. Any warning of the typesetter is a failure."""

import importlib.util
import json
import tempfile
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Any, Literal

from finishadvisor.errors import FinishAdvisorError
from finishadvisor.papers.look import look

PaperSize = Literal["us-letter", "a4"]


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
    template: str, data: Mapping[str, Any], *, size: PaperSize, pictures: Mapping[str, bytes] | None = None
) -> bytes:
    """Set one paper and return the PDF.

    Args:
        template: name of a template in papers/templates, without its ending.
        data: plain values, strings mostly; the template does no arithmetic on results.
        size: paper size.
        pictures: files that the template may name, by name.

    Raises:
        FinishAdvisorError: the typesetter failed or warned.
    """
    import typst

    with tempfile.TemporaryDirectory(prefix="finishadvisor-") as folder_name:
        folder = Path(folder_name)
        for file in resources.files("finishadvisor.papers").joinpath("templates").iterdir():
            (folder / file.name).write_bytes(file.read_bytes())
        for name, content in (pictures or {}).items():
            (folder / name).write_bytes(content)
        style = {"type": look().type, "space": look().space, "color": look().color, "size": size}
        (folder / "data.json").write_text(json.dumps({"style": style, **data}), encoding="utf-8")
        try:
            pdf, warnings = typst.compile_with_warnings(
                str(folder / f"{template}.typ"),
                root=str(folder),
                font_paths=[str(font_folder())],
                ignore_system_fonts=True,
            )
        except typst.TypstError as error:
            raise FinishAdvisorError(f'The paper "{template}" could not be set: {error}') from error
    if warnings:
        raise FinishAdvisorError(f'The paper "{template}" was set with a warning: {warnings[0].message}')
    return bytes(pdf)
