"""Charts of money: they say what the records say, every finish has its name, and no word runs off."""

import re
from xml.etree import ElementTree

import pytest
from PIL import ImageFont

from finishadvisor.papers.charts import Priced, cost_chart, priced_finishes, round_step, wrapped
from finishadvisor.papers.svg_font import FACES
from finishadvisor.papers.trade_off import merit, short, trade_off_chart
from finishadvisor.papers.typeset import font_folder
from finishadvisor.papers.wording import money_text
from finishadvisor.records.base import Money

SVG = "{http://www.w3.org/2000/svg}"


def words_of(svg):
    return [" ".join(node.itertext()).strip() for node in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def priced_of(example, floor=0):
    outcome = example.floors[floor]
    return priced_finishes(outcome.advice.finishes, outcome.selling_prices, outcome.life_prices)


def a_finish(rank, low, expected, high, name="Clear acrylic"):
    price = Money(low=low, expected=expected, high=high, basis="test")
    return Priced("bare", rank, name, price, None, None)


def test_charts_show_the_prices_of_the_records(example):
    outcome = example.floors[0]
    priced = priced_finishes(outcome.advice.finishes, outcome.selling_prices, outcome.life_prices)
    assert [finish.rank for finish in priced] == sorted(finish.rank for finish in priced)
    words = " ".join(words_of(cost_chart(priced[:5], 15, "USD")))
    for finish in priced[:5]:
        assert money_text(finish.price.expected, "USD") in words
        assert money_text(finish.life_price.expected, "USD") in words
    assert "15 years" in words


def test_trade_offs_number_every_finish_and_mark_the_dominated(example):
    outcome = example.floors[0]
    priced = priced_finishes(outcome.advice.finishes, outcome.selling_prices, outcome.life_prices)
    words = words_of(trade_off_chart(priced, example.catalog, {}, "USD"))
    assert {str(finish.rank) for finish in priced} <= set(words)
    dominated = {finish.id for finish in outcome.advice.finishes if finish.dominated_by and finish.rank}
    assert {finish.id for finish in priced if finish.beaten_by} == dominated


def test_no_chart_where_there_is_nothing_to_show(example):
    assert cost_chart([], 15, "USD") is None
    assert trade_off_chart([], example.catalog, {}, "USD") is None


def test_merit_follows_the_weights_of_the_job(example):
    marks = example.catalog.finishes["bare"].merits
    assert merit("bare", example.catalog, {"look": 0, "wear": 0, "upkeep": 0, "slip": 1}) == marks.slip
    assert (
        merit("bare", example.catalog, {"look": 1, "wear": 1, "upkeep": 0, "slip": 0}) == (marks.look + marks.wear) / 2
    )
    assert merit("bare", example.catalog, dict.fromkeys(("look", "wear", "upkeep", "slip"), 0)) == pytest.approx(
        (marks.look + marks.wear + marks.upkeep + marks.slip) / 4
    )


def test_long_names_are_shortened_beside_charts():
    assert len(short("x" * 80)) <= 30
    assert wrapped("A clear epoxy with a very long name that goes on and on and on").count("\n") <= 1


def test_every_finish_of_the_trade_offs_is_named_beside_its_mark_or_under_the_chart(example):
    priced = priced_of(example)
    words = words_of(trade_off_chart(priced, example.catalog, {}, "USD"))
    assert any(re.search(r"\d .*; \d", line) for line in words)  # so many that some find no room
    for finish in priced:
        assert short(finish.name) in words or any(f"{finish.rank} {finish.name}" in line for line in words)


def _spans(svg):
    """Yield every line of level words with where it begins and ends."""
    font = ImageFont.truetype(str(font_folder() / FACES[400]), 1000, layout_engine=ImageFont.Layout.BASIC)
    for node in ElementTree.fromstring(svg).iter(f"{SVG}text"):
        wide = font.getlength(node.text) * float(node.get("font-size")) / 1000
        before = {"start": 0, "middle": 0.5, "end": 1}[node.get("text-anchor")] * wide
        if node.get("transform") is None:
            yield node.text, float(node.get("x")) - before, float(node.get("x")) - before + wide


@pytest.mark.parametrize("currency", ["USD", "CHF"])
@pytest.mark.parametrize("scale", [0.0001, 1, 1e4])
def test_no_words_of_a_chart_run_off_it(example, currency, scale):
    def scaled(money):
        return money.model_copy(
            update={"low": money.low * scale, "expected": money.high * scale, "high": money.high * scale}
        )

    priced = [
        Priced(each.id, each.rank, each.name, scaled(each.price), scaled(each.life_price), each.beaten_by)
        for each in priced_of(example)
    ]
    for svg in (cost_chart(priced, 15, currency), trade_off_chart(priced, example.catalog, {}, currency)):
        right = float(ElementTree.fromstring(svg).get("viewBox").split()[2])
        for words, begin, end in _spans(svg):
            assert begin >= 0, words
            assert end <= right, words


def test_finishes_that_cost_nothing_or_are_worth_the_same_are_drawn(example):
    free = [a_finish(1, 0, 0, 0), a_finish(2, 0, 0, 0)]
    assert "$0" in words_of(cost_chart(free, 15, "USD"))
    assert {"1", "2"} <= set(words_of(trade_off_chart(free, example.catalog, {}, "USD")))


def test_bars_are_to_scale():
    svg = cost_chart([a_finish(1, 100, 200, 400)], 15, "USD")
    page, low_to_high, expected = [
        (float(box.get("x")), float(box.get("width"))) for box in ElementTree.fromstring(svg).iter(f"{SVG}rect")
    ]
    zero = page[0]
    assert (low_to_high[0] - zero) * 3 == pytest.approx(low_to_high[1], abs=0.1)
    assert (expected[0] + expected[1] / 2 - zero) * 2 == pytest.approx(low_to_high[0] + low_to_high[1] - zero, abs=0.1)


def test_signs_of_the_file_format_in_a_name_are_told_as_they_are(example):
    name = 'Seal <"A" & B>'
    words = words_of(cost_chart([a_finish(1, 1, 2, 3, name)], 15, "USD"))
    assert name in words


@pytest.mark.parametrize(("span", "most", "step"), [(57_000, 6, 10_000), (3.9, 8, 0.5), (60, 6, 10), (61, 6, 20)])
def test_steps_are_round(span, most, step):
    assert round_step(span, most) == pytest.approx(step)
