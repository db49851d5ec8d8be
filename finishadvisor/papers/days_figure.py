"""The days of a job drawn: air, slab and dew point over the hours, where a coat may be laid, and the coats' windows.

Nothing rests on color alone: the lines differ in weight and dash and bear their names, what is allowed is a band, rain
is hatched, a coat is solid and its recoat window a bracket.
"""

import datetime
import itertools
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.papers.charts import round_step
from finishadvisor.papers.figures import INK, QUIET, RULE, TEXT_PT, TITLE_PT, WHITE, WORK
from finishadvisor.papers.vector import HALF_FIGURE, Drawing, Side, fitting_pt, hatch, words_wide_pt
from finishadvisor.papers.wording import hour_text, moment_text
from finishadvisor.records.plan import AirHour, Plan, Step
from finishadvisor.units import celsius_from_fahrenheit

WIDE_PT: Final = 504.0
TITLE_HIGH_PT: Final = 30.0
AIR_HIGH_PT: Final = 140.0
GAP_PT: Final = 6.0
ROW_PT: Final = 19.0
DAYS_HIGH_PT: Final = 26.0
BETWEEN_PT: Final = 16.0
LEFT_PT, RIGHT_PT = 22.0, 456.0
"""Where the hours begin and end; degrees stand before, names of the lines behind."""
SMALL_PT: Final = TEXT_PT - 1
HOURS_NAMED: Final = {
    "us": {6: "6 AM", 12: "noon", 18: "6 PM"},
    "metric": {6: "06:00", 12: "12:00", 18: "18:00"},
}
HOUR: Final = datetime.timedelta(hours=1)
_BAND_OPACITY: Final = 0.13
_BAR_SHARE: Final = 0.02
"""Height of the bar under a band: an hour's band alone looks like a rule when it is printed in gray."""
LONGEST_LABEL: Final = 34
_DAYS_WITH_HOURS: Final = 5
_DAYS_NAMED: Final = 9
_LATE: Final = 0.7
"""Behind this share of the width a label stands before its mark."""
_MARGIN: Final = 0.14
"""Room over and under the lines, as a share of what they span."""
_MOST_DEGREES: Final = 6

Moment = datetime.datetime
Rows = Sequence[tuple[str, Sequence[Step]]]


@dataclass(frozen=True)
class _Hours:
    """The hours of one floor as they lie on the drawing."""

    air: Sequence[AirHour]

    @property
    def begin(self) -> Moment:
        return self.air[0].start

    @property
    def end(self) -> Moment:
        return self.air[-1].start + HOUR

    def share(self, moment: Moment) -> float:
        """Return which share of the hours lies before a moment; a day of daylight-saving change has its true length."""
        return (_utc(moment) - _utc(self.begin)) / (_utc(self.end) - _utc(self.begin))

    def x_pt(self, moment: Moment) -> float:
        """Return where a moment lies, one outside at the nearer end."""
        return LEFT_PT + min(max(self.share(moment), 0.0), 1.0) * (RIGHT_PT - LEFT_PT)

    def midnights(self) -> list[Moment]:
        return [hour.start for hour in self.air if hour.start.hour == 0]

    def runs(self, holds: Callable[[AirHour], bool]) -> Iterator[tuple[float, float]]:
        """Yield where spans of hours in which something holds begin and end [pt]."""
        for held, group in itertools.groupby(self.air, key=holds):
            span = list(group)
            if held:
                yield self.x_pt(span[0].start), self.x_pt(span[-1].start + HOUR)


def days_picture(plan: Plan, air: Mapping[str, Sequence[AirHour]], units: str = "us") -> bytes | None:
    """Return the days drawn as SVG, None where no floor has hours.

    Args:
        plan: the plan.
        air: hours by floor, `plan.air` or a part of it; a panel for each floor that has hours.
        units: us or metric, for the temperatures.
    """
    floors = [(name, _Hours(hours)) for name, hours in air.items() if len(hours) > 1]
    if not floors:
        return None
    rows = [_rows(plan, name, hours) for name, hours in floors]
    heights = [_high_pt(found) for found in rows]
    drawing = Drawing(WIDE_PT, sum(heights) + BETWEEN_PT * (len(floors) - 1))
    top = 0.0
    for (name, hours), found, high in zip(floors, rows, heights, strict=True):
        title = _title(plan, name, found, units)
        drawing.words(LEFT_PT, top + TITLE_PT, title, fitting_pt(title, TITLE_PT, WIDE_PT - LEFT_PT - 3), INK)
        _draw_air(drawing, top + TITLE_HIGH_PT, hours, units)
        _draw_coats(drawing, top + TITLE_HIGH_PT + AIR_HIGH_PT + GAP_PT, hours, found, units)
        top += high + BETWEEN_PT
    return drawing.svg()


def _high_pt(rows: Rows) -> float:
    return TITLE_HIGH_PT + AIR_HIGH_PT + GAP_PT + ROW_PT * max(1, len(rows)) + DAYS_HIGH_PT


# --- what is drawn ---------------------------------------------------------------------------------------------------


def _rows(plan: Plan, floor: str, hours: _Hours) -> list[tuple[str, list[Step]]]:
    """Return the coats that fall into the hours, a row each with the parts of one coat together."""
    rows: dict[str, list[Step]] = {}
    for step in plan.steps:
        if step.floor == floor and step.coat is not None and step.start < hours.end and step.end > hours.begin:
            rows.setdefault(_short(step), []).append(step)
    return list(rows.items())


def _short(step: Step) -> str:
    """Return a coat's name without the verb: "build", "seal, coat 2 of 2"."""
    return _cut(step.task.rsplit(": ", 1)[-1])


def _cut(name: str) -> str:
    return name if len(name) <= LONGEST_LABEL else f"{name[: LONGEST_LABEL - 1].rstrip()}…"


def _title(plan: Plan, name: str, rows: Rows, units: str) -> str:
    floor = _cut(name)
    if not plan.feasible and plan.back_in_service[name].foot is None:
        return f"{floor}: no days fit as it stands"
    if not rows:
        return f"{floor}: no coats in these days"
    first, last = rows[0][1][0], rows[-1][1][-1]
    if len(rows) == 1:
        return f"{floor}: {rows[0][0]} on {moment_text(first.start, units)}"
    return f"{floor}: first coat {moment_text(first.start, units)}, last coat {moment_text(last.start, units)}"


# --- air -------------------------------------------------------------------------------------------------------------


def _draw_air(drawing: Drawing, top: float, hours: _Hours, units: str) -> None:
    foot = top + AIR_HIGH_PT
    drawing.box(LEFT_PT, top, RIGHT_PT - LEFT_PT, AIR_HIGH_PT, WHITE)
    for begin, end in hours.runs(lambda hour: hour.allowed):
        drawing.box(begin, top, end - begin, AIR_HIGH_PT, WORK, opacity=_BAND_OPACITY)
        drawing.box(begin, foot - _BAR_SHARE * AIR_HIGH_PT, end - begin, _BAR_SHARE * AIR_HIGH_PT, WORK)
    _rule_midnights(drawing, hours, top, foot)
    _mark_rain(drawing, hours, top)
    _draw_lines(drawing, top, hours, units)
    _mark_forecast_end(drawing, hours, top)
    drawing.line([(LEFT_PT, top), (LEFT_PT, foot), (RIGHT_PT, foot)], RULE, 0.8)
    drawing.words(LEFT_PT - 5, top - 5, "°C" if units == "metric" else "°F", TEXT_PT, QUIET, side="end")
    said = "shaded, with a bar below: the air allows laying the coat that comes next"
    if not any(hour.allowed for hour in hours.air):
        said = "in none of these hours the air allows the coat that comes next"
    drawing.words(LEFT_PT, top - 5, said, SMALL_PT, QUIET)


def _draw_lines(drawing: Drawing, top: float, hours: _Hours, units: str) -> None:
    """Draw air, slab and dew point, each with its name behind its end, and the degrees before them."""
    shown = celsius_from_fahrenheit if units == "metric" else float
    lines: tuple[tuple[str, list[float], str, float, tuple[float, ...]], ...] = (
        ("air", [shown(hour.air_f) for hour in hours.air], INK, 0.9, ()),
        ("slab", [shown(hour.slab_f) for hour in hours.air], WORK, 2.2, ()),
        ("dew point", [shown(hour.dew_point_f) for hour in hours.air], QUIET, 1.2, (4.8, 2.4)),
    )
    least = min(min(course) for _, course, *_ in lines)
    most = max(max(course) for _, course, *_ in lines)
    margin = max(_MARGIN * (most - least), 0.5)
    per_degree = AIR_HIGH_PT / (most - least + 2 * margin)

    def y_pt(degrees: float) -> float:
        return top + (most + margin - degrees) * per_degree

    step = round_step(most - least + 2 * margin, _MOST_DEGREES)
    for degrees in (number * step for number in range(math.ceil((least - margin) / step), math.ceil(most / step) + 1)):
        if (y := y_pt(degrees)) > top + TEXT_PT:  # the unit stands at the top
            drawing.words(LEFT_PT - 4, y + HALF_FIGURE * TEXT_PT, f"{degrees:g}", TEXT_PT, QUIET, side="end")
    for _, course, color, wide, dash in lines:
        points = [(hours.x_pt(hour.start), y_pt(value)) for hour, value in zip(hours.air, course, strict=True)]
        drawing.line(points, color, wide, dash=dash)
    foot = top + AIR_HIGH_PT
    for name, course, color, *_ in sorted(lines, key=lambda line: line[1][-1]):
        foot = min(y_pt(course[-1]), foot)
        drawing.words(RIGHT_PT + 5, foot + HALF_FIGURE * TEXT_PT, name, TEXT_PT, color)
        foot -= 0.08 * AIR_HIGH_PT


def _mark_rain(drawing: Drawing, hours: _Hours, top: float) -> None:
    for number, (begin, end) in enumerate(hours.runs(lambda hour: hour.rain)):
        hatch(drawing, begin, top, end - begin, AIR_HIGH_PT)
        if number == 0:
            wide = words_wide_pt("rain", SMALL_PT)
            left = min(begin + 2, RIGHT_PT - wide - 3)
            drawing.box(left, top + 2, wide + 3, SMALL_PT + 3, WHITE)
            drawing.words(left + 1.5, top + 2.5 + SMALL_PT, "rain", SMALL_PT, INK)


def _mark_forecast_end(drawing: Drawing, hours: _Hours, top: float) -> None:
    """Draw a line where what is known ends and what is assumed begins."""
    turn = next(
        (after for before, after in itertools.pairwise(hours.air) if after.assumed and not before.assumed), None
    )
    if turn is not None:
        x, foot = hours.x_pt(turn.start), top + AIR_HIGH_PT
        drawing.line([(x, foot), (x, top)], INK, 0.8, dash=(0.8, 1.6))
        late = hours.share(turn.start) > _LATE
        side: Side = "end" if late else "start"
        drawing.words(x - 3 if late else x + 3, foot - 6, "forecast ends: mean day", SMALL_PT, QUIET, side=side)


# --- coats -----------------------------------------------------------------------------------------------------------


def _draw_coats(drawing: Drawing, top: float, hours: _Hours, rows: Rows, units: str) -> None:
    foot = top + ROW_PT * max(1, len(rows))
    drawing.box(LEFT_PT, top, RIGHT_PT - LEFT_PT, foot - top, WHITE)
    _rule_midnights(drawing, hours, top, foot)
    for number, (name, steps) in enumerate(rows):
        _draw_coat(drawing, top + (number + 0.5) * ROW_PT, hours, (name, steps), units)
    drawing.line([(LEFT_PT, foot), (RIGHT_PT, foot)], RULE, 0.8)
    _name_days(drawing, hours, foot, units)


def _draw_coat(drawing: Drawing, middle: float, hours: _Hours, row: tuple[str, Sequence[Step]], units: str) -> None:
    """Draw the parts of one coat, its recoat window, and its name behind them, or before them where the page ends."""
    name, steps = row
    window = next((step for step in steps if step.latest is not None and step.latest > step.end), None)
    after = max(step.end for step in steps)
    words = name
    if window is not None and window.latest is not None:
        _draw_bracket(drawing, middle, hours.x_pt(window.earliest), hours.x_pt(window.latest))
        after, words = max(after, window.latest), f"{name}, by {window.latest:%a} {hour_text(window.latest, units)}"
    for step in steps:
        begin, end, half = hours.x_pt(step.start), hours.x_pt(step.end), 0.31 * ROW_PT
        drawing.box(begin, middle - half, end - begin, 2 * half, WORK)
        around = [(begin, middle - half), (end, middle - half), (end, middle + half), (begin, middle + half)]
        drawing.line([*around, around[0]], INK, 0.8)
    wide = words_wide_pt(words, TEXT_PT)
    x = hours.x_pt(after) + 6
    if x + wide > RIGHT_PT:
        x = max(hours.x_pt(steps[0].start) - 6 - wide, LEFT_PT + 2)
    drawing.box(x - 0.5, middle - 0.5 * TEXT_PT, wide + 1, TEXT_PT, WHITE)
    drawing.words(x, middle + HALF_FIGURE * TEXT_PT, words, TEXT_PT, INK)


def _draw_bracket(drawing: Drawing, middle: float, begin: float, end: float) -> None:
    """Draw a recoat window: a line with an upright at each end."""
    drawing.line([(begin, middle), (end, middle)], INK, 0.9)
    for x in (begin, end):
        drawing.line([(x, middle - 0.3 * ROW_PT), (x, middle + 0.3 * ROW_PT)], INK, 0.9)


# --- hours -----------------------------------------------------------------------------------------------------------


def _rule_midnights(drawing: Drawing, hours: _Hours, top: float, foot: float) -> None:
    for midnight in hours.midnights():
        drawing.line([(hours.x_pt(midnight), top), (hours.x_pt(midnight), foot)], RULE, 0.8)


def _name_days(drawing: Drawing, hours: _Hours, foot: float, units: str) -> None:
    """Name the days under the coats, and morning, noon and evening of each where they are few."""
    midnights = hours.midnights()
    noons = [midnight + 12 * HOUR for midnight in midnights if midnight + 12 * HOUR < hours.end]
    few, named = len(midnights) <= _DAYS_WITH_HOURS, HOURS_NAMED[units]
    for noon in noons if few else noons[:: 1 if len(noons) <= _DAYS_NAMED else 2]:
        x = hours.x_pt(noon)
        if few:
            drawing.words(x, foot + 11, named[12], TEXT_PT, QUIET, side="middle")
        drawing.words(x, foot + (21.5 if few else 11), f"{noon:%a} {noon.day}", TEXT_PT, QUIET, side="middle")
    for hour in hours.air if few else ():
        if hour.start.hour in {6, 18}:
            drawing.words(hours.x_pt(hour.start), foot + 10, named[hour.start.hour], SMALL_PT, QUIET, side="middle")


def _utc(moment: Moment) -> Moment:
    """Return the time without its zone, in UTC."""
    return moment.astimezone(datetime.UTC).replace(tzinfo=None)
