"""Work that rules ask for: certain where the rule is met, possible where a fact that it reads is unknown."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from finishadvisor.catalog.models import Catalog, Fact
from finishadvisor.records.finding import Finding
from finishadvisor.works.stack import LAYER_PHASE, Piece, item_piece, work_item


def with_required(pieces: Sequence[Piece], findings: Sequence[Finding], catalog: Catalog) -> tuple[Piece, ...]:
    """Return the tasks of a finish together with those that its findings require.

    A work item stands once, however many rules ask for it: certain if any of them is met. What the finish holds
    already is not added again. Work between layers goes before the last coat.
    """
    asked = _asked_for(findings, catalog)
    held = {piece.item.id for piece in pieces if piece.material is None}
    added = [piece for id_, piece in asked.items() if id_ not in held]
    coats = [n for n, piece in enumerate(pieces) if piece.coat is not None]
    before_last = coats[-1] if coats else len(pieces)
    return (
        *pieces[:before_last],
        *(piece for piece in added if piece.phase == LAYER_PHASE),
        *pieces[before_last:],
        *(piece for piece in added if piece.phase != LAYER_PHASE),
    )


def _asked_for(findings: Sequence[Finding], catalog: Catalog) -> dict[str, Piece]:
    """Return required work by work item; met requirements come first, so that the reason given is the firmest."""
    asked: dict[str, Piece] = {}
    required = [finding for finding in findings if finding.effect == "require" and finding.met != "no"]
    for finding in sorted(required, key=lambda finding: finding.met != "yes"):
        if finding.work_item is None:
            continue
        certain = finding.met == "yes"
        piece = item_piece(
            work_item(finding.work_item, catalog),
            finding.because if certain else f"{finding.because} (not yet known: {_names(finding, catalog.facts)})",
            rule=finding.rule,
            certain=certain,
            source=finding.source,
        )
        before = asked.get(finding.work_item)
        if before is None:
            asked[finding.work_item] = piece
        elif certain or not before.certain:
            asked[finding.work_item] = replace(before, why=f"{before.why}; {piece.why}")
    return asked


def _names(finding: Finding, facts: Mapping[str, Fact]) -> str:
    missing = finding.missing or tuple(name for name, value in finding.facts.items() if value is None)
    return ", ".join(facts[name].label if name in facts else name for name in missing) or "an open fact"
