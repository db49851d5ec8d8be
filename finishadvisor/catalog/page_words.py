"""How the pages of docs/ put ranges, sources and conditions into words."""

from collections.abc import Iterable, Mapping
from typing import Any

from finishadvisor.catalog.row import Range, SourceRef

CLASS_WIDE = (
    "Figures are class-wide ranges from common practice. The technical data sheet of the product at hand, the safety "
    "data sheet, local code and licensed practice always win; so do your own rows and prices."
)


def range_words(band: Range, unit: str = "") -> str:
    """Return "5 to 15, usually 8 %", or one number where the ends are the same."""
    behind = f" {unit}" if unit else ""
    if band.low == band.high:
        return f"{band.expected:g}{behind}"
    if band.expected in {band.low, band.high}:
        return f"{band.low:g} to {band.high:g}{behind}"
    return f"{band.low:g} to {band.high:g}, usually {band.expected:g}{behind}"


def share_words(band: Range) -> str:
    """Return a share as a range in percent."""
    return range_words(Range(low=band.low * 100, expected=band.expected * 100, high=band.high * 100), "%")


def source_words(source: SourceRef) -> str:
    """Return a citation as a link to its entry on the page of sources."""
    memory = "from memory" if source.from_memory else None
    behind = [words.rstrip(".") for words in (source.clause, source.reason, memory) if words]
    return f"[{source.id}](sources.md#{source.id})" + "".join(f", {words}" for words in behind)


def sources_words(source: SourceRef, of_keys: Mapping[str, SourceRef]) -> str:
    """Return the citation of a row, with those of single keys behind it."""
    keyed = [f"{plain(key)}: {source_words(ref)}" for key, ref in of_keys.items()]
    return "; ".join([source_words(source), *keyed])


def condition_words(when: Mapping[str, Any]) -> str:
    """Return a condition as it stands in a rule file, or "always"."""
    if not when:
        return "always"
    return ", ".join(f"`{key} = {_toml(value)}`" for key, value in when.items())


def _toml(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, Mapping):
        return f"{{ {', '.join(f'{key} = {_toml(inner)}' for key, inner in value.items())} }}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(_toml(inner) for inner in value)}]"
    return f"{value:g}"


def code(ids: Iterable[str]) -> str:
    """Return ids in code type, or "none"."""
    return ", ".join(f"`{id_}`" for id_ in ids) or "none"


def plain(key: str) -> str:
    """Return a key as words."""
    return key.replace("_", " ").replace("-", " ")


def bullets(lines: Iterable[str]) -> str:
    """Return a list, a line each."""
    return "".join(f"- {line}\n" for line in lines)


def table(head: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """Return a table with its head."""
    names = list(head)
    lines = [names, ["---"] * len(names), *rows]
    return "".join(f"| {' | '.join(line)} |\n" for line in lines)
