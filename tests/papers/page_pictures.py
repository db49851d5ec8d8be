"""The pages of a paper as pictures, to look at without a PDF reader."""

from typing import Any

import pytest
import typst

from finishadvisor.papers.typeset import typeset
from tests.papers.conftest import Printed

POINTS_PER_INCH = 72


def page_pictures(paper: Printed) -> list[bytes]:
    """Set a paper once more and return each of its pages as PNG, one pixel a point."""
    shown: dict[bytes, list[bytes]] = {}

    class Looking:
        """The typesetter; it keeps the pages of each PDF that it makes, as a paper may be set more than once."""

        def __init__(self, *files: Any, **options: Any) -> None:
            self.true = compiler(*files, **options)
            self.query = self.true.query

        def compile_with_warnings(self, **options: Any) -> tuple[bytes, list[Any]]:
            pdf, warnings = self.true.compile_with_warnings(**options)
            pages = self.true.compile(format="png", ppi=POINTS_PER_INCH)
            shown[pdf] = [pages] if isinstance(pages, bytes) else list(pages)
            return pdf, warnings

    compiler = typst.Compiler
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(typst, "Compiler", Looking)
        pdf = typeset(paper.template, paper.data, units=paper.units, pictures=paper.pictures)
    return shown[pdf]
