"""The works hold every task once, in order, with what it takes."""

import itertools

import pytest

from finishadvisor.errors import CatalogError
from finishadvisor.records.works import Hours
from finishadvisor.works.labor import crew_hours
from finishadvisor.works.make import make_recoat_works, make_works
from finishadvisor.works.surface import absorption
from tests.works.shipped import a_floor, a_floor_plain, a_job, required, shipped, with_rows

FINISHES = sorted(shipped().finishes)
ASKED = [
    required("test-slab-rh", "unknown", missing=("slab_rh_pct",)),
    required("moisture-barrier", "unknown", rule="too-wet", missing=("slab_rh_pct",)),
    required("add-anti-slip"),
    required("repair-cracks"),
]


def works_of(finish, findings=(), facts=None, floor=None):
    catalog = shipped()
    return make_works(floor or a_floor(), catalog.finishes[finish], findings, facts or {}, catalog)


def ids(works):
    return [task.id for task in works.tasks]


@pytest.mark.parametrize("finish", FINISHES)
def test_tasks_stand_once_and_by_phase(finish):
    works = works_of(finish, ASKED)
    assert len(set(ids(works))) == len(ids(works))
    phases = [shipped().work_items[task.work_item].phase for task in works.tasks]
    coats = [n for n, task in enumerate(works.tasks) if task.coat] or [len(phases)]
    layers = shipped().finishes[finish].layers
    head = phases[: coats[0] - (len(layers[0].before) if layers else 0)]
    tail = phases[coats[-1] + 1 :]
    assert head == sorted(head)
    assert tail == sorted(tail)


@pytest.mark.parametrize("finish", FINISHES)
def test_every_coat_of_every_layer_is_there(finish):
    coats = {(task.layer, task.coat) for task in works_of(finish).tasks if task.coat}
    layers = shipped().finishes[finish].layers
    assert coats == {(layer.name, coat) for layer in layers for coat in range(1, layer.coats + 1)}


def test_a_broadcast_follows_the_coat_that_it_is_thrown_into():
    order = ids(works_of("polyaspartic-flake"))
    assert order[order.index("base-coat-1") + 1] == "flake-coat-1"


def test_a_broadcast_that_is_listed_later_still_goes_into_its_wet_coat():
    finish = shipped().finishes["polyaspartic-flake"]
    base, flake, top = finish.layers
    shuffled = finish.model_copy(update={"layers": (base, top, flake)})
    order = ids(make_works(a_floor(), shuffled, (), {}, with_rows(shipped(), shuffled)))
    assert order[order.index("base-coat-1") + 1] == "flake-coat-1"


def test_a_met_requirement_is_certain_and_an_undecided_one_is_only_possible():
    tasks = {task.work_item: task for task in works_of("epoxy-urethane-clear", ASKED).tasks}
    assert tasks["add-anti-slip"].certain
    assert not tasks["moisture-barrier"].certain
    assert "not yet known: slab RH" in tasks["moisture-barrier"].why
    assert tasks["moisture-barrier"].rule == "too-wet"


def test_one_work_item_asked_for_twice_stands_once_and_is_certain_if_any_rule_is_met():
    asked = [required("add-anti-slip", "unknown", rule="first"), required("add-anti-slip", "yes", rule="second")]
    tasks = [task for task in works_of("acrylic-water", asked).tasks if task.work_item == "add-anti-slip"]
    assert [(task.certain, task.rule) for task in tasks] == [(True, "second")]


def test_what_is_not_required_or_held_already_is_not_added():
    works = works_of("acrylic-water", [required("add-anti-slip", "no"), required("wash")])
    items = [task.work_item for task in works.tasks]
    assert "add-anti-slip" not in items
    assert items.count("wash") == 1


def test_bead_goes_into_the_last_coat():
    order = ids(works_of("acrylic-water", ASKED))
    assert order.index("add-anti-slip") == order.index("seal-coat-2") - 1


def first_coats(works):
    return [(task.id, use.material) for task in works.tasks for use in task.materials if use.first_coat]


def test_the_first_film_on_bare_concrete_drinks_more_and_later_coats_do_not():
    assert first_coats(works_of("acrylic-water")) == [("seal-coat-1", "acrylic-water")]


def test_a_moisture_barrier_takes_the_first_coat_from_the_layer_above():
    works = works_of("epoxy-urethane-clear", [required("moisture-barrier")])
    assert first_coats(works) == [("moisture-barrier", "moisture-barrier-epoxy")]


def test_an_old_film_leaves_no_first_coat_unless_it_is_taken_off():
    old = {"layers_down": "acrylic"}
    assert first_coats(works_of("acrylic-water", facts=old)) == []
    assert first_coats(works_of("acrylic-water", [required("strip-acrylic")], old))
    assert works_of("acrylic-water", facts=old).profile_fill_mils.expected == 0


def test_a_recoat_renews_named_layers_with_one_coat_each_and_meets_no_bare_concrete():
    catalog = shipped()
    for finish in catalog.finishes.values():
        works = make_recoat_works(a_floor(), finish, {}, catalog)
        if not finish.upkeep.recoat_layers:
            assert works is None
            continue
        assert tuple(task.layer for task in works.tasks if task.coat) == finish.upkeep.recoat_layers
        assert not first_coats(works)
        assert works.mock_up_ft2 == 0


def test_a_mock_up_is_counted_in_until_it_is_made():
    made = {"finish": "acrylic-water", "area_ft2": 10, "material": "acrylic-water", "used": 0.1}
    floor = a_job(a_floor_plain(mock_up=[made])).floors[0]
    assert works_of("acrylic-water").mock_up_ft2 == shipped().limits["mock-up-area-ft2"].value
    assert works_of("acrylic-water", floor=floor).mock_up_ft2 == 0


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({}, "medium"),
        ({"surface": "hard-steel-trowel"}, "low"),
        ({"surface": "broom"}, "high"),
        ({"surface": "broom", "absorption": "low"}, "low"),
    ],
)
def test_the_water_drop_test_wins_over_the_surface(facts, expected):
    assert absorption(facts) == expected


def test_a_rougher_surface_swallows_more_film():
    surfaces = ("hard-steel-trowel", "light-steel-trowel", "float", "broom")
    fills = [works_of("acrylic-water", facts={"surface": each}).profile_fill_mils.expected for each in surfaces]
    assert fills[0] == 0
    assert all(smoother < rougher for smoother, rougher in itertools.pairwise(fills))


def test_grinding_decides_the_profile_whatever_the_surface_was():
    broomed = works_of("epoxy-urethane-clear", facts={"surface": "broom"})
    burned = works_of("epoxy-urethane-clear", facts={"surface": "hard-steel-trowel"})
    assert broomed.profile_fill_mils == burned.profile_fill_mils


def test_crew_hours_are_rate_times_extent_and_setup():
    item = shipped().work_items["grind-csp-2-3"]
    rate = item.hours_per_100
    assert crew_hours(item, 800) == Hours(
        low=8 * rate.low + item.setup_hours,
        expected=8 * rate.expected + item.setup_hours,
        high=8 * rate.high + item.setup_hours,
    )


def test_steps_are_counted_and_a_floor_without_steps_gets_no_nosings():
    asked = [required("mark-nosings")]
    stairs = a_floor(outline={"steps": [{"count": 4, "width": 3, "tread": "12in", "riser": "6in"}]})
    nosings = [task for task in works_of("acrylic-water", asked, floor=stairs).tasks if task.id == "mark-nosings"]
    assert [(task.quantity, task.unit) for task in nosings] == [(4, "pieces")]
    assert "mark-nosings" not in ids(works_of("acrylic-water", asked))


def test_a_layer_thrown_into_one_that_is_not_below_is_refused():
    finish = shipped().finishes["polyaspartic-flake"]
    layers = [layer.model_copy(update={"into": "top"}) if layer.into else layer for layer in finish.layers]
    broken = finish.model_copy(update={"layers": tuple(layers)})
    with pytest.raises(CatalogError, match='thrown into "top"'):
        make_works(a_floor(), broken, (), {}, with_rows(shipped(), broken))


def test_an_unknown_work_item_is_refused_with_the_nearest_name():
    with pytest.raises(CatalogError, match=r'no work item "vacum".*Did you mean "vacuum"'):
        works_of("acrylic-water", [required("vacum")])
