"""Cost is material, labor, rental, mobilization and disposal; the selling price stands apart from it."""

import sys
from subprocess import run

import pytest

from finishadvisor.order.price import cost_parts, first_cost, selling_price
from finishadvisor.records.base import Money
from finishadvisor.works.make import make_recoat_works, make_works
from tests.works.shipped import a_floor_plain, a_job, required, shipped

FINISHES = sorted(shipped().finishes)
OWN = {"labor_per_hour": 40, "mobilization": 200, "margin": 0.25}


def works_of(finish, job, findings=()):
    catalog = shipped()
    return make_works(job.floors[0], catalog.finishes[finish], findings, {}, catalog)


@pytest.mark.parametrize("finish", FINISHES)
def test_the_cost_is_the_sum_of_its_parts_in_order(finish):
    job = a_job()
    cost = first_cost(works_of(finish, job), job, shipped())
    parts = cost_parts(works_of(finish, job), job, shipped())
    assert set(parts) == {"material", "labor", "rental", "mobilization", "disposal"}
    for end in ("low", "expected", "high"):
        assert getattr(cost, end) == pytest.approx(sum(getattr(part, end) for part in parts.values()))
    assert 0 < cost.low <= cost.expected <= cost.high
    assert cost.basis == "class-wide"


def test_labor_is_hours_times_the_crews_rate():
    job = a_job(business=OWN)
    works = works_of("acrylic-water", job)
    labor = cost_parts(works, job, shipped())["labor"]
    assert labor.expected == pytest.approx(40 * sum(task.crew_hours.expected for task in works.tasks))
    assert labor.basis == "your prices"


def test_mobilization_is_shared_by_the_floors_of_the_job():
    two = a_job(a_floor_plain(name="Shop"), a_floor_plain(name="Patio"), business=OWN)
    assert cost_parts(works_of("acrylic-water", two), two, shipped())["mobilization"].expected == 100


def test_rental_counts_each_day_begun_and_a_tool_is_rented_once_for_all_its_tasks():
    job = a_job(a_floor_plain(100, 40), crew=1)
    works = works_of("polished-salt-pepper", job)
    items = shipped().work_items
    rented = [(task, items[task.work_item]) for task in works.tasks if items[task.work_item].rental_per_day]
    hours: dict[str, float] = {}
    for task, item in rented:
        hours[item.tool or task.id] = hours.get(item.tool or task.id, 0.0) + task.crew_hours.expected
    rates = {item.tool or task.id: item.rental_per_day.expected for task, item in rented}
    assert len(rented) > len(hours) > 1
    days = {tool: max(1, -(-crew_hours // 8.5)) for tool, crew_hours in hours.items()}
    rental = cost_parts(works, job, shipped())["rental"]
    assert rental.expected == pytest.approx(sum(rates[tool] * count for tool, count in days.items()))


def test_disposal_goes_by_area():
    job = a_job()
    works = works_of("polished-salt-pepper", job)
    expected = sum(
        shipped().work_items[task.work_item].disposal_per_100.expected * task.quantity / 100
        for task in works.tasks
        if shipped().work_items[task.work_item].disposal_per_100
    )
    assert expected > 0
    assert cost_parts(works, job, shipped())["disposal"].expected == pytest.approx(expected)


def test_possible_work_counts_in_the_high_end_only():
    job = a_job()
    sure = first_cost(works_of("epoxy-urethane-clear", job), job, shipped())
    asked = [required("moisture-barrier", "unknown")]
    open_ = first_cost(works_of("epoxy-urethane-clear", job, asked), job, shipped())
    assert (open_.low, open_.expected) == (pytest.approx(sure.low), pytest.approx(sure.expected))
    assert open_.high > sure.high


def test_the_selling_price_leaves_the_margin_and_keeps_the_basis():
    cost = Money(low=600, expected=750, high=900, basis="mixed")
    assert selling_price(cost, a_job(business=OWN), shipped()) == Money(
        low=800, expected=1000, high=1200, basis="mixed"
    )
    usual = shipped().limits["margin"].value
    assert selling_price(cost, a_job(), shipped()).expected == pytest.approx(750 / (1 - usual))


def test_your_material_prices_lower_the_cost_by_what_they_save():
    free = [{"material": "acrylic-water", "size": 1, "price": 0}]
    job, with_gift = a_job(), a_job(price=free)
    listed = cost_parts(works_of("acrylic-water", job), job, shipped())["material"]
    saved = cost_parts(works_of("acrylic-water", job), with_gift, shipped())["material"]
    assert saved.expected < listed.expected
    assert saved.basis == "mixed"


@pytest.mark.parametrize("finish", FINISHES)
def test_a_recoat_costs_less_than_the_first_time(finish):
    job = a_job()
    recoat = make_recoat_works(job.floors[0], shipped().finishes[finish], {}, shipped())
    if recoat is not None:
        again = first_cost(recoat, job, shipped())
        assert 0 < again.expected < first_cost(works_of(finish, job), job, shipped()).expected


def test_a_larger_floor_never_costs_less():
    costs = []
    for side in range(10, 60, 3):
        job = a_job(a_floor_plain(side, 20))
        costs.append(first_cost(works_of("polyaspartic-flake", job), job, shipped()).expected)
    assert costs == sorted(costs)


def test_pricing_draws_nothing_and_loads_no_heavy_library():
    code = (
        "import sys; import finishadvisor.order.price, finishadvisor.works.make; "
        "print([m for m in ('numpy', 'scipy', 'shapely') if m in sys.modules])"
    )
    done = run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
