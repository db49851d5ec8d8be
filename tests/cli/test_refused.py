"""A photo that was refused is not called "not measured yet"."""

import datetime

from click.testing import CliRunner

from finishadvisor.cli.advise import command
from finishadvisor.whole_job.opened import open_for
from finishadvisor.whole_job.photos import measure_floor

DAY = datetime.date(2026, 9, 21)


def test_advise_tells_which_photo_was_refused_and_why(tmp_path):
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "broken.jpg").write_bytes(b"no picture")
    text = 'name = "one"\n[[floor]]\nname = "hall"\n[[floor.photo]]\nfile = "broken.jpg"\n'
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    assert "not measured yet" in CliRunner().invoke(command, [str(tmp_path)]).output
    opened = open_for(tmp_path, DAY)
    measure_floor(tmp_path, opened.job.floors[0], opened.catalog, DAY, lambda _: None)
    said = " ".join(CliRunner().invoke(command, [str(tmp_path)]).output.split())
    assert "not measured yet" not in said
    assert "hall: the photo broken.jpg was refused. The file is not a picture that can be read." in said
