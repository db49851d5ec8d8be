"""Damages the shipped rules one by one and prints every damage that no case notices.

Each rule is deleted in turn, and each limit is moved up and down by one unit of its last printed digit. Run as
`python -m tests.cases.mutate_rules`; it ends with 1 where a damage survives.
"""

import sys
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from finishadvisor.catalog.models import Rule
from finishadvisor.records.finding import Finding
from finishadvisor.rules.conditions import BOUNDS
from finishadvisor.rules.evaluate import try_rules
from tests.cases.floors import Floor, Rules, findings, floors, limits, shipped, values_of, verdict

Damage = tuple[str, str, Rule | None]
"""What was done, the rule's id, and the rule as it is now (None: deleted)."""


def damages(rules: tuple[Rule, ...]) -> Iterator[Damage]:
    """Yield every damage to every rule."""
    for rule in rules:
        yield f"{rule.id} deleted", rule.id, None
        for when, what in _moved(rule.when):
            yield f"{rule.id} {what}", rule.id, rule.model_copy(update={"when": when})


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


class Bench:
    """Every case with its findings, so that a damaged rule alone has to be tried again."""

    def __init__(self, rules: Rules) -> None:
        self.rules = rules
        self.cases = [*floors(), *(floor for _, floor in limits())]
        self.values = [values_of(floor, rules.facts) for floor in self.cases]
        self.tried: list[dict[str, dict[str, Finding]]] = [
            {
                finish: {finding.rule: finding for finding in findings(rules, finish, values)}
                for finish in {*floor.verdicts, *floor.reasons, *floor.undecided, *floor.not_met}
            }
            for floor, values in zip(self.cases, self.values, strict=True)
        ]

    def notices(self, rule_id: str, damaged: Rule | None) -> bool:
        """Return whether at least one case fails under the damage."""
        return any(self._fails(number, floor, rule_id, damaged) for number, floor in enumerate(self.cases))

    def _fails(self, number: int, floor: Floor, rule_id: str, damaged: Rule | None) -> bool:
        for finish, sound in self.tried[number].items():
            if rule_id not in sound:
                continue
            now = {name: finding for name, finding in sound.items() if name != rule_id}
            if damaged is not None:
                subject = self.rules.subjects[finish]
                for finding in try_rules([damaged], subject, self.values[number], self.rules.facts):
                    now[finding.rule] = finding
            if self._disagrees(floor, finish, now):
                return True
        return False

    def _disagrees(self, floor: Floor, finish: str, tried: dict[str, Finding]) -> bool:
        expected = floor.verdicts.get(finish)
        if expected is not None and verdict(tuple(tried.values()), self.rules.facts) != expected:
            return True
        wanted = (("yes", floor.reasons), ("unknown", floor.undecided), ("no", floor.not_met))
        return any(rule not in tried or tried[rule].met != met for met, told in wanted for rule in told.get(finish, ()))


def survivors() -> list[str]:
    """Return every damage that no case notices."""
    rules = shipped()
    bench = Bench(rules)
    return [what for what, rule_id, damaged in damages(rules.rules) if not bench.notices(rule_id, damaged)]


if __name__ == "__main__":
    left = survivors()
    for what in left:
        print(what)
    print(f"{len(left)} of {sum(1 for _ in damages(shipped().rules))} damages survive")
    sys.exit(1 if left else 0)
