"""The part of a catalog's check that needs to understand conditions."""

from collections.abc import Iterable, Mapping

from finishadvisor.catalog.models import Catalog, Fact, Rule
from finishadvisor.errors import CatalogError
from finishadvisor.rules.conditions import check_condition, check_value


def check_conditions(catalog: Catalog) -> None:
    """Refuse a catalog in which a rule, an outside kind or a fact asks for a fact or a value that does not exist.

    Raises:
        CatalogError: names the table and the row, what is wrong, what is allowed and the nearest right name.
    """
    own_files = _own_files(catalog.own_rows)
    for rule in (*catalog.rules.values(), *catalog.cause_rules.values()):
        where = _where("rule", rule.id, own_files)
        check_condition(rule.when, catalog.facts, where)
        _check_work_item(rule, where)
    for kind in catalog.outside_kinds.values():
        check_condition(kind.when, catalog.facts, _where("outside_kind", kind.id, own_files))
    for fact in catalog.facts.values():
        _check_follows(fact, catalog.facts, _where("fact", fact.id, own_files))


def _own_files(own_rows: Iterable[str]) -> Mapping[str, str]:
    """Return the file of each of the user's own rows, by table and id: "rule no-epoxy-on-porch" in "my-rules.toml"."""
    return {row: file.removesuffix(")") for row, _, file in (name.partition(" (") for name in own_rows)}


def _where(table: str, row_id: str, own_files: Mapping[str, str]) -> str:
    """Return table and row, led by the user's file where the row is the user's own."""
    file = own_files.get(f"{table} {row_id}")
    return f'{file}, {table} "{row_id}"' if file else f'{table} "{row_id}"'


def _check_work_item(rule: Rule, where: str) -> None:
    if rule.effect == "require" and rule.work_item is None:
        raise CatalogError(f"{where}: it requires something; name the work that it adds (work_item).")
    if rule.effect != "require" and rule.work_item is not None:
        raise CatalogError(
            f'{where}: it names work item "{rule.work_item}", but its effect is "{rule.effect}"; only "require" adds '
            "work. Leave work_item out or change the effect."
        )


def _check_follows(fact: Fact, facts: Mapping[str, Fact], where: str) -> None:
    for row in fact.follows:
        check_condition(row.when, facts, where)
        check_value(row.value, fact, where)
