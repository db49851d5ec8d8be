"""The client sheet: what a client may see, all of it, and nothing else."""

import io
import re
from dataclasses import replace

import pytest
from pypdf import PdfReader

from finishadvisor.papers.cautions import finish_cautions, floor_cautions
from finishadvisor.papers.client_options import work_words
from finishadvisor.papers.client_sheet import (
    MOST_OPTIONS,
    NONE_FITS,
    before_the_pour_of,
    by_finish,
    client_sheet,
    client_sheet_data,
    map_words,
    nothing_open_words,
    options_shown,
    questions_of,
)
from finishadvisor.papers.pictures import has_picture
from finishadvisor.papers.shade_map import shade_map_svg
from finishadvisor.papers.wording import money_range_text, money_text
from tests.papers.conftest import plain, squeezed

STEM = "glaze-room"
MEASURED_WORDS = ("CIEDE2000", "ΔE", "CIELAB", "L*", "CIB", "Belgian", "95 % within")


def amounts_in(text):
    return set(re.findall(r"[$€]\d[\d,]*", text))


def amounts_of(monies, currency):
    return {money_text(amount, currency) for m in monies if m for amount in (m.low, m.expected, m.high)}


def test_no_paper_for_a_client_bears_a_cost_of_the_contractors(example, example_printed):
    currency, floors = example.job.currency, example.floors
    finishes = [finish for outcome in floors for finish in outcome.advice.finishes]
    own = amounts_of((m for f in finishes for m in (f.first_cost, f.life_cost)), currency)
    own -= amounts_of((m for o in floors for m in (*o.selling_prices.values(), *o.life_prices.values())), currency)
    own = {amount for amount in own if not amount.endswith("00")}  # round amounts stand on the axes of charts
    assert len(own) > 50
    readers = [paper for paper in example_printed.values() if paper.paper.reader == "client"]
    assert len(readers) == 2 * 5
    for paper in readers:
        assert not amounts_in(paper.text) & own, paper.paper.name


def test_prices_equal_the_records(example, example_printed):
    for outcome in example.floors:
        text = sheet_of(outcome, example_printed).text
        for finish in options_shown(outcome):
            assert finish.name in text
            for money in (outcome.selling_prices[finish.id], outcome.life_prices[finish.id]):
                assert money_range_text(money, example.job.currency) in text


def test_no_color_difference_and_no_wall_class(example_printed):
    for name in (f"{STEM}-client-sheet.pdf", f"{STEM}-all-finishes.pdf", f"{STEM}-care-sheet.pdf"):
        for word in MEASURED_WORDS:
            assert word not in example_printed[name].text, (name, word)
    assert "CIEDE2000" in example_printed[f"{STEM}-evenness-report.pdf"].text


def test_every_caution_of_the_finishes_shown_is_there(example, example_printed):
    for outcome in example.floors:
        text = squeezed(sheet_of(outcome, example_printed).text)
        shown = options_shown(outcome)
        cautions = floor_cautions(shown)
        for finish in shown:
            added = [added.work_item for added in finish.adds]
            cautions += finish_cautions(example.catalog.finishes[finish.id], added, example.catalog)
        assert len(cautions) > 5
        for caution in cautions:
            assert squeezed(caution) in text, caution


def test_a_finish_names_every_caution_of_its_materials_and_work(example):
    catalog = example.catalog
    for finish in catalog.finishes.values():
        told = finish_cautions(finish, [], catalog)
        items = [*finish.preparation, *(i for layer in finish.layers for i in (layer.work_item, *layer.before))]
        wanted = {c for layer in finish.layers for c in catalog.materials[layer.material].cautions}
        wanted |= {c for item in items for c in catalog.work_items[item].cautions}
        assert {catalog.cautions[c].sentence for c in wanted} <= set(told), finish.id


def test_what_is_not_known_stands_with_the_test_that_would_tell(example, example_printed):
    outcome = example.floors[1]
    text = sheet_of(outcome, example_printed).text
    asked = questions_of(outcome.advice)
    assert len(asked) > 3
    for fact in asked:
        assert squeezed(fact.question) in squeezed(text)
        assert squeezed(fact.how) in squeezed(text)


def test_work_that_is_not_certain_stands_with_what_it_depends_on(example):
    outcome = example.floors[1]
    finish = next(finish for finish in options_shown(outcome) if any(" if " in told for told in finish.conditions))
    told = work_words(finish, example.catalog)
    assert len(told) == len(finish.adds)
    assert any(line.startswith("If white salts") and "lean white salts" in line for line in told)


def test_three_options_or_fewer_the_decided_one_first(example):
    outcome = example.floors[0]
    second = outcome.advice.finishes[1].id
    decided = replace(outcome, finish=second)
    shown = options_shown(decided)
    assert len(shown) == MOST_OPTIONS
    assert shown[0].id == second
    assert len({finish.id for finish in shown}) == MOST_OPTIONS


def test_each_option_has_a_picture_only_where_the_look_can_be_reckoned(example):
    for outcome in example.floors:
        sheet = client_sheet(example, outcome)
        for option, finish in zip(sheet.words["options"], options_shown(outcome), strict=True):
            drawn = has_picture(example.catalog.finishes[finish.id], example.catalog)
            assert (option["picture"] in sheet.pictures) == drawn
            if not drawn:
                assert option["picture_words"].startswith("Mock-up only")


def test_ground_and_polished_finishes_have_no_picture(example):
    catalog = example.catalog
    without = {id_ for id_, finish in catalog.finishes.items() if not has_picture(finish, catalog)}
    assert {"grind-and-seal", "polished-cream", "polished-salt-pepper", "polished-dyed"} <= without
    assert {"polyaspartic-flake", "epoxy-urethane-clear", "epoxy-urethane-solid"} <= without
    assert {"bare", "acrylic-solvent", "repellent"}.isdisjoint(without)


def test_without_a_photo_it_says_so(bare_bones):
    data = client_sheet_data(bare_bones, bare_bones.floors[0])
    assert all("photo" in option["picture_words"] for option in data["options"])
    assert all(option["price"] == "not known" for option in data["options"])


def test_amounts_that_rest_on_dollars_say_so_in_another_currency(metric_example, example):
    euros, dollars = (client_sheet_data(whole, whole.floors[0])["money_words"] for whole in (metric_example, example))
    assert "a usual US price in dollars is taken one for one" in euros
    assert "dollars" not in dollars


def test_without_prices_it_says_not_known(no_price, printed_job):
    text = printed_job("no_price")[f"{STEM}-client-sheet.pdf"].text
    assert not amounts_in(text)
    assert "not known" in text


def test_none_fits_is_said_with_what_would(example):
    outcome = example.floors[0]
    ruled_out = tuple(finish.model_copy(update={"rank": None}) for finish in outcome.advice.finishes)
    words = "None of the finishes here fits this floor. Urethane mortar is outside this list."
    advice = outcome.advice.model_copy(update={"finishes": ruled_out, "none_fits": words})
    sheet = client_sheet(example, replace(outcome, advice=advice, finish=None))
    assert (sheet.words["answer"], sheet.words["none_fits"]) == (NONE_FITS, words)
    assert sheet.words["options"] == []
    assert sheet.pdf("metric").startswith(b"%PDF")


def test_the_shade_map_comes_only_when_asked_for_and_without_figures(example):
    outcome = example.floors[0]
    assert not any(name.startswith("shade-map") for name in client_sheet(example, outcome).pictures)
    measured = outcome.measurements[0]
    plain_map = shade_map_svg(measured, units="us", panel_in=2.3, figures=False)
    assert plain_map != shade_map_svg(measured, units="us", panel_in=2.3)
    with_map = client_sheet(example, outcome, shade_maps=[plain_map])
    text = plain(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(with_map.pdf("us"))).pages))
    assert "The shade of your slab" in text
    assert not any(word in text for word in MEASURED_WORDS)


@pytest.mark.parametrize(("units", "distance"), [("us", "5 ft"), ("metric", "1.5 m")])
def test_terms_name_distance_light_dryness_and_age(example, metric, units, distance):
    whole = example if units == "us" else metric
    terms = " ".join(client_sheet_data(whole, whole.floors[0])["terms"])
    for word in (distance, "daylight", "dry", "28 days", "mock-up", "shade varies"):
        assert word.lower() in terms.lower(), word


def sheet_of(outcome, printed):
    return next(p for p in printed.values() if p.paper.title == f"{outcome.floor.name}: client sheet")


def test_what_the_pour_must_bring_stands_under_the_finishes_that_ask_for_it(bare_bones, printed_job):
    outcome = bare_bones.floors[0]
    shown = options_shown(outcome)
    lines = before_the_pour_of(shown, outcome.advice)
    groups = by_finish(lines, shown)
    assert sum(len(told) for _, told in groups) == len(lines)
    assert not [line for _, told in groups for line in told if line.endswith(")")]
    names = [name for name, _ in groups]
    assert "Penetrating sealer (silane/siloxane)" in names
    text = squeezed(printed_job("bare_bones")["porch-client-sheet.pdf"].text)
    for name, told in groups:
        for line in told:
            assert squeezed(line) in text[text.index(squeezed(name)) :]


def test_lines_in_brackets_that_name_no_finish_stay_whole(example):
    assert by_finish(["Cut joints early. (24 h)"], options_shown(example.floors[0])) == [
        ("", ["Cut joints early. (24 h)"])
    ]


def test_a_client_is_told_that_nothing_is_open(example, example_printed):
    known = example.floors[0]
    assert not questions_of(known.advice)
    text = example_printed[f"{STEM}-client-sheet.pdf"].text
    assert "No test is missing. What must hold first stands in the table." in text
    assert nothing_open_words([]) == "No test is missing."


def test_each_map_for_a_client_says_what_it_shows(example):
    words = map_words(example.floors[0], "us")
    assert [word.split(",")[0] for word in words] == ["From x 0 ft", "From x 13 ft"]
    assert all("photographed Fri Sep 18, 2026" in word for word in words)
    maps = [shade_map_svg(measured, units="us", panel_in=2.0) for measured in example.floors[0].measurements]
    sheet = client_sheet(example, example.floors[0], shade_maps=maps)
    pages = PdfReader(io.BytesIO(sheet.pdf("us"))).pages
    text = squeezed("".join(page.extract_text() for page in pages))
    assert words == sheet.words["map_words"]
    assert all(squeezed(word) in text for word in words)


def test_where_none_fits_nothing_is_signed_and_what_would_fit_is_told_once(none_fits):
    outcome = none_fits.floors[0]
    sheet = client_sheet(none_fits, outcome)
    text = squeezed("".join(page.extract_text() for page in PdfReader(io.BytesIO(sheet.pdf("us"))).pages))
    assert text.count(squeezed(outcome.advice.none_fits)) == 1
    assert squeezed(NONE_FITS) in text
    for words in ("Finish chosen", "Mock-up and acceptance", "No test is missing"):
        assert squeezed(words) not in text
