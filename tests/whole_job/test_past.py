"""Other jobs of the same user correct the order; a broken one beside them stops nothing."""

from pathlib import Path

from finishadvisor.whole_job.past import past_jobs

PLAIN = '[[floor]]\nname = "Hall"\n'
USED = PLAIN + '[[floor.used]]\nmaterial = "flake"\nlayer = "flake"\narea_ft2 = 400\nused = 60\ndate = 2026-05-04\n'


def make_job(folder: Path, text: str) -> Path:
    folder.mkdir()
    (folder / "job.toml").write_text(f'name = "{folder.name}"\n{text}', encoding="utf-8")
    return folder


def test_only_jobs_that_tell_what_was_used_count(tmp_path):
    here = make_job(tmp_path / "this", USED)
    make_job(tmp_path / "b", USED)
    make_job(tmp_path / "a", USED)
    make_job(tmp_path / "silent", PLAIN)
    assert [job.name for job in past_jobs(here)] == ["a", "b"]


def test_a_job_that_cannot_be_read_is_passed_over(tmp_path):
    here = make_job(tmp_path / "this", PLAIN)
    make_job(tmp_path / "broken", "floor = 3\n")
    make_job(tmp_path / "good", USED)
    assert [job.name for job in past_jobs(here)] == ["good"]
