"""What is said before a finish is ordered, planned or laid that does not suit its floor, or may not."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the words for one photo need no job
    from finishadvisor.records.advice import FinishAdvice
    from finishadvisor.records.whole import FloorOutcome


def doubt_of(finish: "FinishAdvice") -> str:
    """Return the sentence on a finish that does not suit, or of which it cannot be told yet; else ""."""
    if finish.verdict == "does-not-suit":
        return f"It does not suit this floor: {why_not(finish)}."
    if finish.verdict == "cannot-tell":
        return "Whether it suits this floor cannot be told yet."
    return ""


def doubt_of_chosen(outcome: "FloorOutcome") -> str:
    """Return the same of the finish that a floor is worked through with, "" where none is."""
    return next((doubt_of(finish) for finish in outcome.advice.finishes if finish.id == outcome.finish), "")


def why_not(finish: "FinishAdvice") -> str:
    """Return the first reason for which a finish does not suit, "" where there is none."""
    return next((r.because for r in finish.reasons if r.effect == "forbid" and r.met == "yes"), "")
