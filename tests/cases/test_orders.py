"""What a finisher would offer first, and what rather than something else, on the floors walked through."""

import datetime
import json
from pathlib import Path

import pytest

from finishadvisor.whole_job.advised import advise_job
from tests.cases.floors import floors

ON = datetime.date(2026, 10, 26)
FIRST = {
    "pool deck in the sun, pale and broomed": "repellent",
    "near-black store, hard-troweled": "polished-cream",
    "stamped patio that freezes": "acrylic-solvent",
    "front steps with salt, dark and broomed": "repellent",
    "battery room": "epoxy-urethane-solid",
    "driveway poured in mid October": "repellent",
}
"""Where one answer is plainly right: texture kept and salt out, troweled color kept, the depth that was asked for, the
resin that stands acid longest."""
BEFORE = [
    ("garage in the snow country, six weeks old", "polyaspartic-flake", "densified"),
    ("garage in the snow country, six weeks old", "polyaspartic-flake", "polished-cream"),
    ("pool deck in the sun, pale and broomed", "enhancer", "densified"),
    ("near-black store, hard-troweled", "polished-cream", "polished-salt-pepper"),
    ("near-black store, hard-troweled", "acrylic-solvent", "acrylic-water"),
    ("basement at 92 % with no retarder", "densified", "acrylic-solvent"),
    ("basement at 92 % with no retarder", "polished-cream", "polyaspartic-flake"),
    ("heated floor behind glass", "polished-cream", "repellent"),
    ("heated floor behind glass", "urethane-water", "acrylic-floor-finish"),
    ("stamped patio that freezes", "acrylic-solvent", "densified"),
    ("stamped patio that freezes", "enhancer", "bare"),
    ("dog kennel, washed down daily", "polyaspartic-flake", "urethane-water"),
    ("dog kennel, washed down daily", "epoxy-urethane-solid", "urethane-water"),
    ("battery room", "epoxy-urethane-solid", "epoxy-urethane-clear"),
    ("driveway poured in mid October", "enhancer", "densified"),
    ("driveway poured in mid October", "repellent", "acrylic-solvent"),
]


@pytest.fixture(scope="module")
def places(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, int | None]]:
    """The rank of every finish on each of the floors, 24 ft square, with class-wide prices and default weights."""
    named = {case.name: case for case in floors()}
    lines = ['name = "Orders"']
    wanted = sorted({*FIRST, *(name for name, _, _ in BEFORE)})
    for name in wanted:
        lines += ["[[floor]]", f"name = {json.dumps(name)}", "[floor.answers]"]
        lines += [f"{fact} = {json.dumps(value)}" for fact, value in named[name].given.items()]
        lines += ["[[floor.outline.rectangle]]", "x = 24", "y = 24"]
    folder = Path(tmp_path_factory.mktemp("orders"))
    (folder / "job.toml").write_text("\n".join(lines), encoding="utf-8")
    _, advised = advise_job(folder, ON)
    return {one.floor.name: {row.id: row.rank for row in one.advice.finishes} for one in advised}


@pytest.mark.parametrize("floor", FIRST)
def test_what_is_plainly_right_comes_first(floor, places):
    assert places[floor][FIRST[floor]] == 1, sorted(places[floor].items(), key=lambda one: one[1] or 99)[:3]


@pytest.mark.parametrize(("floor", "better", "worse"), BEFORE)
def test_what_a_finisher_would_rather_lay_comes_before(floor, better, worse, places):
    assert places[floor][better] < places[floor][worse]
