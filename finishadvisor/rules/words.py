"""Conditions in words, for reasons that a client reads: "slab RH is below 80 %"."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

from finishadvisor.catalog.models import Fact

Condition = Mapping[str, Any]

_OPPOSITE: Final = {"below": "at_least", "at_most": "above", "at_least": "below", "above": "at_most"}
_UNKNOWN: Final = "unknown"
"""The word of a fact that something is there and nobody knows what; its opposite is told in one word."""
_FEW: Final = 3
"""A list of allowed words is told by what it leaves out where that is shorter, up to this many words."""


def describe(when: Condition, facts: Mapping[str, Fact]) -> str:
    """Return a condition in words: "place is outdoors and slab RH is at least 80 %"."""
    return _all(when, facts, holds=True)


def describe_not(when: Condition, facts: Mapping[str, Fact]) -> str:
    """Return in words when a condition does not hold: "place is not outdoors or slab RH is below 80 %"."""
    return _all(when, facts, holds=False)


def _all(when: Condition, facts: Mapping[str, Fact], *, holds: bool) -> str:
    parts = [_part(key, wanted, facts, holds=holds) for key, wanted in when.items()]
    return _join(parts, "and" if holds else "or")


def _part(key: str, wanted: Any, facts: Mapping[str, Fact], *, holds: bool) -> str:
    if key == "not":
        return _all(wanted, facts, holds=not holds)
    if key == "any_of":
        return _join([_all(branch, facts, holds=holds) for branch in wanted], "or" if holds else "and")
    return _fact_in_words(facts[key], wanted, holds=holds)


def _join(parts: Iterable[str], word: str) -> str:
    """Join sentences; a comma keeps them apart where one of them holds an "and" or "or" of its own."""
    kept = list(dict.fromkeys(parts))
    comma = "," if any(inner in part for part in kept for inner in (" and ", " or ")) else ""
    return f"{comma} {word} ".join(kept)


def _fact_in_words(fact: Fact, wanted: Any, *, holds: bool) -> str:
    if fact.phrases and (phrase := _phrase(fact, wanted, holds=holds)) is not None:
        return phrase
    begin = f"{fact.label} {'are' if fact.plural else 'is'}"
    if isinstance(wanted, Mapping):
        return f"{begin} {_bounds_in_words(wanted, fact, holds=holds)}"
    values = wanted if isinstance(wanted, list | tuple) else [wanted]
    if fact.type == "flag":
        return _flag_in_words(fact, yes=(True in values) == holds)
    if fact.type == "word":
        return f"{begin} {_words_in_words(values, fact, holds=holds)}"
    numbers = [_number(value, fact) for value in values]
    return f"{begin} {_one_of(numbers) if holds else _none_of(numbers)}"


def _phrase(fact: Fact, wanted: Any, *, holds: bool) -> str | None:
    """Return the sentence that the catalog has for a condition on a fact, None where it has none."""
    if isinstance(wanted, Mapping):
        bounds = [(name if holds else _OPPOSITE[name], bound) for name, bound in wanted.items()]
        if len(bounds) != 1 or bounds[0][0] not in fact.phrases:
            return None
        return fact.phrases[bounds[0][0]].replace("{}", _number(bounds[0][1], fact))
    named = wanted if isinstance(wanted, list | tuple) else [wanted]
    meant = [value for value in fact.values or () if (value in named) == holds]
    left_out = [value for value in fact.values or () if value not in meant]
    for words, key in ((meant, "{}"), (left_out, "not {}")):
        if len(words) == 1 and (said := fact.phrases.get(key.format(words[0]))) is not None:
            return said
    return None


def _flag_in_words(fact: Fact, *, yes: bool) -> str:
    phrase = fact.yes if yes else fact.no
    return phrase if phrase is not None else f"{fact.label}: {'yes' if yes else 'no'}"


def _words_in_words(values: Iterable[Any], fact: Fact, *, holds: bool) -> str:
    named = [value for value in fact.values or () if value in values]
    others = [value for value in fact.values or () if value not in values]
    if named == [_UNKNOWN] and not holds:
        return "known"
    wanted, unwanted = (named, others) if holds else (others, named)
    if len(wanted) <= _FEW or len(wanted) <= len(unwanted):
        return _one_of([word_in_words(word, fact) for word in wanted])
    return _none_of([word_in_words(word, fact) for word in unwanted])


def _bounds_in_words(bounds: Mapping[str, float], fact: Fact, *, holds: bool) -> str:
    names = bounds if holds else {_OPPOSITE[name]: bound for name, bound in bounds.items()}
    parts = [f"{name.replace('_', ' ')} {_number(bound, fact)}" for name, bound in names.items()]
    return (" and " if holds else " or ").join(parts)


def _number(value: float, fact: Fact) -> str:
    """Return a number with its unit; a unit that the label names already is not said again."""
    if not fact.unit or fact.unit == "year" or fact.unit in fact.label.split():
        return f"{value:g}"
    return f"{value:g} {fact.unit.removesuffix('s') if value == 1 else fact.unit}"


def word_in_words(word: str, fact: Fact) -> str:
    """Return a value as it reads inside a sentence: "US national", "acid stain"."""
    return fact.words.get(word) or word.replace("-", " ")


def _one_of(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


def _none_of(words: list[str]) -> str:
    return f"not {words[0]}" if len(words) == 1 else f"neither {', '.join(words[:-1])} nor {words[-1]}"
