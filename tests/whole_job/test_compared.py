"""A job with a bay photographed twice and a mock-up: compared, told on the terminal, and weighed as facts."""

import datetime
import shutil

from click.testing import CliRunner

from finishadvisor.advice.derive import derive_facts
from finishadvisor.cli.evenness import command
from finishadvisor.whole_job.photos import measure_job_floors
from finishadvisor.whole_job.saved import kept
from tests.evenness.conftest import patched, shoot, slab_lab  # noqa: F401 - a fixture
from tests.evenness.test_steps import with_load

ON = datetime.date(2026, 8, 20)
HEAD = """
name = "Compared"
[[floor]]
name = "Hall"
[floor.pour]
date = 2026-06-10
[[floor.load]]
name = "first truck"
boundary = [[5.5, 0], [6.5, 10]]
"""


def write_job(folder, shots) -> None:
    (folder / "photos").mkdir(parents=True)
    text = HEAD
    for shot, lines in shots:
        shutil.copyfile(shot.path, folder / "photos" / shot.path.name)
        corners = [list(corner) for corner in shot.marks.corners]
        sheets = "".join(f"{{ at = {list(at)}, reflectance = {value} }}, " for at, value in shot.marks.sheets)
        text += f'[[floor.photo]]\nfile = "{shot.path.name}"\nsize = {list(shot.marks.size_ft)}\n'
        text += f"corners = {corners}\nsheet = [{sheets}]\n{lines}\n"
    (folder / "job.toml").write_text(text, encoding="utf-8")


def test_photos_of_a_job_are_compared_told_and_weighed(shoot, tmp_path) -> None:  # noqa: F811
    lab, card = with_load(slab_lab(), (4.0, 0.3, 0.6)), [(9.0, 8.5)]
    first = shoot(patched(lab, 2, 3, 2, 2, (6, 0, 0)), cards=card, name="july.jpg")
    last = shoot(lab, cards=card, name="august.jpg", seed=3)
    mock_up = shoot(slab_lab(lab=(58.0, 6.0, 10.0)), cards=card, name="mock-up.jpg")
    job = tmp_path / "job"
    write_job(
        job,
        [
            (first, "taken = 2026-07-10T10:00:00"),
            (last, "taken = 2026-08-14T10:00:00"),
            (mock_up, 'shows = "mock-up"'),
        ],
    )
    opened, (hall,) = measure_job_floors(job, None, ON, lambda _line: None)
    (change,) = hall.compared.changes
    assert (change.before, change.after, change.days, change.fading) == ("july.jpg", "august.jpg", 35, True)
    assert [(step.photo, step.found) for step in hall.compared.load_steps] == [("july.jpg", True), ("august.jpg", True)]
    assert 2 < hall.compared.mock_ups[0].de00 < 9
    facts = derive_facts(opened.job, opened.job.floors[0], opened.catalog, ON, kept(job, opened.job.floors[0]))
    assert facts["shade_fades"] is True
    assert facts["shade_removable"] is True
    assert facts["shade_step_at_load_boundary"] is True
    told = " ".join(CliRunner().invoke(command, [str(job), "--on", ON.isoformat()]).output.split())
    assert 'The shade steps where "first truck" ends' in told
    assert "marks are fading" in told
    assert "The mock-up in mock-up.jpg differs from the slab" in told
