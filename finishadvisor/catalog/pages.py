"""Makes the pages of docs/ that list the catalog: `python -m finishadvisor.catalog.pages docs`."""

import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Final

from finishadvisor.catalog.evenness_limits import evenness_limits
from finishadvisor.catalog.load import load_catalog, shipped_files
from finishadvisor.catalog.models import Catalog, Fact, Finish, Layer, Rule
from finishadvisor.catalog.page_words import (
    CLASS_WIDE,
    bullets,
    code,
    condition_words,
    plain,
    range_words,
    source_words,
    sources_words,
)
from finishadvisor.catalog.read import read_rows
from finishadvisor.catalog.references import PLURALS
from finishadvisor.catalog.row import Row, Source, SourceRef
from finishadvisor.catalog.supply_pages import material_entry, work_item_entry

_MADE: Final = "<!-- Made by `python -m finishadvisor.catalog.pages docs`; change the catalog, not this page. -->"
_EFFECTS: Final = {
    "forbid": "forbids",
    "hold": "holds",
    "require": "requires",
    "caution": "cautions",
    "favor": "speaks for it",
    "against": "speaks against it",
}


def pages(catalog: Catalog) -> dict[str, str]:
    """Return every page by its file name."""
    work = (*map(work_item_entry, catalog.work_items.values()), _cautions(catalog))
    return {
        "finishes.md": _page("Finishes", CLASS_WIDE, map(_finish, catalog.finishes.values())),
        "materials.md": _page("Materials", CLASS_WIDE, map(material_entry, catalog.materials.values())),
        "work.md": _page("Work items", CLASS_WIDE, work),
        "facts.md": _page("Facts", _FACTS, map(_fact, catalog.facts.values())),
        "rules.md": _page("Rules", _RULES, _rules(catalog)),
        "sources.md": _page("Sources", _SOURCES, _sources(catalog)),
    }


_FACTS: Final = (
    "What rules may ask about. A **choice** can be answered today; a **gate** needs a test or a check on the slab. "
    "Answers go into `[floor.answers]` of job.toml under these names. A fact that is not answered follows from others "
    "where that is said, else it stays unknown and is asked for."
)
_RULES: Final = """Each rule speaks of some finishes, or of a cause of uneven shade, and holds when its conditions on
[facts](facts.md) hold. Nothing but these rows decides a verdict.

Your own rows, rules or any other, take the same form: put them into a TOML file and name it under `[own_files]` of
job.toml. A row with a known id replaces the one of the catalog, a new id joins it. Every result says which of your
rows it used.

```toml
[[rule]]
id = "no-epoxy-on-porch"
about = { layer = "epoxy" }
when = { use = "porch" }
effect = "forbid"
because = "We do not lay epoxy on porches"
source = { id = "our-choice", reason = "Two of ours chalked within a year." }
```"""
_SOURCES: Final = (
    "On whose word the catalog stands. `common-practice` and `our-choice` are no documents and say so wherever they "
    "stand."
)


def _page(title: str, words: str, parts: Iterable[str]) -> str:
    return "\n".join([f"# {title}\n\n{_MADE}\n\n{words}\n", *parts])


# --- finishes --------------------------------------------------------------------------------------------------------


def _finish(finish: Finish) -> str:
    facts = [
        f"Family {finish.family}; cover {finish.cover}; film {finish.film}; sheen {', '.join(finish.sheen)}; "
        f"deepens the color: {finish.deepens}",
        f"Preparation: {code(finish.preparation)}",
        *(_layer(number, layer) for number, layer in enumerate(finish.layers, start=1)),
        f"Afterwards: {code(finish.afterwards)}",
        _upkeep(finish),
        f"Touch-up: {finish.upkeep.touch_up}",
        f"Look {finish.merits.look:g}, wear {finish.merits.wear:g}, upkeep {finish.merits.upkeep:g}, grip when wet "
        f"{finish.merits.slip:g} of 10",
        f"Closes: {code(finish.closes)}",
        f"Source: {sources_words(finish.source, finish.source_of)}",
    ]
    lists = {
        "Before the pour": finish.before_the_pour,
        "Care": finish.upkeep.care,
        "What could go wrong": finish.goes_wrong,
    }
    told = "\n".join(f"{head}:\n\n{bullets(lines)}" for head, lines in lists.items() if lines)
    return f"## {finish.name}\n\n`{finish.id}`. {finish.look}\n\n{bullets(facts)}\n{told}"


def _layer(number: int, layer: Layer) -> str:
    coats = f", {layer.coats} coats" if layer.coats > 1 else ""
    into = f", into the wet {layer.into}" if layer.into else ""
    before = f"; before it {code(layer.before)}" if layer.before else ""
    return f"Layer {number}, {layer.name}: `{layer.material}`{coats}{into}, by `{layer.work_item}`{before}"


def _upkeep(finish: Finish) -> str:
    upkeep = finish.upkeep
    parts = [f"Inspect every {upkeep.inspect_months:g} months: {', '.join(upkeep.look_for)}?"]
    if upkeep.recoat_years:
        parts.append(f"recoat as found, after {range_words(upkeep.recoat_years, 'years')}")
    if upkeep.renew_years:
        parts.append(f"renew after {range_words(upkeep.renew_years, 'years')}")
    return "; ".join(parts)


def _cautions(catalog: Catalog) -> str:
    lines = [f"`{row.id}`: {row.sentence} ({source_words(row.source)})" for row in catalog.cautions.values()]
    return f"## Cautions\n\n{bullets(lines)}"


# --- facts and rules -------------------------------------------------------------------------------------------------


def _fact(fact: Fact) -> str:
    if fact.values:
        answer = f"one of {code(fact.values)}"
    elif fact.type == "flag":
        answer = "`true` or `false`"
    else:
        ends = [f"{word} {end:g}" for word, end in (("from", fact.least), ("to", fact.most)) if end is not None]
        answer = " ".join(["a number", *([f"in {fact.unit}"] if fact.unit else []), *ends])
    lines = [f"A {fact.kind}: {answer}", f"How: {fact.how}"]
    lines += [f"Time until it is known: {fact.effort_hours:g} h"] if fact.effort_hours else []
    lines += [f"Where not answered: {_toml_value(row.value)} when {condition_words(row.when)}" for row in fact.follows]
    lines += [f"Source: {source_words(fact.source)}"]
    return f"## {fact.label}\n\n`{fact.id}`: {fact.question}\n\n{bullets(lines)}"


def _toml_value(value: str | float | bool) -> str:
    return f"`{str(value).lower() if isinstance(value, bool) else value}`"


def _rules(catalog: Catalog) -> Iterator[str]:
    """Yield the rules by the file that they stand in."""
    for path in shipped_files():
        ids = [row.id for row in read_rows(path) if row.table == "rule"]
        rules = [catalog.rules.get(id_) or catalog.cause_rules[id_] for id_ in ids]
        if rules:
            yield f"## {plain(path.stem).capitalize()}\n\n{bullets(map(_rule, rules))}"
    outside = [
        f"`{kind.id}` when {condition_words(kind.when)}: {kind.sentence} ({source_words(kind.source)})"
        for kind in catalog.outside_kinds.values()
    ]
    if outside:
        yield f"## When nothing of the list fits\n\n{bullets(outside)}"


def _rule(rule: Rule) -> str:
    work = f" `{rule.work_item}`" if rule.work_item else ""
    answer = f", unless `{rule.answered_by}` is required" if rule.answered_by else ""
    effect = "rules it out" if rule.effect == "forbid" and "cause" in rule.about else _EFFECTS[rule.effect]
    weight = f" (weight {rule.weight})" if rule.effect in {"favor", "against"} else ""
    about = ", ".join(f"{plain(key)} {_either(words)}" for key, words in rule.about.items())
    return (
        f"`{rule.id}` **{effect}**{work}{weight}, for {about}; {_when(rule)}{answer}: {rule.because}. "
        f"({source_words(rule.source)})"
    )


def _when(rule: Rule) -> str:
    return f"when {condition_words(rule.when)}" if rule.when else "always"


def _either(words: str | tuple[str, ...]) -> str:
    return words if isinstance(words, str) else " or ".join(words)


# --- sources ---------------------------------------------------------------------------------------------------------


def _sources(catalog: Catalog) -> Iterator[str]:
    counts = _citations(catalog)
    for source in sorted(catalog.sources.values(), key=lambda row: row.title.casefold()):
        yield _source(source, counts[source.id])


def _source(source: Source, count: int) -> str:
    year = f" ({source.year})" if source.year else ""
    lines = [source.note] if source.note else []
    lines.append(f"Cited by {count} {'row' if count == 1 else 'rows'}")
    return f"## {source.id}\n\n{source.title}{year}\n\n{bullets(lines)}"


def _citations(catalog: Catalog) -> Counter[str]:
    tables: list[Mapping[str, Row]] = [getattr(catalog, name) for name in (*PLURALS.values(), "cause_rules")]
    tables.append(evenness_limits())
    counts: Counter[str] = Counter()
    for row in (row for rows in tables for row in rows.values()):
        refs: list[SourceRef] = [*getattr(row, "source_of", {}).values()]
        counts.update({ref.id for ref in [*refs, *filter(None, [getattr(row, "source", None)])]})
    return counts


def main(folder: Path) -> None:
    """Write every page into a folder."""
    for name, text in pages(load_catalog()).items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
