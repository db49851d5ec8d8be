"""The shipped catalog: it loads, nothing in it is idle, and what holds for a class holds for each of its rows."""

from collections.abc import Iterator

import pytest

from finishadvisor.catalog import load
from finishadvisor.catalog.evenness_limits import evenness_limits
from finishadvisor.catalog.load import check_shipped, load_catalog, shipped_files, shipped_finishes
from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.row import Row, SourceRef
from finishadvisor.catalog.sense import OUR_CHOICE
from finishadvisor.errors import CatalogError

CONTRACT = {
    "bare", "cure-and-seal", "repellent", "enhancer", "densified", "acrylic-water", "acrylic-solvent", "acrylic-tinted",
    "dye-acrylic", "grind-and-seal", "epoxy-urethane-clear", "epoxy-urethane-solid", "urethane-water",
    "polyaspartic-clear", "polyaspartic-flake", "polished-cream", "polished-salt-pepper", "polished-dyed",
}  # fmt: skip

REACTIVE = {"epoxy", "urethane", "polyaspartic"}


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return load_catalog()


def rows(catalog: Catalog) -> Iterator[Row]:
    for name in type(catalog).__struct_fields__:
        if name != "own_rows":
            yield from getattr(catalog, name).values()
    yield from evenness_limits().values()


def cited(catalog: Catalog) -> Iterator[SourceRef]:
    for row in rows(catalog):
        yield from [source for source in [getattr(row, "source", None)] if source]
        yield from getattr(row, "source_of", {}).values()


def test_the_shipped_rows_stand_up_to_the_checks_of_own_rows():
    check_shipped()


@pytest.mark.parametrize(
    ("sound", "broken", "told"),
    [
        ("weight = 0.", "weight = 1.", "share between 0 and 1"),
        ('id = "our-choice"', 'id = "our-choise"', 'no source "our-choise"'),
    ],
)
def test_the_check_of_the_shipped_rows_can_fail(tmp_path, monkeypatch, sound, broken, told):
    files = {path.name: path.read_text(encoding="utf-8") for path in shipped_files()}
    (name,) = [name for name in files if name == "criteria.toml"]
    files[name] = files[name].replace(sound, broken, 1)
    for each, text in files.items():
        (tmp_path / each).write_text(text, encoding="utf-8")
    monkeypatch.setattr(load, "DATA", tmp_path)
    load_catalog()
    with pytest.raises(CatalogError, match=told):
        check_shipped()


def test_every_finish_of_the_contract_is_there(catalog: Catalog):
    assert set(catalog.finishes) >= CONTRACT


def test_every_row_says_on_whose_word_it_stands(catalog: Catalog):
    unsourced = [row for row in rows(catalog) if not hasattr(row, "source") and row not in catalog.sources.values()]
    assert unsourced == []


def test_every_source_is_cited_and_every_citation_is_known(catalog: Catalog):
    assert {source.id for source in cited(catalog)} == set(catalog.sources)


def test_every_choice_of_ours_has_its_reason(catalog: Catalog):
    assert [source for source in cited(catalog) if source.id == OUR_CHOICE and not source.reason] == []


def test_what_a_finish_names_is_there(catalog: Catalog):
    for finish in catalog.finishes.values():
        named = {*finish.preparation, *finish.afterwards, *finish.upkeep.recoat_preparation}
        named |= {item for layer in finish.layers for item in (layer.work_item, *layer.before)}
        assert named <= set(catalog.work_items)
        assert {layer.material for layer in finish.layers} <= set(catalog.materials)
        assert set(finish.closes) <= set(catalog.finishes)


def test_every_material_is_used_by_something(catalog: Catalog):
    used = {layer.material for finish in catalog.finishes.values() for layer in finish.layers}
    used |= {use.material for item in catalog.work_items.values() for use in item.materials}
    used |= {name for row in (*catalog.work_items.values(), *catalog.materials.values()) for name in row.ppe}
    assert set(catalog.materials) - used == {"wet-film-gauge"}  # the order adds one where a film is laid


def test_every_caution_is_printed_with_something(catalog: Catalog):
    printed = {name for row in (*catalog.work_items.values(), *catalog.materials.values()) for name in row.cautions}
    assert printed == set(catalog.cautions)


def test_what_is_laid_has_a_coating_cure_and_air_limits(catalog: Catalog):
    for finish in catalog.finishes.values():
        for layer in finish.layers:
            material = catalog.materials[layer.material]
            if layer.into is None:
                assert material.limits is not None, material.id
                assert len(material.cure) >= 2, material.id


def test_reactive_films_have_pot_life_window_and_dew_margin(catalog: Catalog):
    reactive = [material for material in catalog.materials.values() if material.chemistry in REACTIVE]
    assert len(reactive) >= 10
    for material in reactive:
        assert material.kit, material.id
        assert material.mix_ratio, material.id
        assert all(point.pot_life_min and point.recoat_max_h for point in material.cure), material.id
        assert material.limits is not None, material.id
        assert material.limits.dew_margin_f == catalog.limits["dew-margin-f"].value, material.id


def test_solvents_state_a_flash_point_and_their_caution(catalog: Catalog):
    for material in catalog.materials.values():
        if material.carrier == "solvent":
            assert material.flash_point_f is not None, material.id
            assert {"flammable-solvent", "stripper"} & set(material.cautions), material.id


def test_a_color_that_a_second_lot_would_not_match_is_one_lot(catalog: Catalog):
    for finish in catalog.finishes.values():
        if finish.cover in {"tinted", "dyed", "solid", "flake"}:
            assert any(catalog.materials[layer.material].one_lot for layer in finish.layers), finish.id


def test_ground_and_polished_finishes_predict_no_sealed_look(catalog: Catalog):
    for finish in catalog.finishes.values():
        cuts = {item for layer in finish.layers for item in layer.before} | set(finish.preparation)
        if any(item.startswith(("grind-", "polish-")) for item in cuts):
            assert finish.sealed_look is None, finish.id


def test_what_grinds_under_a_clear_film_is_photographed_again(catalog: Catalog):
    for finish in catalog.finishes.values():
        items = [*finish.preparation, *(item for layer in finish.layers for item in layer.before)]
        if finish.cover in {"clear", "dyed"} and any(item.startswith(("grind-", "polish-")) for item in items):
            assert "photograph-after-preparation" in items, finish.id


def test_a_film_closes_what_needs_open_concrete(catalog: Catalog):
    needs_open = {"repellent", "enhancer", "densified", "reactive-stain-seal", "polished-cream"}
    for finish in catalog.finishes.values():
        if finish.film != "none":
            assert needs_open - {finish.id} <= set(finish.closes), finish.id


def test_a_cut_slab_never_becomes_cream_again(catalog: Catalog):
    for finish in catalog.finishes.values():
        if {"grind-light", "grind-csp-2-3", "polish-metal-40", "polish-metal-80"} & set(finish.preparation):
            assert {"polished-cream", "bare"} <= set(finish.closes), finish.id


def test_weights_of_the_criteria_add_up_to_one(catalog: Catalog):
    assert sum(criterion.weight for criterion in catalog.criteria.values()) == pytest.approx(1)


def test_names_of_materials_name_no_maker(catalog: Catalog):
    for material in catalog.materials.values():
        assert "®" not in material.name and "™" not in material.name


def test_a_title_leaves_the_clause_to_the_rows(catalog: Catalog):
    rows = (*catalog.rules.values(), *catalog.limits.values(), *catalog.cautions.values(), *catalog.work_items.values())
    said_twice = {
        (row.source.id, row.source.clause)
        for row in rows
        if row.source.clause and row.source.clause in catalog.sources[row.source.id].title
    }
    assert said_twice == set()


def test_the_finishes_alone_are_those_of_the_whole_catalog():
    assert shipped_finishes() == tuple(load_catalog().finishes.values())
