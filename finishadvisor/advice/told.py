"""What is told of a floor beside the finishes: cautions, the pour, what is out of reach, and what if none fits."""

from collections.abc import Iterable, Sequence
from typing import Final

from finishadvisor.advice.verdict import Judgement
from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.job.document import Floor
from finishadvisor.records.finding import Finding
from finishadvisor.rules.conditions import Values, describe, truth, undecided_part
from finishadvisor.works.subject import cautions_of

MET_ORDER: Final = ("yes", "unknown", "no")
EFFECT_ORDER: Final = ("forbid", "hold", "require", "caution", "against", "favor")
_FEW: Final = 4
"""So many finishes are named behind a sentence; of more, one less is named and the others are counted."""


def cautions_for(judgements: Sequence[Judgement], concerned: Sequence[str], catalog: Catalog) -> tuple[str, ...]:
    """Return cautions: what met rules warn of for finishes not ruled out, then the usual ones of some finishes.

    A rule that restates a usual caution is left out where that one is told. The usual ones stand in the order of the
    catalog, which begins with what can kill.

    Args:
        judgements: every finish judged.
        concerned: the finishes whose materials and work are warned of, in the order of the ranking.
        catalog: the catalog as this job sees it.
    """
    named = {caution for id_ in concerned for caution in cautions_of(catalog.finishes[id_], catalog)}
    finishes_of: dict[str, list[str]] = {}
    open_ones = [judged for judged in judgements if judged.verdict != "does-not-suit"]
    for judged in open_ones:
        for finding in judged.findings:
            if finding.effect != "caution" or finding.met != "yes" or _of_the_pour(finding, catalog):
                continue
            if catalog.rules[finding.rule].restates not in named:
                finishes_of.setdefault(finding.because, []).append(judged.finish)
    ruled = [_with_names(sentence, ids, len(open_ones), catalog) for sentence, ids in finishes_of.items()]
    usual = [row.sentence for id_, row in catalog.cautions.items() if id_ in named]
    return tuple(dict.fromkeys([*ruled, *usual]))


def before_the_pour(
    judgements: Sequence[Judgement], facts: Values, catalog: Catalog, order: Sequence[str]
) -> tuple[str, ...]:  # fmt: skip
    """Return what is asked of the pour where it lies ahead, by rules and by each finish that is not ruled out.

    Args:
        judgements: every finish judged.
        facts: every fact of the floor.
        catalog: the catalog as this job sees it.
        order: finish ids in the order of the ranking, to tell the best first.
    """
    if facts.get("pour_ahead") is not True:
        return ()
    asked: dict[str, list[str]] = {}
    kept = {judged.finish for judged in judgements if judged.verdict != "does-not-suit"}
    for judged in judgements:
        for finding in judged.findings if judged.finish in kept else ():
            if finding.met == "yes" and finding.effect in {"caution", "hold"} and _of_the_pour(finding, catalog):
                asked.setdefault(finding.because, []).append(judged.finish)
    for id_ in order:
        for sentence in catalog.finishes[id_].before_the_pour if id_ in kept else ():
            asked.setdefault(sentence, []).append(id_)
    return tuple(_with_names(sentence, ids, len(kept), catalog) for sentence, ids in asked.items())


def _of_the_pour(finding: Finding, catalog: Catalog) -> bool:
    """Return whether a rule speaks of a pour that lies ahead: it is told there, not among the cautions."""
    return catalog.rules[finding.rule].when.get("pour_ahead") is True


def none_fits(judgements: Sequence[Judgement], facts: Values, catalog: Catalog) -> str | None:
    """Return what would serve outside the list where every finish of it is ruled out, else None.

    Args:
        judgements: every finish judged.
        facts: every fact of the floor, None where it is unknown.
        catalog: the kinds of finish outside the list.
    """
    if any(judged.verdict != "does-not-suit" for judged in judgements):
        return None
    holds = {id_: truth(kind.when, facts) for id_, kind in catalog.outside_kinds.items()}
    serving = [catalog.outside_kinds[id_].sentence for id_, met in holds.items() if met]
    if not serving:
        serving = [
            f"If {describe(undecided_part(kind.when, facts), catalog.facts)}: {kind.sentence}"
            for id_, kind in catalog.outside_kinds.items()
            if holds[id_] is None
        ]
    return " ".join(["None of the finishes here fits this floor.", *_sentences(serving or [_reasons(judgements)])])


def _reasons(judgements: Sequence[Judgement]) -> str:
    """Return the reason that rules out most finishes."""
    counts: dict[str, int] = {}
    for judged in judgements:
        for finding in judged.findings:
            if finding.effect == "forbid" and finding.met == "yes":
                counts[finding.because] = counts.get(finding.because, 0) + 1
    most = max(counts, key=lambda because: (counts[because], because))
    return f"What rules out most of them: {most}."


# --- what is down already -------------------------------------------------------------------------------------------


def out_of_reach(floor: Floor, judgements: Sequence[Judgement], catalog: Catalog) -> tuple[str, ...]:
    """Return what can still be reached from what is down, and what is lost short of taking it off.

    The decided finish counts as begun once one of its layers is among the layers down or the material used. Where
    something else is down, the client has changed the finish: then only that is lost which every finish made of these
    layers closes.
    """
    begun = _begun(floor, catalog)
    if not begun:
        return ()
    closed = [set(finish.closes) for finish in begun]
    lost = [id_ for id_ in catalog.finishes if all(id_ in ids for ids in closed)]
    taken = {*lost, begun[0].id} if len(begun) == 1 else set(lost)
    left = [one.finish for one in judgements if one.verdict != "does-not-suit" and one.finish not in taken]
    lies = " and ".join(word.replace("-", " ") for word in sorted(_down(floor, catalog)))
    there = f"{begun[0].name} is begun" if len(begun) == 1 else f"On the slab lies {lies}"
    reach = f"can still be reached: {_names(left, catalog)}" if left else "no other finish can be reached"
    told = [f"{there}; from here {reach}."]
    if lost:
        told.append(f"Out of reach without taking it off: {_names(lost, catalog)}.")
    return tuple(told)


def _begun(floor: Floor, catalog: Catalog) -> tuple[Finish, ...]:
    """Return the decided finish where it is begun, else the finishes that what lies on the slab makes up."""
    decided = catalog.finishes.get(floor.decision.finish) if floor.decision else None
    listed = {layer.material for layer in floor.layers_down}
    laid = {row.material for row in floor.used}
    if decided and (_materials(decided) & laid or _chemistries(decided, catalog) & listed):
        return (decided,)
    down = _down(floor, catalog)
    made = [finish for finish in catalog.finishes.values() if set() < _chemistries(finish, catalog) <= down]
    most = max((len(_chemistries(finish, catalog)) for finish in made), default=0)
    return tuple(finish for finish in made if len(_chemistries(finish, catalog)) == most)


def _down(floor: Floor, catalog: Catalog) -> set[str]:
    """Return the chemistries that lie on the slab, by the layers listed and the material used."""
    used = [catalog.materials[row.material].chemistry for row in floor.used if row.material in catalog.materials]
    return {layer.material for layer in floor.layers_down} | set(used) - {"supply"}


def _materials(finish: Finish) -> set[str]:
    return {layer.material for layer in finish.layers}


def _chemistries(finish: Finish, catalog: Catalog) -> set[str]:
    return {catalog.materials[id_].chemistry for id_ in _materials(finish)} - {"supply"}


# --- words ----------------------------------------------------------------------------------------------------------


def _with_names(sentence: str, ids: Sequence[str], out_of: int, catalog: Catalog) -> str:
    """Return a sentence with the finishes that it speaks of behind it, where they are not all."""
    ended = _ended(sentence)
    if len(ids) == out_of:
        return ended
    if len(ids) <= _FEW:
        return f"{ended} ({_names(ids, catalog)})"
    return f"{ended} ({_names(ids[: _FEW - 1], catalog)}; and {len(ids) - _FEW + 1} more)"


def _names(ids: Iterable[str], catalog: Catalog) -> str:
    return "; ".join(catalog.finishes[id_].name for id_ in ids)


def _sentences(texts: Iterable[str]) -> list[str]:
    return [_ended(text) for text in texts]


def _ended(sentence: str) -> str:
    return sentence if sentence.endswith((".", "!", "?")) else f"{sentence}."


def matters(finding: Finding, *, ruled_out: bool) -> bool:
    """Return whether a finding is a reason to be told: what is met, and what is open and bears on the verdict."""
    if finding.met == "unknown":
        return finding.effect in {"forbid", "hold", "require"} and not ruled_out
    return finding.met == "yes"


def weightiest_first(finding: Finding, catalog: Catalog) -> tuple[int, int, int]:
    """Return what reasons are sorted by: what is met, then what bears most on the verdict, then the greatest weight."""
    weight = catalog.rules[finding.rule].weight
    return MET_ORDER.index(finding.met), EFFECT_ORDER.index(finding.effect), -weight
