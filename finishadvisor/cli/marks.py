"""Marks of a photo as they are typed on the command line."""

import math
import re
from typing import TYPE_CHECKING, Any, Final

import click

from finishadvisor.errors import FinishAdvisorError, UsageError
from finishadvisor.job.lengths import read_length_ft

if TYPE_CHECKING:
    from finishadvisor.whole_job.one_photo import PhotoMarks

Pixel = tuple[float, float]
KnownPoint = tuple[Pixel, tuple[float, float]]
"""A pixel and its place on the slab [ft]."""
Sheet = tuple[Pixel, float]
"""The pixel of a neutral card or sheet, and its reflectance."""


def read_pixel(text: str) -> Pixel:
    """Return one pixel from "x,y".

    Raises:
        UsageError: the text is not two numbers.
    """
    try:
        x, y = (float(part) for part in text.split(","))
        if not (math.isfinite(x) and math.isfinite(y)):
            raise ValueError
    except ValueError:
        raise UsageError(
            f'"{text}" is not a pixel. Write x,y with a comma between them, for example 120,840.'
        ) from None
    return x, y


def read_pixels(text: str) -> tuple[Pixel, ...]:
    """Return pixels from "x,y x,y ..."; a blank may stand behind a comma.

    Raises:
        UsageError: a word is not a pixel.
    """
    return tuple(read_pixel(word) for word in re.sub(r",\s+", ",", text).split())


def read_polygon(text: str) -> tuple[Pixel, ...]:
    """Return a polygon of at least three pixels from "x,y x,y x,y ...".

    Raises:
        UsageError: fewer than three pixels.
    """
    pixels = read_pixels(text)
    if len(pixels) < 3:
        raise UsageError(f'"{text}" has {len(pixels)} pixels; an area needs at least three, with blanks between them.')
    return pixels


def read_corners(text: str) -> tuple[Pixel, Pixel, Pixel, Pixel]:
    """Return the four corners from "x,y x,y x,y x,y".

    Raises:
        UsageError: not four pixels.
    """
    pixels = read_pixels(text)
    if len(pixels) != 4:
        raise UsageError(
            f"--corners has {len(pixels)} pixels; it needs four: the origin corner, along the first side, the opposite "
            "corner, along the second side."
        )
    return pixels[0], pixels[1], pixels[2], pixels[3]


def read_length(text: str) -> float:
    """Return a length in feet from what a person types.

    Raises:
        UsageError: the text is not a length above zero.
    """
    try:
        length_ft = read_length_ft(text)
    except (FinishAdvisorError, ValueError) as error:
        raise UsageError(str(error)) from None
    if length_ft <= 0:
        raise UsageError(f'The length "{text}" must be more than 0.')
    return length_ft


def read_cell_in(text: str) -> float:
    """Return the side of a cell in inches from what a person types.

    Raises:
        UsageError: the text is not a length above zero, or has no unit: 1 would be a foot.
    """
    if text.strip().replace(".", "", 1).isdigit():
        raise UsageError(f'--cell "{text}" has no unit. Write it, for example "1in" or "25 mm".')
    return read_length(text) * 12


def read_size(text: str) -> tuple[float, float]:
    """Return first side and second side in feet from "20ft x 15ft".

    Raises:
        UsageError: not two lengths.
    """
    sides = re.split(r"x|\bby\b", text.lower().replace("×", "x"))
    if len(sides) != 2:
        raise UsageError(
            f'--size "{text}" is not two lengths. Write first side x second side, for example "20ft x 15ft".'
        )
    return read_length(sides[0].strip()), read_length(sides[1].strip())


def read_points(text: str) -> tuple[KnownPoint, ...]:
    """Return known points from "x,y=Xft,Yft ...".

    Raises:
        UsageError: fewer than four points, or a word that is not one.
    """
    points = []
    for word in text.split():
        pixel, equals, place = word.partition("=")
        x_ft, comma, y_ft = place.partition(",")
        if not (equals and comma):
            raise UsageError(
                f'"{word}" is not a known point. Write x,y=Xft,Yft with no blank inside, like 120,840=20ft6in,0.'
            )
        points.append((read_pixel(pixel), (read_place(x_ft), read_place(y_ft))))
    if len(points) < 4:
        raise UsageError(f"--points has {len(points)} points; at least four are needed.")
    return tuple(points)


def read_place(text: str) -> float:
    """Return one coordinate on the slab in feet; zero and negative places are allowed."""
    sign = -1.0 if text.startswith("-") else 1.0
    bare = text.lstrip("+-")
    number = bare.rstrip("abcdefghijklmnopqrstuvwxyz'\" ")
    if number and number.strip("0.") == "":
        return 0.0
    return sign * read_length(bare)


def read_sheet(text: str) -> Sheet:
    """Return a neutral sheet from "x,y=0.85"; without a reflectance it is a gray card, 0.18.

    Raises:
        UsageError: the reflectance is not between 0 and 1.
    """
    pixel, equals, reflectance = text.partition("=")
    try:
        value = float(reflectance) if equals else 0.18
    except ValueError:
        value = 0.0
    if not 0 < value < 1:
        raise UsageError(
            f'"{text}": a reflectance lies between 0 and 1. Write x,y=0.18 for a gray card, x,y=0.85 for white paper.'
        )
    return read_pixel(pixel), value


def marks_from_options(options: dict[str, Any]) -> "PhotoMarks":
    """Return the photo's marks from the options of the evenness command.

    Raises:
        UsageError: corners and points are both given, or corners come without a size.
    """
    from finishadvisor.whole_job.one_photo import PhotoMarks

    corners, points, size = options["corners"], options["points"], options["size"]
    if corners and points:
        raise UsageError("Give --corners or --points, not both.")
    if corners and not size:
        raise UsageError('--corners needs --size, the lengths of the first and second side, for example "20ft x 15ft".')
    return PhotoMarks(
        corners=read_corners(corners) if corners else None,
        points=read_points(points) if points else (),
        size_ft=read_size(size) if size else None,
        sheets=tuple(read_sheet(text) for text in options["sheet"]),
        leave_out=tuple(read_polygon(text) for text in options["leave_out"]),
        wet=tuple(read_polygon(text) for text in options["wet"]),
    )


_OPTIONS: Final = (
    (
        "--corners",
        "PIXELS",
        'Corners of the slab, "x,y x,y x,y x,y": its origin corner, along the first side, the opposite corner, along '
        "the second side. Needs --size.",
    ),
    (
        "--points",
        "POINTS",
        'Instead: four or more points whose places on the slab are known, "x,y=Xft,Yft ..."; corners may be out of '
        "the frame.",
    ),
    ("--size", "SIZE", 'First side x second side: "20ft 6in x 15ft", "6.1 m x 4.6 m". Alone: the frame is the slab.'),
    (
        "--sheet",
        "PIXEL",
        'A neutral card or sheet and its reflectance, "x,y=0.85" for white paper; "x,y" for a gray card (0.18).',
    ),
    ("--leave-out", "PIXELS", 'An area that is not slab, "x,y x,y x,y ...".'),
    ("--wet", "PIXELS", 'An area that was wetted on purpose, "x,y x,y x,y ...".'),
)
_SEVERAL: Final = frozenset({"--sheet", "--leave-out", "--wet"})


def marks_options(command: Any) -> Any:
    """Add the options that mark a photo."""
    for name, metavar, help_ in reversed(_OPTIONS):
        several = name in _SEVERAL
        more = " May be given several times." if several else ""
        command = click.option(name, metavar=metavar, multiple=several, help=help_ + more)(command)
    return command
