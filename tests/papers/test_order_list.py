"""The order list: everything that is ordered, at what it costs, and never what it sells for."""

from finishadvisor.papers.order_list import need_text, order_list_data
from finishadvisor.papers.wording import money_range_text, money_text
from finishadvisor.records.base import Spread
from tests.papers.conftest import squeezed
from tests.papers.test_client_sheet import amounts_in


def test_no_selling_price_on_a_supplier_s_or_crew_s_paper(example, example_printed):
    currency = example.job.currency
    selling = {
        money_text(amount, currency)
        for outcome in example.floors
        for money in (*outcome.selling_prices.values(), *outcome.life_prices.values())
        if money
        for amount in (money.low, money.expected, money.high)
    }
    material = amounts_in(str(order_list_data(example, example.order)))
    papers = [p for p in example_printed.values() if p.paper.reader in {"supplier", "crew"}]
    assert {p.paper.reader for p in papers} == {"supplier", "crew"}
    for paper in papers:
        assert not (amounts_in(paper.text) & selling) - material, paper.paper.name
        if paper.paper.reader == "crew":
            assert not amounts_in(paper.text), paper.paper.name


def test_every_pack_stands_on_the_list(example, example_printed):
    text = squeezed(example_printed["order-list.pdf"].text)
    assert example.order.packs
    for packs in example.order.packs:
        name = example.catalog.materials[packs.material].name
        counts = "".join(f"{pack.count}×" for pack in packs.packs[:1])
        assert squeezed(name) in text
        assert counts in text
    assert squeezed(money_range_text(example.order.total_cost, example.job.currency)) in text


def test_every_line_has_its_working(example, example_printed):
    text = squeezed(example_printed["order-list.pdf"].text)
    for floor in example.order.floors:
        for line in floor.lines:
            assert squeezed(line.working) in text, line.working


def test_what_must_be_of_one_lot_is_marked(example):
    rows = [row for group in order_list_data(example, example.order)["groups"] for row in group["packs"]]
    marked = {row["name"] for row in rows if "one lot" in row["note"]}
    ordered = [example.catalog.materials[packs.material] for packs in example.order.packs]
    assert marked == {material.name for material in ordered if material.one_lot}
    assert marked


def test_each_material_stands_in_one_group(example):
    rows = [row["name"] for group in order_list_data(example, example.order)["groups"] for row in group["packs"]]
    assert sorted(rows) == sorted(example.catalog.materials[packs.material].name for packs in example.order.packs)


def test_what_to_mind_with_the_order_is_printed(example):
    from dataclasses import replace

    packs = example.order.packs[0].model_copy(update={"notes": ("use it within a year",)})
    order = example.order.model_copy(update={"packs": (packs, *example.order.packs[1:])})
    data = order_list_data(replace(example, order_warnings=("the plan adds a screening",)), order)
    name = example.catalog.materials[packs.material].name
    assert "The plan adds a screening." in data["warnings"]
    assert f"{name}: use it within a year." in data["warnings"]


def test_without_prices_it_says_so(no_price, printed_job):
    text = printed_job("no_price")["order-list.pdf"].text
    assert "No price is known" in text
    assert not amounts_in(text)


def test_metric_amounts_are_in_liters_and_meters(metric, printed_job):
    text = printed_job("metric")["order-list.pdf"].text
    assert " gal" not in text
    assert " ft" not in text
    assert " L" in text
    assert "m²" in text


def test_a_need_is_told_with_its_range():
    assert need_text(Spread(low=3.1, expected=4.25, high=6.0, unit="gal"), "us") == "4.25 gal (3.1–6)"
    assert need_text(Spread(low=2, expected=2, high=2, unit="pair"), "us") == "2 pairs"
    assert need_text(Spread(low=1, expected=2, high=3, unit="gal"), "metric") == "7.6 L (3.8–11.4)"
