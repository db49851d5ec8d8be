"""What blocks the plan, in words: spans of one task and one reason told together."""

from collections.abc import Sequence
from dataclasses import dataclass

from finishadvisor.papers.wording import moment_text
from finishadvisor.records.plan import Blocked


@dataclass(frozen=True)
class BlockedWords:
    """One task, when it is blocked, and why."""

    task: str
    when: str
    why: str


def blocked_words(blocked: Sequence[Blocked], units: str = "us") -> list[BlockedWords]:
    """Return what blocks, in order; a reason that comes back day after day is told once, with how often it comes."""
    together: dict[tuple[str, str], list[Blocked]] = {}
    for span in blocked:
        together.setdefault((span.task, span.why), []).append(span)
    return [BlockedWords(task, _when(spans, units), why) for (task, why), spans in together.items()]


def _when(spans: Sequence[Blocked], units: str) -> str:
    often = f", {len(spans)} times" if len(spans) > 1 else ""
    return f"{moment_text(spans[0].start, units)} to {moment_text(spans[-1].end, units)}{often}"
