"""The likely causes of each patch of a photo, weighed by rules on its figures, its place and the facts of the floor."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.advice.marks import photo_facts
from finishadvisor.advice.patch_facts import Scene, patch_facts
from finishadvisor.catalog.models import Catalog, CauseRow, Rule
from finishadvisor.records.evenness import Cause
from finishadvisor.records.finding import FactValue
from finishadvisor.rules.conditions import Values, facts_in, truth
from finishadvisor.works.limits import limit

LIKELIHOODS: Final = ("very-likely", "likely", "possible")
"""The closed list of likelihoods, the firmest first; a cause below "possible" is not listed."""
_LIMITS: Final = ("cause-very-likely", "cause-likely", "cause-possible")
_SIGNS: Final[Mapping[str, int]] = {"favor": 1, "against": -1}
OF_THE_SLAB: Final = frozenset({"mottled", "sheen_found"})
"""Facts that no single patch shows."""


@dataclass(frozen=True)
class Weighed:
    """One cause weighed on one patch, or on the slab as a whole."""

    row: CauseRow
    points: int
    met: tuple[Rule, ...]
    """The rules for and against it that are met."""

    @property
    def because(self) -> tuple[str, ...]:
        """What speaks for it."""
        return tuple(rule.because for rule in self.met if rule.effect == "favor")


def patch_causes(scene: Scene, facts: Values, catalog: Catalog) -> tuple[tuple[Cause, ...], ...]:
    """Return the few likely causes of each patch, in the order of the photo's patches.

    What washing or waiting removes comes first, then what is likelier. A patch that nothing speaks for has none.

    Args:
        scene: the photo, and what its patches are held against.
        facts: every fact of the floor, None where it is unknown.
        catalog: causes, their rules, and the limits of the likelihoods.

    Raises:
        EntryError: the floor's outline cannot be used.
    """
    return tuple(tuple(told(one, one.because, catalog) for one in few) for few in weigh_patches(scene, facts, catalog))


def weigh_patches(scene: Scene, facts: Values, catalog: Catalog) -> tuple[tuple[Weighed, ...], ...]:
    """Return the few causes of each patch with the rules behind them, as `patch_causes` tells them.

    Raises:
        EntryError: the floor's outline cannot be used.
    """
    rules = _rules_by_cause(catalog)
    most = int(limit(catalog, "causes-of-a-patch"))
    return tuple(
        _few(
            _weigh({**facts, **_photo_values(scene), **patch_facts(patch, scene, catalog)}, rules, catalog),
            most,
            catalog,
        )
        for patch in scene.photo.patches or ()
    )


def weigh_slab(scene: Scene, facts: Values, catalog: Catalog) -> tuple[Weighed, ...]:
    """Return the causes of what no single patch shows: mottling all over, sheen that turns over between photos."""
    weighed = _weigh({**facts, **_photo_values(scene)}, _rules_by_cause(catalog), catalog)
    shown = [one for one in weighed if any(OF_THE_SLAB & facts_in(rule.when) for rule in one.met)]
    return _few(shown, len(catalog.causes), catalog)


def told(weighed: Weighed, because: Iterable[str], catalog: Catalog) -> Cause:
    """Return a cause as the record tells it."""
    word = next(
        word
        for word, limit_id in zip(LIKELIHOODS, _LIMITS, strict=True)
        if weighed.points >= limit(catalog, limit_id)
    )  # fmt: skip
    row = weighed.row
    return Cause(cause=row.id, likelihood=word, because=tuple(because), check=row.check, do=row.do)


def in_order(weighed: Iterable[Weighed]) -> tuple[Weighed, ...]:
    """Return causes in the order in which they are told: what can be removed first, then by points."""
    return tuple(sorted(weighed, key=lambda one: (not one.row.removable, -one.points, one.row.id)))


def _photo_values(scene: Scene) -> dict[str, FactValue | None]:
    return {**photo_facts([scene.photo]), "shade_grade": scene.photo.grade}


def _rules_by_cause(catalog: Catalog) -> Mapping[str, Sequence[Rule]]:
    rules: dict[str, list[Rule]] = defaultdict(list)
    for rule in catalog.cause_rules.values():
        named = rule.about.get("cause", ())
        for cause in (named,) if isinstance(named, str) else named:
            rules[cause].append(rule)
    return rules


def _weigh(values: Values, rules: Mapping[str, Sequence[Rule]], catalog: Catalog) -> list[Weighed]:
    """Return every cause that no rule forbids, with its points."""
    weighed = []
    for row in catalog.causes.values():
        met = tuple(rule for rule in rules[row.id] if truth(rule.when, values))
        if not any(rule.effect == "forbid" for rule in met):
            points = sum(_SIGNS.get(rule.effect, 0) * rule.weight for rule in met)
            weighed.append(Weighed(row, points, met))
    return weighed


def _few(weighed: Iterable[Weighed], most: int, catalog: Catalog) -> tuple[Weighed, ...]:
    """Return the likeliest causes that are possible at least, in the order in which they are told."""
    possible = [one for one in weighed if one.points >= limit(catalog, "cause-possible")]
    return in_order(sorted(possible, key=lambda one: (-one.points, not one.row.removable, one.row.id))[:most])
