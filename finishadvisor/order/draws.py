"""Draws whole jobs: every need of every floor at once, so that what goes wrong together is drawn together."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.order.amounts import Amount, Cause
from finishadvisor.order.belief import Belief
from finishadvisor.order.need import Line

SEED: Final = 7151
"""Fixed, so that the same job always gives the same order."""

Draws = NDArray[np.float64]


def draw_needs(lines: Sequence[Line], belief: Belief, draws: int, seed: int = SEED) -> Iterator[Draws]:
    """Yield the drawn needs of each line in its material's unit, shape (draws,).

    Args:
        lines: the lines of all floors.
        belief: what is believed of the causes of uncertainty.
        draws: number of jobs to draw, >= 1.
        seed: seed of the generator.
    """
    generator = np.random.default_rng(seed)
    causes = dict(zip(belief.causes, belief.draw(draws, generator), strict=True))
    zones = _draw_zones(lines, draws, generator)
    for line in lines:
        needs = np.zeros(draws)
        for coats in line.coats:
            for part in coats.parts:
                drawn = coats.quantity * coats.times * part.median * np.exp(_log_shift(part, causes))
                if part.zone_sd:
                    drawn *= _shares(line) @ np.exp(part.zone_sd * zones[line.floor, line.material])
                needs += drawn
        yield needs


def _log_shift(part: Amount, causes: Mapping[Cause, Draws]) -> Draws | float:
    """Return the drawn log amount against the expected one: of all causes of a job, the few that this part has."""
    return sum((weight * causes[cause] for cause, weight in part.weights.items()), start=0.0)


def _shares(line: Line) -> Draws:
    """Return the share of the area that each zone has, shape (zones,)."""
    areas = np.array([zone.area_ft2 for zone in line.zones])
    return np.asarray(areas / areas.sum())


def _draw_zones(lines: Sequence[Line], draws: int, generator: np.random.Generator) -> Mapping[tuple[str, str], Draws]:
    """Return standard normals, shape (zones, draws), for each material on each floor that differs between zones."""
    wanted = {
        (line.floor, line.material): len(line.zones)
        for line in lines
        if line.zones and any(part.zone_sd for coats in line.coats for part in coats.parts)
    }
    return {key: generator.standard_normal((wanted[key], draws)) for key in sorted(wanted)}
