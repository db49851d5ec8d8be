"""Everything that was tried on one finish, for a person who asks why."""

from finishadvisor.records.advice import Verdict
from finishadvisor.records.base import Record
from finishadvisor.records.finding import Finding


class TriedRule(Record):
    """One rule that speaks of the finish: its condition in words, and what it said."""

    when: str
    """The condition in words: "slab RH is at least 80 %"; "always" where it has none."""
    finding: Finding
    source_title: str
    """The document, or that it is common practice or our own choice."""
    own: bool
    """True: the rule is a row of the user's own."""


class WhyFinish(Record):
    """Why a finish came out as it did on one floor: every rule tried, those that decide first."""

    floor: str
    finish: str
    name: str
    verdict: Verdict
    conditions: tuple[str, ...]
    closes: tuple[str, ...]
    """Names of the finishes that can no longer be reached once this one is down, short of taking it off."""
    own_rows: tuple[str, ...]
    """The user's own rows that are in force, rules and others."""
    tried: tuple[TriedRule, ...]
    facts_in_words: dict[str, str]
    """By fact id, for every fact that the rules read: its label and value, "slab RH: 82 %", "slab RH: not known"."""
