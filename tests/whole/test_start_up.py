"""Starting is quick because heavy libraries are imported only where they are used."""

import os
import subprocess
import sys

import pytest

HEAVY = {"skimage", "scipy", "colour", "typst", "starlette"}

WATCH = """
import sys
from finishadvisor.cli.main import main
sys.argv = ["finishadvisor", *{words!r}]
try:
    main()
except SystemExit as stopped:
    assert not stopped.code, stopped.code
print("IMPORTED", sorted({heavy!r} & set(sys.modules)))
"""


def imported_by(*words: str, heavy: set[str] = HEAVY) -> str:
    code = WATCH.format(words=list(words), heavy=heavy)
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True, encoding="utf-8", check=False, env={**os.environ, "PYTHONUTF8": "1"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stdout.rsplit("IMPORTED", 1)[1].strip()


def test_help_imports_no_heavy_library():
    assert imported_by("--help") == "[]"


@pytest.mark.parametrize("command", ["advise", "evenness", "order", "plan", "papers", "serve"])
def test_the_help_of_a_command_imports_no_heavy_library(command):
    assert imported_by(command, "--help") == "[]"


def test_advise_imports_no_heavy_library(demo_job):
    assert imported_by("advise", str(demo_job), "--on", "2026-09-21") == "[]"


def test_measuring_one_photo_imports_nothing_of_jobs_and_of_several_photos(tmp_path):
    from tests.hostile.odd_photos import saved, slab

    (tmp_path / "slab.jpg").write_bytes(saved(slab(), "JPEG"))
    words = ["evenness", str(tmp_path / "slab.jpg"), "--size", "2ft x 1.5ft", "--json", str(tmp_path / "out.json")]
    others = {"job.document", "advice", "whole_job.photos", "evenness.compare", "evenness.join", "evenness.plan_maps"}
    libraries = {"joblib", "tomlkit", "filelock", "colour", "typst", "starlette"}
    assert imported_by(*words, heavy={f"finishadvisor.{name}" for name in others} | libraries) == "[]"


def test_the_watch_can_fail():
    code = WATCH.format(words=["--help"], heavy=HEAVY).replace("import sys\n", "import sys, scipy\n", 1)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True)
    assert "scipy" in done.stdout.rsplit("IMPORTED", 1)[1]
