"""Coating cure against temperature: times of a data sheet carried to another temperature, and summed over a day.

What the sheet says at its own temperatures is never shortened where a time must pass at least, and never stretched
where it must not be exceeded. Outside the sheet's temperatures only what is unfavorable is believed.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import linear_regression
from typing import Final, Literal

from finishadvisor.errors import OutOfRangeError, require_between, require_positive

Bound = Literal["at-least", "at-most"]
"""at-least: a time that must pass (tack-free, recoat minimum, foot traffic).

at-most: a time not to exceed (pot life, recoat maximum).
"""

RULE_FACTOR: Final = 2.0
RULE_STEP_F: Final = 18.0
"""Rule of thumb for reactive coatings: time halves for each 18 °F (10 °C) warmer. Common practice, no source."""

RULE_SPAN_F: Final = 27.0
"""How far the rule of thumb is carried from a single point before the result counts as extrapolated: our choice."""

GAS_CONSTANT_J_PER_MOL_K: Final = 8.314462618

_LOWEST_F: Final = -40.0
_HIGHEST_F: Final = 160.0
_ABSOLUTE_ZERO_F: Final = -459.67
_RANKINE_PER_KELVIN: Final = 1.8


@dataclass(frozen=True)
class CureTime:
    """A time at one temperature, in the unit of the points that it came from."""

    value: float
    extrapolated: bool
    """True: the temperature lies outside the data sheet's, or too far from its single point."""


@dataclass(frozen=True)
class CureLine:
    """A time as a function of temperature: ln(time) = intercept + slope x coldness.

    Coldness is 1 / absolute temperature [1/°R] on an Arrhenius line, and -temperature [-°F] under the rule of thumb.
    """

    form: Literal["arrhenius", "rule-of-thumb"]
    intercept: float
    slope: float
    coldest_f: float
    hottest_f: float
    bound: Bound

    def at(self, temperature_f: float) -> CureTime:
        """Return the time at a temperature.

        Inside the data's temperatures the line holds. Outside, a time that must pass is lengthened by cold but not
        shortened by heat; a time not to exceed is shortened by heat but not lengthened by cold.

        Args:
            temperature_f: temperature of slab and material [°F], -40 to 160.

        Raises:
            OutOfRangeError: the temperature is outside its range.
        """
        require_between("Temperature for the coating cure", temperature_f, _LOWEST_F, _HIGHEST_F, "°F")
        clamped_f = min(max(temperature_f, self.coldest_f), self.hottest_f)
        believed = max if self.bound == "at-least" else min
        value = believed(self._on_line(temperature_f), self._on_line(clamped_f))
        return CureTime(value, extrapolated=clamped_f != temperature_f)

    def _on_line(self, temperature_f: float) -> float:
        coldness = 1 / _absolute_r(temperature_f) if self.form == "arrhenius" else -temperature_f
        return math.exp(self.intercept + self.slope * coldness)


def _absolute_r(temperature_f: float) -> float:
    return temperature_f - _ABSOLUTE_ZERO_F


def fit_cure_line(points: Sequence[tuple[float, float]], bound: Bound) -> CureLine:
    """Return the time of a data sheet as a function of temperature.

    Two or more points: least squares of ln(time) over 1/T (Arrhenius); where the points do not lie on one line, the
    line is shifted so that it never falls below a point of an "at-least" time nor rises above one of an "at-most" time.
    One point: time halves for each 18 °F warmer, believed 27 °F to either side.

    Args:
        points: (temperature [°F], time) as the sheet prints them, any order, any one unit of time.
        bound: whether the time must pass at least, or must not be exceeded.

    Returns:
        A line whose times are in the unit of `points`, and never rise with heat.

    Raises:
        OutOfRangeError: no point, two at one temperature, a value out of range, or a time that rises with heat.

    Source: Arrhenius (1889) for the form; the one-point rule is common practice, no source, and equals about
    51 kJ/mol near 25 °C. Some films set less steeply than the rule: two points of the sheet are better than one.
    """
    ordered = _checked(points)
    logs = [math.log(time) for _, time in ordered]
    safe_side = max if bound == "at-least" else min
    if len(ordered) == 1:
        point_f = ordered[0][0]
        slope = math.log(RULE_FACTOR) / RULE_STEP_F
        intercept = logs[0] + slope * point_f
        return CureLine("rule-of-thumb", intercept, slope, point_f - RULE_SPAN_F, point_f + RULE_SPAN_F, bound)
    coldness = [1 / _absolute_r(temperature_f) for temperature_f, _ in ordered]
    slope = max(0.0, linear_regression(coldness, logs).slope)
    intercept = safe_side(log - slope * cold for cold, log in zip(coldness, logs, strict=True))
    return CureLine("arrhenius", intercept, slope, ordered[0][0], ordered[-1][0], bound)


def _checked(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    require_between("Number of data sheet points", len(points), 1, 50)
    for temperature_f, time in points:
        require_between("Temperature of a data sheet point", temperature_f, _LOWEST_F, _HIGHEST_F, "°F")
        require_positive("Time of a data sheet point", time)
    ordered = sorted(points)
    for (colder_f, colder_time), (warmer_f, warmer_time) in itertools.pairwise(ordered):
        if colder_f == warmer_f:
            raise OutOfRangeError(
                f"Two data sheet points stand at {colder_f:g} °F; each temperature may stand once. Remove one."
            )
        if warmer_time > colder_time:
            raise OutOfRangeError(
                f"The time rises from {colder_time:g} at {colder_f:g} °F to {warmer_time:g} at {warmer_f:g} °F; "
                "it must fall or stay as it gets warmer. Check that all points are of one line of the data sheet."
            )
    return ordered


def activation_energy_kj_per_mol(time_ratio: float, colder_f: float, warmer_f: float) -> float:
    """Return the activation energy at which a time is `time_ratio` times longer in the cold than in the warmth.

    Args:
        time_ratio: time at the colder temperature over time at the warmer one, > 0.
        colder_f: the colder temperature [°F], -40 to 160.
        warmer_f: the warmer temperature [°F], above the colder one, up to 160.

    Raises:
        OutOfRangeError: an argument is outside its range, or the temperatures are equal or crossed.

    Source: Arrhenius (1889).
    """
    require_positive("Ratio of the times", time_ratio)
    require_between("Colder temperature", colder_f, _LOWEST_F, _HIGHEST_F, "°F")
    require_between("Warmer temperature", warmer_f, _LOWEST_F, _HIGHEST_F, "°F")
    require_positive("Difference of the temperatures", warmer_f - colder_f, "°F")
    per_kelvin = _RANKINE_PER_KELVIN * (1 / _absolute_r(colder_f) - 1 / _absolute_r(warmer_f))
    return GAS_CONSTANT_J_PER_MOL_K * math.log(time_ratio) / per_kelvin / 1000


def pot_life(points: Sequence[tuple[float, float]], material_f: float) -> CureTime:
    """Return how long a mix stays workable, in the unit of the points.

    A large mass in the pail heats itself and sets much sooner; that is not modelled. Pour the mix out at once.

    Args:
        points: (temperature [°F], pot life) as the sheet prints them.
        material_f: temperature of the mixed material [°F], -40 to 160.

    Raises:
        OutOfRangeError: an argument is outside its range, or the pot life rises with heat.

    Source: as `fit_cure_line`.
    """
    return fit_cure_line(points, "at-most").at(material_f)


@dataclass(frozen=True)
class CureCourse:
    """When a time is over under changing temperature; `hours` is None when it is not over within the hours given."""

    hours: float | None
    extrapolated: bool


def hours_until_over(line: CureLine, temperature_f_by_step: Sequence[float], step_h: float = 1.0) -> CureCourse:
    """Return after how many hours a time is over when the temperature changes from step to step.

    Each step uses up its length over the time that the line gives at its temperature; the time is over when the
    shares add up to one.

    Args:
        line: a time [h] as a function of temperature.
        temperature_f_by_step: temperature of the slab in each step from the start [°F], each -40 to 160.
        step_h: length of a step [h], > 0.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: equivalent age, as ASTM C1074 sums it for concrete; that it carries over to coatings is our choice.
    """
    require_positive("Time step", step_h, "h")
    share, extrapolated = 0.0, False
    for step, temperature_f in enumerate(temperature_f_by_step):
        time = line.at(temperature_f)
        extrapolated = extrapolated or time.extrapolated
        of_step = step_h / time.value
        if share + of_step >= 1:
            return CureCourse((step + (1 - share) / of_step) * step_h, extrapolated)
        share += of_step
    return CureCourse(None, extrapolated)
