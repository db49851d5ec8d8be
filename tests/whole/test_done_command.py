"""`finishadvisor done` and `today` as a person on site drives them."""

import re
import tomllib

from tests.whole.conftest import assert_refused, run_command

ON = ("--on", "2026-09-21")


def today(job):
    return run_command("today", job, *ON).stdout


def test_today_prints_how_to_write_down_what_is_finished_and_then_goes_on(demo_job):
    floor, task = re.search(r'finishadvisor done .* --floor "(.+)" --task (\S+)', today(demo_job)).groups()
    done = run_command("done", demo_job, "--floor", floor, "--task", task, *ON)
    assert done.returncode == 0, done.stderr
    assert f"({task}) is done on {floor}" in done.stdout
    assert f'--floor "{floor}" --task {task}\n' not in today(demo_job)
    assert run_command("check", demo_job).returncode == 0


def test_a_task_that_there_is_not_leaves_the_job_alone(demo_job):
    before = (demo_job / "job.toml").read_bytes()
    done = run_command("done", demo_job, "--floor", "Glaze room", "--task", "vacum", *ON)
    assert_refused(done, 1, "There is no task", 'Did you mean "vacuum')
    assert_refused(run_command("done", demo_job, "--floor", "Glaze rom", "--task", "vacuum", *ON), 1, "no floor")
    late = run_command("done", demo_job, "--floor", "Glaze room", "--task", "vacuum", "--time", "25:00", *ON)
    assert_refused(late, 2, "not a time of day")
    assert (demo_job / "job.toml").read_bytes() == before


def test_everything_before_a_task_is_written_down_with_it(demo_job):
    done = run_command("done", demo_job, "--floor", "Glaze room", "--task", "vacuum", "--and-before", *ON)
    assert done.returncode == 0, done.stderr
    assert len(done.stdout.splitlines()) > 1
    assert "(vacuum) is done" in done.stdout.splitlines()[-1]


def test_how_to_name_a_forecast_is_said_where_none_is_named(demo_job):
    job = demo_job / "job.toml"
    hint = "with --weather FILE"
    assert hint not in today(demo_job)
    job.write_text(re.sub(r"(?m)^weather = .*$", "", job.read_text(encoding="utf-8")), encoding="utf-8")
    assert hint in today(demo_job)
    assert hint in run_command("plan", demo_job, *ON).stdout
    assert hint not in run_command("plan", demo_job, "--floor", "Glaze room", *ON).stdout
    assert hint not in run_command("plan", demo_job, "--weather", demo_job / "weather.csv", *ON).stdout


def test_a_part_is_written_down_and_what_cannot_be_meant_leaves_the_job_alone(demo_job):
    glaze = ("done", demo_job, "--floor", "Glaze room", "--task", "vacuum", *ON)
    half = run_command(*glaze, "--area", "100")
    assert half.returncode == 0, half.stderr
    assert "100 ft² of " in half.stdout
    before = (demo_job / "job.toml").read_bytes()
    assert b"area_ft2 = 100" in before
    assert_refused(run_command(*glaze, "--area", "5000"), 1, "is more than the ", "that are left")
    assert_refused(run_command(*glaze, "--zones", "A and Q"), 1, 'no zone "Q"')
    assert_refused(run_command(*glaze, "--zones", ","), 2, "names no zone")
    assert_refused(run_command(*glaze, "--area", "0"), 2, "is no area")
    assert_refused(run_command(*glaze, "--area", "10", "--zones", "A"), 2, "give one of the two")
    assert_refused(run_command(*glaze, "--area", "10", "--and-before"), 2, "goes with a finished task")
    assert (demo_job / "job.toml").read_bytes() == before
    assert run_command(*glaze).returncode == 0
    assert_refused(run_command(*glaze, "--area", "10"), 1, "is done already")
    assert run_command("check", demo_job).returncode == 0


def test_a_part_written_by_hand_that_cannot_be_meant_is_told_by_check(demo_job):
    job = demo_job / "job.toml"
    part = '\n[[floor.done]]\ntask = "sweep"\ndate = 2026-09-20\nzones = ["Q"]\n'
    job.write_text(job.read_text(encoding="utf-8") + part, encoding="utf-8")
    assert_refused(run_command("check", demo_job), 1, 'no zone "Q"')


def test_with_everything_done_the_plan_says_that_nothing_is_left(demo_job):
    for floor in tomllib.loads((demo_job / "job.toml").read_text(encoding="utf-8"))["floor"]:
        done = run_command("done", demo_job, "--floor", floor["name"], "--task", "hand-over", "--and-before", *ON)
        assert done.returncode == 0, done.stderr
    plan = run_command("plan", demo_job, *ON).stdout
    assert "Nothing is left to do." in plan
    assert "crew-hours" not in plan
