"""The end of a truck load that lies where two photographed bays meet: neither photo shows both sides of it."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.plan_maps import (
    CARD_LEVEL_L,
    FEWEST_SHARED,
    OVERLAP_LEVEL_L,
    PlanMaps,
    lay_on_plan,
    match_levels,
    shared_cells,
)
from finishadvisor.evenness.steps import Step, step_across
from finishadvisor.job.document import Photo
from finishadvisor.records.shade import Measurement

Array = NDArray[np.float64]
Taken = tuple[Measurement, Photo]
Line = Sequence[tuple[float, float]]


def steps_at_seams(slab: Sequence[Taken], line: Line) -> list[tuple[Photo, Photo, Step | None]]:
    """Return the step of shade across a line for each two photos that show one side of it each.

    Args:
        slab: measured photos of one floor, none of which shows both sides of the line.
        line: points on the plan.

    Returns:
        Both photos and the step; None for a step that cannot be told from exposure, since the photos neither overlap
        nor bear cards.
    """
    found = []
    for one, other in combinations(slab, 2):
        plan, level_error = _levelled(one, other)
        lab = _one_map(plan)
        used = np.asarray(np.isfinite(lab).all(axis=2))
        own_line = [(x - plan.origin_ft[0], y - plan.origin_ft[1]) for x, y in line]
        step = step_across(lab, used, (plan.grid.width_ft, plan.grid.length_ft), own_line)
        if step is not None:
            known = replace(step, error=float(np.hypot(step.error, level_error))) if level_error is not None else None
            found.append((one[1], other[1], known))
    return found


def _levelled(one: Taken, other: Taken) -> tuple[PlanMaps, float | None]:
    """Return two photos on the plan at one level, and how sure that is [L*]; None where nothing ties their levels."""
    maps = [measured.shade for measured, _ in (one, other) if measured.shade is not None]
    plan = lay_on_plan(maps, [one[1], other[1]])
    cards = [measured.evenness.level == "sheet" for measured, _ in (one, other)]
    if shared_cells(*plan.maps) >= FEWEST_SHARED:
        return match_levels(plan, cards), OVERLAP_LEVEL_L
    return plan, CARD_LEVEL_L if all(cards) else None


def _one_map(plan: PlanMaps) -> Array:
    """Return CIELAB over the plan, the mean where both photos show it, shape (rows, cols, 3)."""
    total, count = np.zeros((plan.grid.rows, plan.grid.cols, 3)), np.zeros((plan.grid.rows, plan.grid.cols, 1))
    for laid in plan.maps:
        seen = np.isfinite(laid.lab).all(axis=2, keepdims=True)
        total[laid.part] += np.where(seen, laid.lab, 0.0)
        count[laid.part] += seen
    return np.where(count > 0, total / np.maximum(count, 1), np.nan)
