"""Batches end at joints, fit the pot life at the slab's temperature, and together cover the floor once a coat."""

import datetime

import pytest

from finishadvisor.formulas.cure import pot_life
from finishadvisor.order.batches import make_batches
from finishadvisor.order.shelf import shelf_warnings
from finishadvisor.records.plan import Plan, Step, StepAir
from finishadvisor.works.make import make_works
from tests.works.shipped import a_floor_plain, a_job, required, shipped

GRID = {
    "joint": [
        {"kind": "control", "start": (20, 0), "end": (20, 24)},
        {"kind": "control", "start": (0, 12), "end": (40, 12)},
    ]
}
FINISHES = [id_ for id_, finish in sorted(shipped().finishes.items()) if finish.layers]


def batches_of(finish, *, room_f=70, crew=2, teams=1, plan=None, findings=(), **more):
    job = a_job(a_floor_plain(40, 24, outline=GRID, room={"air": room_f, "rh_pct": 50}, **more), crew=crew, teams=teams)
    works = make_works(job.floors[0], shipped().finishes[finish], findings, {}, shipped())
    return works, make_batches([works], plan, job, shipped())


@pytest.mark.parametrize("finish", FINISHES)
def test_the_batches_of_a_coat_cover_the_floor_once(finish):
    works, batches = batches_of(finish)
    for task in {batch.task for batch in batches}:
        of_task = [batch for batch in batches if batch.task == task]
        assert sum(batch.area_ft2 for batch in of_task) == pytest.approx(works.area_ft2)
        assert [batch.number for batch in of_task] == list(range(1, len(of_task) + 1))


@pytest.mark.parametrize("finish", FINISHES)
@pytest.mark.parametrize("room_f", [55, 70, 90])
def test_no_batch_is_more_than_the_crew_lays_within_its_time(finish, room_f):
    works, batches = batches_of(finish, room_f=room_f)
    tasks = {task.id: task for task in works.tasks}
    for batch in batches:
        if batch.use_within_min is None:
            continue
        rate = shipped().work_items[tasks[batch.task].work_item].hours_per_100.expected
        minutes = batch.area_ft2 / 100 * rate / 2 * 60
        assert minutes <= batch.use_within_min * (1 + 1e-6)


def test_the_time_is_a_share_of_the_pot_life_at_the_slabs_temperature():
    _, batches = batches_of("epoxy-urethane-clear", room_f=83)
    epoxy = shipped().materials["epoxy-clear"]
    points = [(point.slab_f, point.pot_life_min) for point in epoxy.cure]
    build = next(batch for batch in batches if batch.task == "build-coat-1")
    share = shipped().limits["pot-life-share"].value
    assert build.use_within_min == pytest.approx(share * pot_life(points, 83).value)


def test_heat_makes_more_and_smaller_batches():
    cool, hot = batches_of("polyaspartic-flake", room_f=55)[1], batches_of("polyaspartic-flake", room_f=90)[1]
    assert len(hot) > len(cool)
    assert max(batch.area_ft2 for batch in hot) < max(batch.area_ft2 for batch in cool)


def test_the_plans_slab_temperature_wins_over_the_rooms():
    now = datetime.datetime(2026, 6, 1, 8, tzinfo=datetime.UTC)
    step = Step(
        floor="Shop", task="Build", task_id="build-coat-1", layer="build", coat=1, start=now, end=now, earliest=now,
        latest=None, crew=2, hours=1, air=StepAir(air_f=60, rh_pct=50, slab_f=90, dew_point_f=45), notes=(),
    )  # fmt: skip
    plan = Plan(steps=(step,), back_in_service={}, blocked=(), feasible=True)
    planned = batches_of("epoxy-urethane-clear", plan=plan)[1][0]
    in_room = batches_of("epoxy-urethane-clear")[1][0]
    assert planned.use_within_min < in_room.use_within_min


def test_full_batches_are_whole_kits_where_the_pot_life_allows():
    _, batches = batches_of("epoxy-urethane-clear")
    build = [batch for batch in batches if batch.task == "build-coat-1"]
    kit = min(pack.size for pack in shipped().materials["epoxy-clear"].packs)
    assert [batch.volume_gal for batch in build][::2] == pytest.approx([kit] * 4)
    assert all(batch.volume_gal < kit for batch in build[1::2])


def test_a_material_without_pot_life_is_laid_zone_by_zone():
    _, batches = batches_of("acrylic-water")
    assert [batch.zone for batch in batches if batch.task == "seal-coat-1"] == ["zone 1", "zone 2", "zone 3", "zone 4"]
    assert all(batch.use_within_min is None for batch in batches)


def test_a_film_names_its_wet_target_and_what_leaves_no_film_names_none():
    acrylic = shipped().materials["acrylic-water"]
    target = acrylic.dry_film_mils.expected / acrylic.volume_solids.expected
    assert all(batch.wet_film_mils == pytest.approx(target) for batch in batches_of("acrylic-water")[1])
    assert {batch.wet_film_mils for batch in batches_of("repellent")[1]} == {None}


def test_a_required_film_is_batched_and_a_possible_one_is_not():
    def tasks(met):
        return {
            batch.task for batch in batches_of("epoxy-urethane-clear", findings=[required("moisture-barrier", met)])[1]
        }

    assert "moisture-barrier" in tasks("yes")
    assert "moisture-barrier" not in tasks("unknown")


def test_a_mock_up_changes_the_size_of_the_batches():
    mock_up = {"finish": "acrylic-water", "area_ft2": 20, "material": "acrylic-water", "used": 0.3}
    plain, taught = batches_of("acrylic-water")[1][0], batches_of("acrylic-water", mock_up=[mock_up])[1][0]
    assert taught.volume_gal > plain.volume_gal


def test_what_is_too_old_on_its_last_day_is_named():
    works, _ = batches_of("acrylic-water")
    used = datetime.datetime(2027, 8, 1, 8, tzinfo=datetime.UTC)
    step = Step(
        floor="Shop", task="Seal", task_id="seal-coat-2", layer="seal", coat=2, start=used, end=used, earliest=used,
        latest=None, crew=2, hours=1, air=None, notes=(),
    )  # fmt: skip
    plan = Plan(steps=(step,), back_in_service={}, blocked=(), feasible=True)
    (warning,) = shelf_warnings([works], plan, datetime.date(2026, 6, 1), shipped())
    assert "keeps 12 months" in warning
    assert "2027-08-01" in warning
    assert shelf_warnings([works], plan, datetime.date(2027, 6, 1), shipped()) == ()


def test_a_batch_is_what_one_team_lays():
    largest = {
        teams: max(batch.area_ft2 for batch in batches_of("epoxy-urethane-solid", crew=4, teams=teams)[1])
        for teams in (1, 2)
    }
    assert largest[2] < largest[1]
    assert batches_of("epoxy-urethane-solid", crew=4, teams=2) == batches_of("epoxy-urethane-solid", crew=2)
