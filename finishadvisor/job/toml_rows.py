"""Rows of job.toml changed in place: in the form in which the person wrote them, comments where they were."""

from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.items import AoT, Comment, InlineTable, Null, Table, Whitespace

AnyTable = Table | InlineTable


def known(row: Mapping[str, Any]) -> dict[str, Any]:
    """Return the row without what is not known."""
    return {key: value for key, value in row.items() if value is not None}


def inline_row(row: Mapping[str, Any]) -> InlineTable:
    """Return the row as a table on one line."""
    table = tomlkit.inline_table()
    table.update(row)
    return table


def set_value(table: Any, key: str, value: Any) -> None:
    """Set a key, or take it away for None; lists of rows are written in one line."""
    if value is None:
        table.pop(key, None)
        return
    if isinstance(value, list) and value and isinstance(value[0], Mapping):
        rows = tomlkit.array()
        rows.extend(inline_row(row) for row in value)
        table.pop(key, None)
        value = rows
    if key in table or not isinstance(table, Table):
        table[key] = value
        return
    trailing = take_what_trails(table)
    table[key] = value
    for item in trailing:
        table.add(item)


def append_row(table: AnyTable, key: str, row: Mapping[str, Any]) -> None:
    """Add a row to a list of a table, in the form in which the list is written."""
    rows = table.get(key)
    if isinstance(table, InlineTable) or (rows is not None and not isinstance(rows, AoT)):
        set_value(table, key, [*(rows or ()), known(row)])
        return
    before = last_table(rows[-1] if rows else table)
    added = tomlkit.table()
    for name, value in known(row).items():
        set_value(added, name, value)
    trailing = take_what_trails(before)
    before.add(tomlkit.nl())
    for item in trailing:
        added.add(item)
    if rows is None:
        table.append(key, tomlkit.aot())
        rows = table[key]
    rows.append(added)
    added.trivia.indent = added.trivia.indent.lstrip("\n")  # a list made just now puts in a blank line of its own


def remove_row(table: AnyTable, key: str, number: int) -> None:
    """Take a row out of a list of a table, and the list with its last row."""
    rows = table[key]
    trailing = take_what_trails(last_table(rows[number])) if isinstance(rows, AoT) else []
    del rows[number]
    if not rows:
        table.pop(key)
    _put_behind(last_table(rows[max(number - 1, 0)]) if rows and trailing else table, trailing)


def remove_table(table: AnyTable, key: str) -> None:
    """Take a table out of another one, if it is there."""
    there = table.get(key)
    trailing = take_what_trails(last_table(there)) if isinstance(there, Table) else []
    table.pop(key, None)
    _put_behind(table, trailing)


def _put_behind(table: AnyTable, trailing: list[Comment | Whitespace]) -> None:
    """Put comments that stood behind something taken out behind what is left: they head what follows in the file."""
    if trailing and isinstance(table, Table):
        last = last_table(table)
        for item in trailing:
            last.add(item)


def last_table(table: Table) -> Table:
    """Return the table that ends last in the text: the table itself, or one inside it."""
    keyed = [item for key, item in table.value.body if key is not None]
    last = keyed[-1] if keyed else None
    if isinstance(last, AoT):
        return last_table(last[-1])
    return last_table(last) if isinstance(last, Table) else table


def take_what_trails(table: Table) -> list[Comment | Whitespace]:
    """Take the comments and blank lines off the end of a table: they head what follows in the file."""
    body = table.value.body
    trailing: list[Any] = []
    while body and body[-1][0] is None:
        trailing.insert(0, body.pop()[1])
    return [item for item in trailing if not isinstance(item, Null)]  # what was taken away leaves nothing behind
