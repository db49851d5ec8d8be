"""Damages the shipped rules one by one and prints every damage that no case notices.

Each rule is deleted in turn, each limit is moved up and down by one unit of its last printed digit, each condition is
dropped, and each list is cut by one of its values. Run as `python -m tests.cases.mutate_rules`; it ends with 1 where a
damage survives.
"""

import sys
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from finishadvisor.catalog.models import Catalog, Rule
from finishadvisor.records.finding import FactValue, Finding
from finishadvisor.rules.conditions import BOUNDS
from finishadvisor.rules.evaluate import about_matches, try_rules
from tests.cases.floors import catalog, conditions, disagreements, floors, limits, subject, tried

Damage = tuple[str, str, Rule | None]
"""What was done, the rule's id, and the rule as it is now (None: deleted)."""


def damages() -> Iterator[Damage]:
    """Yield every damage to every rule."""
    for rule in catalog().rules.values():
        yield f"{rule.id} deleted", rule.id, None
        if rule.answered_by is not None:
            yield f"{rule.id} answered by nothing", rule.id, rule.model_copy(update={"answered_by": None})
        for when, what in (*_moved(rule.when), *_dropped(rule.when)):
            yield f"{rule.id}: {what}", rule.id, rule.model_copy(update={"when": when})


def _moved(when: Any) -> Iterator[tuple[Any, str]]:
    """Yield a condition with one of its limits moved, and which one."""
    if isinstance(when, list | tuple):
        for place, part in enumerate(when):
            for moved, what in _moved(part):
                yield [*when[:place], moved, *when[place + 1 :]], what
    elif isinstance(when, Mapping):
        for key, part in when.items():
            if key in BOUNDS:
                step = float(Decimal(1).scaleb(int(Decimal(str(part)).as_tuple().exponent)))
                for moved in (part + step, part - step):
                    yield {**when, key: round(moved, 9)}, f"{key} {part:g} moved to {moved:g}"
            else:
                for moved, what in _moved(part):
                    yield {**when, key: moved}, f"{key} {what}"


def _dropped(when: Mapping[str, Any]) -> Iterator[tuple[dict[str, Any], str]]:
    """Yield a condition without one of its keys, or with one value less in a list, and which."""
    for key, part in when.items():
        yield {name: other for name, other in when.items() if name != key}, f"{key} dropped"
        if isinstance(part, list | tuple):
            for value in part:
                yield {**when, key: [other for other in part if other != value]}, f"{key} without {value}"


class Bench:
    """Every case with its findings, so that a damaged rule alone has to be tried again."""

    def __init__(self) -> None:
        self.cases = [(case, case.values()) for case in (*floors(), *limits(), *conditions())]
        self.sound: list[dict[str, dict[str, Finding]]] = [
            {finish: {one.rule: one for one in tried(finish, values)} for finish in case.finishes()}
            for case, values in self.cases
        ]

    def notices(self, rule_id: str, damaged: Rule | None) -> bool:
        """Return whether at least one case fails under the damage."""
        rules = {**catalog().rules, **({damaged.id: damaged} if damaged else {})}
        rows = catalog().model_copy(update={"rules": rules})
        return any(self._fails(number, rule_id, damaged, rows) for number in range(len(self.cases)))

    def _fails(self, number: int, rule_id: str, damaged: Rule | None, rows: Catalog) -> bool:
        case, values = self.cases[number]
        for finish, sound in self.sound[number].items():
            if not about_matches(catalog().rules[rule_id].about, subject(finish)):
                continue
            found = self._found(damaged, finish, values, rows)
            if found == (sound[rule_id],):
                continue
            now = {**{name: one for name, one in sound.items() if name != rule_id}, **{one.rule: one for one in found}}
            if disagreements(case, finish, tuple(now.values()), values, rows):
                return True
        return False

    @staticmethod
    def _found(
        damaged: Rule | None, finish: str, values: Mapping[str, FactValue | None], rows: Catalog
    ) -> tuple[Finding, ...]:
        """Return what the damaged rule says, beside the rules that require what answers it."""
        if damaged is None:
            return ()
        work = damaged.answered_by
        beside = [rule for rule in rows.rules.values() if work is not None and rule.work_item == work]
        tried_together = try_rules([damaged, *beside], subject(finish), values, rows.facts)
        return tuple(finding for finding in tried_together if finding.rule == damaged.id)


def survivors() -> list[str]:
    """Return every damage that no case notices."""
    bench = Bench()
    return [what for what, rule_id, damaged in damages() if not bench.notices(rule_id, damaged)]


if __name__ == "__main__":
    left = survivors()
    for what in left:
        print(what)
    print(f"{len(left)} of {sum(1 for _ in damages())} damages survive")
    sys.exit(1 if left else 0)
