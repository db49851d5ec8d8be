"""Why the shade is uneven: causes weighed by rules, what can be removed first; a check for each, and what to do."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from finishadvisor.advice.marks import Marks, gather_marks, mark_facts, photo_facts
from finishadvisor.catalog.models import Catalog, CauseRow
from finishadvisor.records.evenness import Cause, Evenness, FloorEvenness
from finishadvisor.records.finding import FactValue, Finding
from finishadvisor.rules.conditions import Values
from finishadvisor.rules.evaluate import try_rules
from finishadvisor.works.limits import limit

Advice = Literal["go", "hold", "change"]

LIKELIHOODS: Final = ("very-likely", "likely", "possible")
"""The closed list of likelihoods, the firmest first; a cause below "possible" is not listed."""
_LIMITS: Final = ("cause-very-likely", "cause-likely", "cause-possible")
_GOOD_GRADES: Final = frozenset({"even", "nearly-even"})


@dataclass(frozen=True)
class _Weighed:
    """One cause weighed on one kind of marks."""

    row: CauseRow
    points: int
    area_ft2: float
    findings: tuple[Finding, ...]


def with_causes(evenness: FloorEvenness, facts: Values, catalog: Catalog) -> FloorEvenness:
    """Return the measured photos with their likely causes and the advice that follows.

    Args:
        evenness: the photos of a floor and what they say together.
        facts: every fact of the floor, None where it is unknown.
        catalog: causes, their rules, and the limits of the likelihoods.
    """
    return evenness.model_copy(
        update={
            "photos": tuple(_explained(photo, facts, catalog) for photo in evenness.photos),
            "together": _explained(evenness.together, facts, catalog) if evenness.together else None,
        }
    )


def _explained(photo: Evenness, facts: Values, catalog: Catalog) -> Evenness:
    if photo.refused or photo.grade is None:
        return photo
    causes = likely_causes(photo, facts, catalog)
    told = tuple(_told(weighed, catalog) for weighed in causes)
    return photo.model_copy(update={"causes": told, "advice": _advice(photo, causes, catalog)})


def likely_causes(photo: Evenness, facts: Values, catalog: Catalog) -> tuple[_Weighed, ...]:
    """Return the causes that are possible at least: those that can be removed first, then by points.

    Each kind of marks is weighed by itself, since a floor may bear tire marks here and damp there; a cause stands with
    the marks that speak for it most. A measured photo without marks has no causes.
    """
    best: dict[str, _Weighed] = {}
    own = {**photo_facts([photo]), "shade_grade": photo.grade}
    for marks in gather_marks([photo]):
        values = {**facts, **own, **mark_facts(marks, photo.typical_lab, catalog)}
        for weighed in _weigh(marks, values, catalog):
            before = best.get(weighed.row.id)
            if before is None or (weighed.points, weighed.area_ft2) > (before.points, before.area_ft2):
                best[weighed.row.id] = weighed
    least = limit(catalog, _LIMITS[-1])
    possible = [weighed for weighed in best.values() if weighed.points >= least]
    return tuple(sorted(possible, key=lambda one: (not one.row.removable, -one.points, -one.area_ft2, one.row.id)))


def _weigh(marks: Marks, values: Mapping[str, FactValue | None], catalog: Catalog) -> Iterable[_Weighed]:
    """Yield every cause that no rule forbids for these marks, with its points."""
    for row in catalog.causes.values():
        subject = {"cause": frozenset({row.id})}
        findings = try_rules(catalog.cause_rules.values(), subject, values, catalog.facts)
        met = tuple(one for one in findings if one.met == "yes")
        if not any(one.effect == "forbid" for one in met):
            yield _Weighed(row, _points(met, catalog), marks.area_ft2, met)


def _points(met: Sequence[Finding], catalog: Catalog) -> int:
    signs = {"favor": 1, "against": -1}
    return sum(signs.get(one.effect, 0) * catalog.cause_rules[one.rule].weight for one in met)


def _likelihood(points: int, catalog: Catalog) -> str:
    return next(
        word for word, limit_id in zip(LIKELIHOODS, _LIMITS, strict=True) if points >= limit(catalog, limit_id)
    )  # fmt: skip


def _told(weighed: _Weighed, catalog: Catalog) -> Cause:
    return Cause(
        cause=weighed.row.id,
        likelihood=_likelihood(weighed.points, catalog),
        because=tuple(one.because for one in weighed.findings if one.effect == "favor"),
        check=weighed.row.check,
        do=weighed.row.do,
    )


def _advice(photo: Evenness, causes: Sequence[_Weighed], catalog: Catalog) -> Advice:
    """Return go where the shade is good, else what the first cause calls for; hold where no cause is known yet.

    Only a cause that is likely at least may call for another finish: a guess does not.
    """
    if photo.grade in _GOOD_GRADES:
        return "go"
    if not causes:
        return "hold"
    if any(one.row.removable for one in causes):
        return "hold"
    likely = [one for one in causes if one.points >= limit(catalog, "cause-likely")]
    return likely[0].row.advice if likely else "hold"
