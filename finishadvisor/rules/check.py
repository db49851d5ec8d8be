"""The part of a catalog's check that needs to understand conditions."""

from collections.abc import Mapping

from finishadvisor.catalog.models import Catalog, Fact, Rule
from finishadvisor.errors import CatalogError
from finishadvisor.rules.conditions import check_condition, check_value


def check_conditions(catalog: Catalog) -> None:
    """Refuse a catalog in which a rule, an outside kind or a fact asks for a fact or a value that does not exist.

    Raises:
        CatalogError: names the table and the row, what is wrong, what is allowed and the nearest right name.
    """
    for rule in (*catalog.rules.values(), *catalog.cause_rules.values()):
        check_condition(rule.when, catalog.facts, f'rule "{rule.id}"')
        _check_work_item(rule)
    for kind in catalog.outside_kinds.values():
        check_condition(kind.when, catalog.facts, f'outside kind "{kind.id}"')
    for fact in catalog.facts.values():
        _check_follows(fact, catalog.facts)


def _check_work_item(rule: Rule) -> None:
    if rule.effect == "require" and rule.work_item is None:
        raise CatalogError(f'rule "{rule.id}" requires something; name the work that it adds (work_item).')
    if rule.effect != "require" and rule.work_item is not None:
        raise CatalogError(
            f'rule "{rule.id}" names work item "{rule.work_item}", but its effect is "{rule.effect}"; only "require" '
            "adds work. Leave work_item out or change the effect."
        )


def _check_follows(fact: Fact, facts: Mapping[str, Fact]) -> None:
    where = f'fact "{fact.id}"'
    for row in fact.follows:
        check_condition(row.when, facts, where)
        check_value(row.value, fact, where)
