"""An order holds to its contract, buys what is certain, pools floors, and listens to the user's prices and past use."""

import jsonschema
import pytest

from finishadvisor.order.make import make_order, risk_limits
from finishadvisor.works.make import make_works
from tests.contracts.schemas import contract
from tests.works.shipped import a_floor_plain, a_job, required, shipped, with_limits

QUICK = with_limits(shipped(), draws=2000)
FINISHES = sorted(shipped().finishes)


def order_of(job, *finishes, findings=(), past=(), catalog=QUICK):
    works = [
        make_works(floor, catalog.finishes[finish], findings, {}, catalog)
        for floor, finish in zip(job.floors, finishes, strict=True)
    ]
    return make_order(works, job, catalog, past)


def packs_of(order, material):
    return next(packs for packs in order.packs if packs.material == material)


@pytest.mark.parametrize("finish", FINISHES)
def test_the_order_holds_to_the_contract_and_its_packs_cover_the_expected_need(finish):
    order = order_of(a_job(), finish, findings=[required("moisture-barrier", "unknown")])
    jsonschema.validate(order.as_json(), contract("order"))
    assert order.short_risk <= 0.05
    for packs in order.packs:
        assert packs.left_over >= 0
        assert packs.ordered == pytest.approx(sum(pack.size * pack.count for pack in packs.packs))
        expected = sum(line.need.expected for line in order.floors[0].lines if line.material == packs.material)
        assert packs.ordered - packs.left_over == pytest.approx(expected)


def test_what_is_only_possible_is_listed_but_not_bought_and_counts_in_the_high_cost():
    sure = order_of(a_job(), "epoxy-urethane-clear")
    open_ = order_of(a_job(), "epoxy-urethane-clear", findings=[required("moisture-barrier", "unknown")])
    line = next(line for line in open_.floors[0].lines if line.material == "moisture-barrier-epoxy")
    assert (line.need.low, line.need.expected) == (0, 0)
    assert line.need.high > 0
    assert line.working.startswith("Only if")
    assert "moisture-barrier-epoxy" not in {packs.material for packs in open_.packs}
    assert open_.total_cost.expected == pytest.approx(sure.total_cost.expected, rel=0.05)
    assert open_.total_cost.high > sure.total_cost.high + 300


def test_supplies_of_possible_work_do_not_swell_those_of_certain_work():
    def sleeves(order):
        return next(line.need for line in order.floors[0].lines if line.material == "roller-sleeve" and line.need.low)

    open_ = order_of(a_job(), "epoxy-urethane-clear", findings=[required("moisture-barrier", "unknown")])
    assert sleeves(open_).expected == sleeves(order_of(a_job(), "epoxy-urethane-clear")).expected


def test_packs_are_pooled_over_floors():
    two = a_job(a_floor_plain(name="Shop"), a_floor_plain(name="Patio"))
    order = order_of(two, "acrylic-water", "acrylic-water")
    need = sum(line.need.expected for floor in order.floors for line in floor.lines if line.material == "acrylic-water")
    packs = packs_of(order, "acrylic-water")
    assert packs.ordered - packs.left_over == pytest.approx(need)
    assert [packs.material for packs in order.packs].count("acrylic-water") == 1


def test_kits_stay_whole_and_one_lot_comes_in_one_size():
    sizes = {id_: {pack.size for pack in material.packs} for id_, material in shipped().materials.items()}
    mixed = set()
    for x in range(20, 80, 8):
        for finish in ("epoxy-urethane-solid", "epoxy-urethane-clear"):
            for packs in order_of(a_job(a_floor_plain(x, 40)), finish).packs:
                assert {pack.size for pack in packs.packs} <= sizes[packs.material]
                if len(packs.packs) > 1:
                    mixed.add(packs.material)
    assert not {id_ for id_ in mixed if shipped().materials[id_].one_lot}
    assert "epoxy-clear" in mixed, "no case here would have mixed sizes"


def test_packs_of_one_lot_and_kits_say_so_on_paper_but_not_in_the_json():
    order = order_of(a_job(), "epoxy-urethane-solid")
    epoxy, tape = packs_of(order, "epoxy-solid"), packs_of(order, "masking-tape")
    assert any("same lot number" in note for note in epoxy.notes)
    assert any("2:1 by volume" in note for note in epoxy.notes)
    assert tape.notes == ()
    assert "notes" not in order.as_json()["packs"][0]


def test_the_same_job_gives_the_same_order():
    job = a_job()
    assert order_of(job, "polyaspartic-flake") == order_of(job, "polyaspartic-flake")


def test_your_prices_win_and_are_named():
    prices = [{"material": "acrylic-water", "size": 5, "price": 99}]
    order = order_of(a_job(price=prices), "acrylic-water")
    packs = packs_of(order, "acrylic-water")
    assert {(pack.size, pack.price) for pack in packs.packs} == {(5, 99)}
    assert packs.cost.basis == "your prices"
    assert packs.cost.low == packs.cost.expected == packs.cost.high
    assert order.total_cost.basis == "mixed"
    assert order_of(a_job(), "acrylic-water").total_cost.basis == "class-wide"


def test_a_lower_limit_buys_more():
    def cost(limit):
        return order_of(a_job(business={"short_risk_limit": limit}), "polyaspartic-flake").total_cost.expected

    assert cost(0.01) > cost(0.05) > cost(0.3)


def test_the_users_limit_stands_for_both_and_else_one_lot_is_stricter():
    assert risk_limits(a_job(), shipped()) == (0.05, 0.01)
    assert risk_limits(a_job(business={"short_risk_limit": 0.2}), shipped()) == (0.2, 0.2)


def test_past_use_on_other_jobs_changes_the_order():
    used = {"material": "enhancer", "layer": "enhancer", "coats": 2, "area_ft2": 400, "used": 14, "date": "2026-05-01"}
    used["material"] = "color-enhancer"
    past = [a_job(a_floor_plain(used=[used], decision={"finish": "enhancer"}))]
    fresh, taught = order_of(a_job(), "enhancer"), order_of(a_job(), "enhancer", past=past)

    def need(order):
        return next(line.need for line in order.floors[0].lines if line.layer == "enhancer")

    assert need(taught).expected > need(fresh).expected
    working = next(line.working for line in taught.floors[0].lines if line.layer == "enhancer")
    assert "as past use showed" in working
    tried = {"finish": "acrylic-water", "area_ft2": 9, "material": "acrylic-water", "used": 0.1}
    both = order_of(a_job(), "enhancer", past=[*past, a_job(a_floor_plain(mock_up=[tried]))])
    working = next(line.working for line in both.floors[0].lines if line.layer == "enhancer")
    assert "as the mock-up and past use showed" in working


def test_equipment_goes_by_crew_and_days():
    def gloves(crew):
        order = order_of(a_job(crew=crew), "acrylic-water")
        return next(line for line in order.floors[0].lines if line.material == "nitrile-gloves")

    assert gloves(4).need.expected >= gloves(1).need.expected
    assert "4 workers × 1 day" in gloves(4).working


def test_test_kits_come_in_the_number_of_the_standard_exactly():
    order = order_of(a_job(a_floor_plain(50, 40)), "acrylic-water", findings=[required("test-slab-rh")])
    line = next(line for line in order.floors[0].lines if line.material == "rh-probe")
    assert line.need.low == line.need.expected == line.need.high == 4


def test_a_film_asks_for_a_gauge_and_a_penetrating_treatment_does_not():
    def materials(finish):
        return {line.material for line in order_of(a_job(), finish).floors[0].lines}

    assert "wet-film-gauge" in materials("acrylic-water")
    assert "wet-film-gauge" not in materials("repellent")


def test_class_wide_prices_in_another_currency_say_that_they_are_dollars():
    assert "US dollars" in order_of(a_job(currency="EUR"), "acrylic-water").total_cost.basis
