"""Conditions on facts: their check, their three-valued truth, and what is left of them once some facts are known.

A condition is a TOML table that holds as a whole when every one of its keys holds:

    place = "outdoors"                      the fact equals the value
    winter = ["frost", "frost-and-salt"]    the fact is one of the values
    slab_rh_pct = { at_least = 80 }         below, at_most, at_least, above; two of them make a range
    not = { ... }                           the condition inside does not hold
    any_of = [{ ... }, { ... }]             at least one of the conditions inside holds

There is no expression language, so a rule file of a stranger is safe to load. An unknown fact makes what it stands in
unknown, unless the rest decides it (Kleene's strong three-valued logic).
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from finishadvisor.catalog.models import Fact
from finishadvisor.errors import CatalogError, nearest_of
from finishadvisor.records.finding import FactValue
from finishadvisor.rules.words import Condition, describe, describe_not

__all__ = [
    "Condition", "Values", "check_condition", "check_value", "describe", "describe_not", "facts_in", "truth",
    "undecided_part",
]  # fmt: skip

Values = Mapping[str, FactValue | None]

BOUNDS: Final[dict[str, Callable[[float, float], bool]]] = {
    "below": lambda value, bound: value < bound,
    "at_most": lambda value, bound: value <= bound,
    "at_least": lambda value, bound: value >= bound,
    "above": lambda value, bound: value > bound,
}
_UPPER: Final = ("below", "at_most")
_LOWER: Final = ("at_least", "above")


# --- check at load ---------------------------------------------------------------------------------------------------


def check_condition(when: object, facts: Mapping[str, Fact], where: str) -> None:
    """Refuse a condition that names an unknown fact or a value that the fact cannot have.

    Args:
        when: the condition as TOML gives it.
        facts: every fact by id.
        where: file and row, printed in front of the message.

    Raises:
        CatalogError: the condition cannot be used.
    """
    if not isinstance(when, Mapping):
        raise CatalogError(f"{where}: a condition is {when!r}; it must be a table of facts.")
    for key, wanted in when.items():
        if key == "not":
            check_condition(wanted, facts, where)
        elif key == "any_of":
            if not isinstance(wanted, list | tuple) or not wanted:
                raise CatalogError(f"{where}: any_of is {wanted!r}; it must be a list of one or more tables of facts.")
            for branch in wanted:
                check_condition(branch, facts, where)
        elif key in facts:
            _check_wanted(wanted, facts[key], where)
        else:
            hint = nearest_of(key, [*facts, "not", "any_of"])
            raise CatalogError(f'{where}: there is no fact "{key}".{hint} docs/facts.md lists all facts.')


def _check_wanted(wanted: object, fact: Fact, where: str) -> None:
    if isinstance(wanted, Mapping):
        _check_bounds(wanted, fact, where)
        return
    values = wanted if isinstance(wanted, list | tuple) else [wanted]
    if not values:
        raise CatalogError(f'{where}: the list for fact "{fact.id}" is empty; name at least one value.')
    for value in values:
        check_value(value, fact, where)


def check_value(value: object, fact: Fact, where: str) -> None:
    """Refuse a value that a fact cannot have.

    Raises:
        CatalogError: the value is of another type, not among the words, or out of range.
    """
    if fact.type == "flag" and not isinstance(value, bool):
        raise CatalogError(f'{where}: fact "{fact.id}" is {value!r}; it must be true or false.')
    if fact.type == "word" and value not in (fact.values or ()):
        hint = nearest_of(str(value), fact.values or ())
        allowed = ", ".join(fact.values or ())
        raise CatalogError(f'{where}: fact "{fact.id}" is {value!r}; it must be one of {allowed}.{hint}')
    if fact.type == "number":
        _check_number(value, fact, where)


def _check_number(value: object, fact: Fact, where: str) -> None:
    unit = f" {fact.unit}" if fact.unit else ""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise CatalogError(
            f'{where}: fact "{fact.id}" is {value!r}; it must be a number{" in" + unit if unit else ""}.'
        )
    least = float("-inf") if fact.least is None else fact.least
    most = float("inf") if fact.most is None else fact.most
    if not least <= value <= most:
        raise CatalogError(
            f'{where}: fact "{fact.id}" is {value:g}{unit}; it must lie between {least:g} and {most:g}{unit}.'
        )


def _check_bounds(bounds: Mapping[str, object], fact: Fact, where: str) -> None:
    if fact.type != "number":
        raise CatalogError(
            f'{where}: fact "{fact.id}" is no number, so it cannot be {", ".join(bounds)} something; '
            "give a value or a list of values."
        )
    for name, bound in bounds.items():
        if name not in BOUNDS:
            hint = nearest_of(name, BOUNDS)
            raise CatalogError(
                f'{where}: fact "{fact.id}" is compared by "{name}"; it must be one of {", ".join(BOUNDS)}.{hint}'
            )
        _check_number(bound, fact, where)
    lower = [name for name in bounds if name in _LOWER]
    upper = [name for name in bounds if name in _UPPER]
    if len(lower) > 1 or len(upper) > 1 or not bounds:
        raise CatalogError(f'{where}: fact "{fact.id}" must have one lower bound, one upper bound, or one of each.')
    if lower and upper and not bounds[lower[0]] < bounds[upper[0]]:  # type: ignore[operator]  # both are numbers by now
        raise CatalogError(
            f'{where}: fact "{fact.id}" cannot be {lower[0].replace("_", " ")} {bounds[lower[0]]} and '
            f"{upper[0].replace('_', ' ')} {bounds[upper[0]]} at once."
        )


# --- truth -----------------------------------------------------------------------------------------------------------


def truth(when: Condition, values: Values) -> bool | None:
    """Return whether a condition holds, or None where unknown facts leave it undecided."""
    undecided = False
    for key, wanted in when.items():
        holds = _truth_of_key(key, wanted, values)
        if holds is False:
            return False
        undecided = undecided or holds is None
    return None if undecided else True


def _truth_of_key(key: str, wanted: Any, values: Values) -> bool | None:
    if key == "not":
        inside = truth(wanted, values)
        return None if inside is None else not inside
    if key == "any_of":
        branches = [truth(branch, values) for branch in wanted]
        return True if True in branches else None if None in branches else False
    value = values.get(key)
    if value is None:
        return None
    if isinstance(wanted, Mapping):
        return all(BOUNDS[name](float(value), bound) for name, bound in wanted.items())
    if isinstance(wanted, list | tuple):
        return value in wanted
    return bool(value == wanted)


def facts_in(when: Condition) -> frozenset[str]:
    """Return the ids of the facts that a condition reads."""
    return frozenset(_fact_ids(when))


def _fact_ids(when: Condition) -> Iterator[str]:
    for key, wanted in when.items():
        if key == "not":
            yield from _fact_ids(wanted)
        elif key == "any_of":
            for branch in wanted:
                yield from _fact_ids(branch)
        else:
            yield key


def undecided_part(when: Condition, values: Values) -> Condition:
    """Return what is left of an undecided condition once its decided parts are dropped.

    The result holds exactly where the whole does, and every fact in it is unknown. A decided condition leaves nothing.
    """
    left: dict[str, Any] = {}
    if truth(when, values) is not None:
        return left
    for key, wanted in when.items():
        if _truth_of_key(key, wanted, values) is not None:
            continue
        if key == "not":
            left[key] = undecided_part(wanted, values)
        elif key == "any_of":
            left[key] = [undecided_part(branch, values) for branch in wanted if truth(branch, values) is None]
        else:
            left[key] = wanted
    return left
