"""The days of a job drawn: air, slab and dew point over the hours, where a coat may be laid, and the coats' windows.

Nothing rests on color alone: the lines differ in weight and dash and bear their names, what is allowed is a band, rain
is hatched, a coat is solid and its recoat window a bracket.
"""

import datetime
import itertools
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from finishadvisor.papers.figures import INK, QUIET, RULE, TEXT_PT, WORK, Form, drawn
from finishadvisor.papers.figures import title as write_title
from finishadvisor.papers.wording import hour_text, moment_text
from finishadvisor.records.plan import AirHour, Plan, Step
from finishadvisor.units import celsius_from_fahrenheit

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDE_IN: Final = 7.0
AIR_HIGH_IN: Final = 2.1
ROW_HIGH_IN: Final = 0.27
HOURS_NAMED: Final = {
    "us": {6: "6 AM", 12: "noon", 18: "6 PM"},
    "metric": {6: "06:00", 12: "12:00", 18: "18:00"},
}
HOUR: Final = datetime.timedelta(hours=1)
_BAND_ALPHA: Final = 0.13
_BAR_SHARE: Final = 0.02
"""Height of the bar under a band: an hour's band alone looks like a rule when it is printed in gray."""
LONGEST_LABEL: Final = 34
_DAYS_WITH_HOURS: Final = 5
_DAYS_NAMED: Final = 9
_LATE: Final = 0.7
"""Behind this share of the width a label stands before its mark."""


def draw_days(plan: Plan, air: Mapping[str, Sequence[AirHour]], path: Path, units: str = "us") -> None:
    """Draw the days into a file.

    Args:
        plan: the plan.
        air: hours by floor, `plan.air` or a part of it; a panel for each floor that has hours.
        path: .svg, .pdf or .png.
        units: us or metric, for the temperatures.

    Raises:
        ValueError: no floor has hours, or the file's ending is none of the three.
    """
    forms: dict[str, Form] = {".svg": "svg", ".pdf": "pdf", ".png": "png"}
    form = forms.get(path.suffix.lower())
    picture = days_picture(plan, air, form, units) if form else None
    if picture is None:
        raise ValueError(f"{path.name}: nothing to draw, or not .svg, .pdf or .png")
    path.write_bytes(picture)


def days_picture(
    plan: Plan, air: Mapping[str, Sequence[AirHour]], form: Form = "svg", units: str = "us"
) -> bytes | None:
    """Return the days drawn, None where no floor has hours."""
    floors = [(name, hours) for name, hours in air.items() if len(hours) > 1]
    if not floors:
        return None
    rows = [_rows(plan, name, hours) for name, hours in floors]
    heights = [part for found in rows for part in (AIR_HIGH_IN, ROW_HIGH_IN * max(1, len(found)))]

    def draw(figure: "Figure") -> None:
        panels = figure.subplots(len(heights), 1, squeeze=False, gridspec_kw={"height_ratios": heights})[:, 0]
        for (name, hours), found, upper, lower in zip(floors, rows, panels[::2], panels[1::2], strict=True):
            _draw_air(upper, hours, _title(plan, name, found, units), units)
            _draw_coats(lower, hours, found, units)

    return drawn(WIDE_IN, sum(heights) + 1.1 * len(floors), form, draw)


# --- what is drawn ---------------------------------------------------------------------------------------------------


def _rows(plan: Plan, floor: str, hours: Sequence[AirHour]) -> list[tuple[str, list[Step]]]:
    """Return the coats that fall into the hours, a row each with the parts of one coat together."""
    begin, end = hours[0].start, hours[-1].start + HOUR
    rows: dict[str, list[Step]] = {}
    for step in plan.steps:
        if step.floor == floor and step.coat is not None and step.start < end and step.end > begin:
            rows.setdefault(_short(step), []).append(step)
    return list(rows.items())


def _short(step: Step) -> str:
    """Return a coat's name without the verb: "build", "seal, coat 2 of 2"."""
    return _cut(step.task.rsplit(": ", 1)[-1])


def _cut(name: str) -> str:
    return name if len(name) <= LONGEST_LABEL else f"{name[: LONGEST_LABEL - 1].rstrip()}…"


def _title(plan: Plan, name: str, rows: Sequence[tuple[str, Sequence[Step]]], units: str) -> str:
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


def _draw_air(axes: "Axes", hours: Sequence[AirHour], title: str, units: str) -> None:
    shown = celsius_from_fahrenheit if units == "metric" else float
    times = [_utc(hour.start) for hour in hours]
    for begin, end in _runs(hours, lambda hour: hour.allowed):
        axes.axvspan(_utc(begin), _utc(end), color=WORK, alpha=_BAND_ALPHA, linewidth=0, zorder=0)
        axes.axvspan(_utc(begin), _utc(end), ymax=_BAR_SHARE, color=WORK, linewidth=0, zorder=0.1)
    lines: tuple[tuple[str, list[float], dict[str, Any]], ...] = (
        ("air", [hour.air_f for hour in hours], {"color": INK, "linewidth": 0.9}),
        ("slab", [hour.slab_f for hour in hours], {"color": WORK, "linewidth": 2.2}),
        (
            "dew point",
            [hour.dew_point_f for hour in hours],
            {"color": QUIET, "linewidth": 1.2, "linestyle": (0, (4, 2))},
        ),
    )
    ends = []
    for name, values, style in lines:
        course = [shown(value) for value in values]
        axes.plot(times, course, **style)
        ends.append((course[-1], name, str(style["color"])))
    axes.margins(y=0.14)
    _name_lines(axes, ends)
    _mark_rain(axes, hours)
    _mark_forecast_end(axes, hours)
    write_title(axes, title, pad=18)
    axes.annotate(
        "°C" if units == "metric" else "°F", (0, 1), xycoords="axes fraction", xytext=(-5, 4),
        textcoords="offset points", ha="right", va="bottom", color=QUIET,
    )  # fmt: skip
    band = "shaded, with a bar below: the air allows laying the coat that comes next"
    said = (
        band
        if any(hour.allowed for hour in hours)
        else "in none of these hours the air allows the coat that comes next"
    )
    axes.text(0, 1.03, said, transform=axes.transAxes, fontsize=TEXT_PT - 1, color=QUIET, va="bottom")
    _draw_hours(axes, hours)


def _name_lines(axes: "Axes", ends: Sequence[tuple[float, str, str]]) -> None:
    """Write each line's name behind its end, moved apart where they would touch."""
    low, high = axes.get_ylim()
    apart = max((high - low) * 0.11, 1e-6)
    place = None
    for value, name, color in sorted(ends):
        place = value if place is None else max(value, place + apart)
        axes.annotate(
            name, (1.0, place), xycoords=("axes fraction", "data"), xytext=(5, 0), textcoords="offset points",
            va="center", color=color, fontsize=TEXT_PT, annotation_clip=False,
        )  # fmt: skip


def _mark_rain(axes: "Axes", hours: Sequence[AirHour]) -> None:
    for number, (begin, end) in enumerate(_runs(hours, lambda hour: hour.rain)):
        axes.axvspan(_utc(begin), _utc(end), facecolor="none", edgecolor=QUIET, hatch="////", linewidth=0, zorder=0.5)
        if number == 0:
            axes.annotate(
                "rain", (_utc(begin), 1), xycoords=("data", "axes fraction"), xytext=(3, -3), va="top", color=INK,
                textcoords="offset points", fontsize=TEXT_PT - 1,
                bbox={"facecolor": "white", "edgecolor": "none", "pad": 1},
            )  # fmt: skip


def _mark_forecast_end(axes: "Axes", hours: Sequence[AirHour]) -> None:
    """Draw a line where what is known ends and what is assumed begins."""
    turn = next((after for before, after in itertools.pairwise(hours) if after.assumed and not before.assumed), None)
    if turn is not None:
        axes.axvline(_utc(turn.start), color=INK, linewidth=0.8, linestyle=(0, (1, 2)))
        late = (turn.start - hours[0].start) / (hours[-1].start - hours[0].start) > _LATE
        axes.annotate(
            "forecast ends: mean day", (_utc(turn.start), 0), xycoords=("data", "axes fraction"),
            xytext=(-3 if late else 3, 3), textcoords="offset points", ha="right" if late else "left", va="bottom",
            color=QUIET, fontsize=TEXT_PT - 1,
        )  # fmt: skip


def _runs(
    hours: Sequence[AirHour], holds: Callable[[AirHour], bool]
) -> list[tuple[datetime.datetime, datetime.datetime]]:
    """Return the spans of hours, one behind the other, in which something holds."""
    runs = []
    for held, group in itertools.groupby(hours, key=holds):
        span = list(group)
        if held:
            runs.append((span[0].start, span[-1].start + HOUR))
    return runs


# --- coats -----------------------------------------------------------------------------------------------------------


def _draw_coats(axes: "Axes", hours: Sequence[AirHour], rows: Sequence[tuple[str, Sequence[Step]]], units: str) -> None:
    begin, end = _utc(hours[0].start), _utc(hours[-1].start + HOUR)
    for number, (name, steps) in enumerate(rows):
        window = next((step for step in steps if step.latest is not None and step.latest > step.end), None)
        if window is not None and window.latest is not None:
            _bracket(axes, number, max(_utc(window.earliest), begin), min(_utc(window.latest), end))
        for step in steps:
            axes.barh(
                number, _utc(step.end) - _utc(step.start), left=_utc(step.start), height=0.62, color=WORK,
                edgecolor=INK, linewidth=0.8,
            )  # fmt: skip
        after = max([step.end for step in steps] + ([window.latest] if window is not None and window.latest else []))
        words = (
            name
            if window is None or window.latest is None
            else f"{name}, by {window.latest:%a} {hour_text(window.latest, units)}"
        )
        _label(axes, number, words, (_utc(steps[0].start), min(_utc(after), end)), (begin, end))
    axes.set_ylim(len(rows) - 0.4 if rows else 0.6, -0.6)
    axes.set_yticks([])
    axes.spines["left"].set_visible(False)
    _draw_hours(axes, hours)
    _name_days(axes, hours, units)


def _bracket(axes: "Axes", row: int, begin: Any, end: Any) -> None:
    """Draw a recoat window: a line with an upright at each end."""
    axes.plot([begin, end], [row, row], color=INK, linewidth=0.9, zorder=0.9)
    for moment in (begin, end):
        axes.plot([moment, moment], [row - 0.3, row + 0.3], color=INK, linewidth=0.9, zorder=0.9)


def _label(
    axes: "Axes",
    row: int,
    words: str,
    span: tuple[datetime.datetime, datetime.datetime],
    shown: tuple[datetime.datetime, datetime.datetime],
) -> None:
    """Write a coat's name behind what is span of it, or before it where the page ends."""
    behind = (span[1] - shown[0]) / (shown[1] - shown[0]) < _LATE
    axes.annotate(
        words, (span[1] if behind else span[0], row), xytext=(6 if behind else -6, 0), textcoords="offset points",
        ha="left" if behind else "right", va="center", fontsize=TEXT_PT, color=INK,
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.5},
    )  # fmt: skip


# --- hours -----------------------------------------------------------------------------------------------------------


def _draw_hours(axes: "Axes", hours: Sequence[AirHour]) -> None:
    """Rule a line at each local midnight."""
    for midnight in _midnights(hours):
        axes.axvline(_utc(midnight), color=RULE, linewidth=0.8, zorder=0.2)
    axes.set_xlim(_utc(hours[0].start), _utc(hours[-1].start + HOUR))
    axes.set_xticks([])
    axes.tick_params(length=0)


def _name_days(axes: "Axes", hours: Sequence[AirHour], units: str) -> None:
    """Name the days under the axes, and morning, noon and evening of each where they are few."""
    midnights, end = _midnights(hours), hours[-1].start + HOUR
    noons = [midnight + 12 * HOUR for midnight in midnights if midnight + 12 * HOUR < end]
    few = len(midnights) <= _DAYS_WITH_HOURS
    shown = noons if few else noons[:: 1 if len(noons) <= _DAYS_NAMED else 2]
    named = HOURS_NAMED[units]
    axes.set_xticks(
        [_utc(noon) for noon in shown],
        [f"{named[12]}\n{noon:%a} {noon.day}" if few else f"{noon:%a} {noon.day}" for noon in shown],
    )
    if few:
        between = [hour.start for hour in hours if hour.start.hour in {6, 18}]
        axes.set_xticks([_utc(moment) for moment in between], [named[moment.hour] for moment in between], minor=True)
        axes.tick_params(which="minor", length=0, labelsize=TEXT_PT - 1)


def _midnights(hours: Sequence[AirHour]) -> list[datetime.datetime]:
    return [hour.start for hour in hours if hour.start.hour == 0]


def _utc(moment: datetime.datetime) -> Any:
    """Return the time without its zone, in UTC, so that a day of daylight-saving change is drawn at its true length."""
    return moment.astimezone(datetime.UTC).replace(tzinfo=None)
