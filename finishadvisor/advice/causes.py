"""Why the shade is uneven: the causes of each patch joined to those of the floor, and go, hold or change."""

from collections.abc import Sequence
from typing import Final, Literal

from finishadvisor.advice.patch_causes import Weighed, in_order, told, weigh_patches, weigh_slab
from finishadvisor.advice.patch_facts import OF_MARKS, Scene
from finishadvisor.catalog.models import Catalog, Rule
from finishadvisor.job.document import Floor
from finishadvisor.records.evenness import Evenness, FloorEvenness
from finishadvisor.rules.conditions import Values, facts_in
from finishadvisor.works.limits import limit

Advice = Literal["go", "hold", "change"]

_GOOD_GRADES: Final = frozenset({"even", "nearly-even"})
_NAMED: Final = 4
"""So many patches are named behind a sentence, the largest first; the rest are counted."""


def with_causes(
    evenness: FloorEvenness, facts: Values, catalog: Catalog, floor: Floor | None = None
) -> FloorEvenness:  # fmt: skip
    """Return the measured photos with their likely causes, those of each patch, and the advice that follows.

    Args:
        evenness: the photos of a floor and what they say together.
        facts: every fact of the floor, None where it is unknown.
        catalog: causes, their rules, and the limits of the likelihoods.
        floor: the floor, to hold patches against its edges, joints, load ends and tests.

    Raises:
        EntryError: the floor's outline cannot be used.
    """
    together = evenness.together
    return evenness.model_copy(
        update={
            "photos": tuple(_explained(Scene(photo, floor, evenness), facts, catalog) for photo in evenness.photos),
            "together": _explained(Scene(together, floor, evenness), facts, catalog) if together else None,
        }
    )


def _explained(scene: Scene, facts: Values, catalog: Catalog) -> Evenness:
    photo = scene.photo
    if photo.refused or photo.grade is None:
        return photo
    patches, slab = weigh_patches(scene, facts, catalog), weigh_slab(scene, facts, catalog)
    causes = joined_causes(patches, slab)
    return photo.model_copy(
        update={
            "causes": tuple(told(one, _because(one, patches, slab), catalog) for one in causes),
            "patch_causes": tuple(tuple(told(one, one.because, catalog) for one in few) for few in patches),
            "advice": _advice(photo, causes, catalog),
        }
    )


def joined_causes(patches: Sequence[Sequence[Weighed]], slab: Sequence[Weighed] = ()) -> tuple[Weighed, ...]:
    """Return every cause of any patch, each as it stands on the patch that speaks for it most.

    Those that can be removed come first, then the likelier ones.
    """
    best: dict[str, Weighed] = {}
    for few in (*patches, slab):
        for weighed in few:
            before = best.get(weighed.row.id)
            if before is None or weighed.points > before.points:
                best[weighed.row.id] = weighed
    return in_order(best.values())


def _because(cause: Weighed, patches: Sequence[Sequence[Weighed]], slab: Sequence[Weighed]) -> tuple[str, ...]:
    """Return what speaks for a cause; behind what only some patches show stands which of them."""
    own = [next((one for one in few if one.row.id == cause.row.id), None) for few in patches]
    whole = [one for one in slab if one.row.id == cause.row.id]
    numbers: dict[str, list[int]] = {}
    rules: dict[str, Rule] = {}
    for number, weighed in (*enumerate(own, start=1), *((0, one) for one in whole)):
        for rule in weighed.met if weighed else ():
            if rule.effect == "favor":
                rules.setdefault(rule.id, rule)
                numbers.setdefault(rule.id, []).append(number)
    return tuple(
        rule.because + (_which(numbers[id_]) if len(patches) > 1 and facts_in(rule.when) & OF_MARKS else "")
        for id_, rule in rules.items()
    )


def _which(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return f" (patch {numbers[0]})"
    named, more = [str(number) for number in numbers[:_NAMED]], len(numbers) - _NAMED
    words = f"{', '.join(named)} and {more} more" if more > 0 else f"{', '.join(named[:-1])} and {named[-1]}"
    return f" (patches {words})"


def _advice(photo: Evenness, causes: Sequence[Weighed], catalog: Catalog) -> Advice:
    """Return go where the shade is good, else what the first cause calls for; hold where no cause is known yet.

    Only a cause that is likely at least may call for another finish: a guess does not.
    """
    if photo.grade in _GOOD_GRADES:
        return "go"
    if any(one.row.removable for one in causes):
        return "hold"
    likely = [one for one in causes if one.points >= limit(catalog, "cause-likely")]
    return likely[0].row.advice if likely else "hold"
