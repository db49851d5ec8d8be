"""Dimension strings of a plan: corners and joints along each axis, then the whole side."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from finishadvisor.job.drawn import Outline
from finishadvisor.job.lengths import write_length
from finishadvisor.job.outline import floor_polygon
from finishadvisor.papers.figures import INK, QUIET, WHITE
from finishadvisor.papers.plan_drawing import SMALL_PT, Place, PlanDrawing
from finishadvisor.papers.vector import words_wide_pt

STRING_GAP_PT: Final = 18.7
"""From the outline to the first dimension string, and from string to string."""
MOST_STOPS: Final = 9
"""With more corners along a side than this, its string would be a thicket: only the whole side is given."""
_SLASH_PT: Final = 2.2
_CAPITAL: Final = 0.66
"""Height of a figure as a share of the size of the type."""


def draw_strings(drawing: PlanDrawing, outline: Outline, units: str) -> None:
    """Draw the strings: corners and joints along each axis, then the whole side."""
    x0, _, _, y1 = drawing.bounds
    gap = STRING_GAP_PT / drawing.scale
    stops_x, stops_y = (list(enumerate(_levels(stops), start=1)) for stops in _stops(outline, drawing.bounds))
    for level, stops in stops_x:
        for x in stops:
            drawing.run([(x, y1 + 0.3 * gap), (x, y1 + level * gap)], QUIET, 0.4)
    for level, stops in stops_y:
        for y in stops:
            drawing.run([(x0 - 0.3 * gap, y), (x0 - level * gap, y)], QUIET, 0.4)
    for level, stops in stops_x:
        y = y1 + level * gap
        for number, (low, high) in enumerate(pairwise(stops)):
            _dimension(drawing, (low, y), (high, y), _side_text(stops, number, units))
    for level, stops in stops_y:
        x = x0 - level * gap
        for number, (low, high) in enumerate(pairwise(stops)):
            _dimension(drawing, (x, low), (x, high), _side_text(stops, number, units))


def _side_text(stops: Sequence[float], number: int, units: str) -> str:
    """Return the length from one stop to the next; in a chain of meters the unit stands on the whole side only."""
    text = write_length(stops[number + 1] - stops[number], metric=units == "metric")
    return text.removesuffix(" m") if len(stops) > 2 else text


def _levels(stops: list[float]) -> Iterator[list[float]]:
    if 2 < len(stops) <= MOST_STOPS:
        yield stops
    yield [stops[0], stops[-1]]


def _stops(outline: Outline, bounds: tuple[float, float, float, float]) -> tuple[list[float], list[float]]:
    """Return the places along x and y that a dimension string measures from: corners of the outline, and joints."""
    polygon = floor_polygon(outline)
    parts = getattr(polygon, "geoms", [polygon])
    points = [point for part in parts for ring in (part.exterior, *part.interiors) for point in ring.coords]
    straight = [joint for joint in outline.joints if joint.kind != "crack"]
    xs = [x for x, _ in points] + [j.start[0] for j in straight if math.isclose(j.start[0], j.end[0], abs_tol=0.05)]
    ys = [y for _, y in points] + [j.start[1] for j in straight if math.isclose(j.start[1], j.end[1], abs_tol=0.05)]
    return _apart(xs, (bounds[2] - bounds[0]) / 200), _apart(ys, (bounds[3] - bounds[1]) / 200)


def _apart(places: Sequence[float], least: float) -> list[float]:
    kept: list[float] = []
    for place in sorted(places):
        if not kept or place - kept[-1] > max(least, 0.05):
            kept.append(place)
    return kept


def _dimension(drawing: PlanDrawing, start: Place, end: Place, words: str) -> None:
    """Draw one length: its line, a slash at either end, and its words."""
    drawing.run([start, end], QUIET, 0.6)
    for x, y in map(drawing.at, (start, end)):
        drawing.line([(x - _SLASH_PT, y + _SLASH_PT), (x + _SLASH_PT, y - _SLASH_PT)], INK, 0.9)
    (x0, y0), (x1, y1) = drawing.at(start), drawing.at(end)
    middle_x, middle_y = (x0 + x1) / 2, (y0 + y1) / 2
    wide, high = words_wide_pt(words, SMALL_PT), _CAPITAL * SMALL_PT
    upright, fits = start[0] == end[0], wide + 4 < abs(x1 - x0) + abs(y1 - y0)
    off = -3.0 if fits else 3.0 + high  # what does not fit between its slashes stands behind the line
    x, y = (middle_x + off, middle_y) if upright else (middle_x, middle_y + off)
    if not fits:
        left, top, *sides = (x - high, y - wide / 2, high, wide) if upright else (x - wide / 2, y - high, wide, high)
        drawing.box(left - 1, top - 1, sides[0] + 2, sides[1] + 2, WHITE)
    drawing.words(x, y, words, SMALL_PT, INK, side="middle", upright=upright)
