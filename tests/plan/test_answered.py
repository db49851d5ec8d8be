"""What required work answers is neither asked for before a coat nor tested."""

from tests.plan.whole import plan_for


def notes_of(**known):
    plan = plan_for("epoxy-urethane-solid", slab_rh_pct=None, below_grade=True, **known)
    return " ".join(note for step in plan.steps for note in step.notes), [step.task_id for step in plan.steps]


def test_under_a_film_on_a_moisture_barrier_no_dry_sheet_is_asked_for():
    open_, tasks = notes_of(vapor_retarder=True)
    assert "a taped plastic sheet comes up dry" in open_
    assert "calcium chloride test" in open_
    assert "test-slab-rh" in tasks
    answered, tasks = notes_of(vapor_retarder=False)
    assert "plastic sheet" not in answered
    assert "calcium chloride" not in answered
    assert "test-slab-rh" not in tasks
