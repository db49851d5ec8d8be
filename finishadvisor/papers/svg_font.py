"""The open font inside a picture of vectors, for where it is opened by itself."""

import base64
from functools import cache
from typing import Final

from finishadvisor.papers.look import look
from finishadvisor.papers.typeset import font_folder

FACES: Final = {400: "SourceSansPro-Regular.otf", 700: "SourceSansPro-Bold.otf"}


def with_font(svg: bytes) -> bytes:
    """Return an SVG that brings its font along: the words of one without it run into each other where it is missing.

    Args:
        svg: a picture with a style sheet, its words as text.
    """
    rules = "".join(
        f"@font-face{{font-family:'{look().type['family']}';font-weight:{weight};"
        f"src:url(data:font/otf;base64,{_in_base64(file)})}}"
        for weight, file in FACES.items()
        if weight == 400 or f"font-weight: {weight}".encode("ascii") in svg
    )
    return svg.replace(b"</style>", rules.encode("ascii") + b"</style>", 1)


@cache
def _in_base64(font_file: str) -> str:
    return base64.b64encode((font_folder() / font_file).read_bytes()).decode("ascii")
