"""Wheel and sdist in empty environments of every Python here: installed as a stranger does, the demo says the same.

Nothing is passed on from this environment. Wheel and sdist each go into an empty one of every Python from 3.11 on.
"""

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
PIP = ("-m", "pip", "--quiet", "--disable-pip-version-check")
NO_INDEX = re.compile(r"NewConnectionError|name resolution|Network is unreachable|No matching distribution found")
SECONDS = 1100

pytestmark = pytest.mark.slow


def run(*words: object, cwd: Path = ROOT) -> str:
    """Run a command with nothing of this environment passed on but where packages come from; return what it printed."""
    settings = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "VIRTUAL_ENV"))}
    settings |= {"PYTHONUTF8": "1", "FINISHADVISOR_FOLDER": str(cwd / "user folder")}
    command = list(map(str, words))
    done = subprocess.run(
        command, cwd=cwd, env=settings, capture_output=True, encoding="utf-8", check=False, timeout=SECONDS
    )
    assert done.returncode == 0, f"{' '.join(command)}\n{done.stdout[-1000:]}\n{done.stderr[-3000:]}"
    return done.stdout


def pythons() -> dict[tuple[int, int], str]:
    """Return a Python of each version from 3.11 on that is found and really runs."""
    names = [f"python3.{minor}" for minor in range(11, 21)]
    kept = Path.home() / ".pyenv" / "versions"
    found = [sys.executable, *(path for name in names if (path := shutil.which(name)))]
    found += [str(path) for path in sorted(kept.glob("*/bin/python3"))]
    ask = "import ensurepip, sys, venv; print(*sys.version_info[:2])"
    by_version: dict[tuple[int, int], str] = {}
    for path in found:
        done = subprocess.run([path, "-c", ask], capture_output=True, encoding="utf-8", check=False)
        if done.returncode == 0 and re.fullmatch(r"3 \d+", done.stdout.strip()):
            version = (3, int(done.stdout.split()[1]))
            if version >= (3, 11):
                by_version.setdefault(version, path)
    return by_version


PYTHONS = pythons()


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The wheel and the sdist, made from this checkout."""
    folder, backend = tmp_path_factory.mktemp("built"), tmp_path_factory.mktemp("backend")
    run(sys.executable, *PIP, "wheel", "--no-deps", "--wheel-dir", folder, ROOT)
    run(sys.executable, *PIP, "install", "--target", backend, "hatchling")
    make = "import sys; sys.path.insert(0, sys.argv[1]); from hatchling.build import build_sdist"
    run(sys.executable, "-c", f"{make}; build_sdist(sys.argv[2])", backend, folder)
    (wheel,), (sdist,) = folder.glob("*.whl"), folder.glob("*.tar.gz")
    return wheel, sdist


def demo_of(python: str, package: Path, base: Path) -> Path:
    """Install a package into an empty environment and run its demo; return its job."""
    base.mkdir()
    environment = base / "environment"
    run(python, "-m", "venv", environment, cwd=base)
    inside = environment / ("Scripts" if os.name == "nt" else "bin")
    run(inside / "python", *PIP, "install", "--prefer-binary", package, cwd=base)
    place = run(inside / "python", "-c", "import finishadvisor; print(finishadvisor.__file__)", cwd=base)
    assert Path(place.strip()).is_relative_to(environment)
    assert "Glaze room" in run(inside / "finishadvisor", "demo", cwd=base)
    return base / "demo-job"


Demos = dict[tuple[tuple[int, int], str], "Future[Path]"]


@pytest.fixture(scope="module")
def demos(built: tuple[Path, Path], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Demos]:
    """The job folder of each demo, by Python and by what was installed; two are made at a time."""
    base = tmp_path_factory.mktemp("machines")
    with ThreadPoolExecutor(2) as workers:
        made: Demos = {}
        for version, python in PYTHONS.items():
            for name, package in zip(("wheel", "sdist"), built, strict=True):
                place = base / f"{name}-python-{version[0]}-{version[1]}"
                made[version, name] = workers.submit(demo_of, python, package, place)
        yield made


def figures(job: Path) -> dict[str, Any]:
    """Return what the demo decides: verdicts, packs, days, grades."""

    def read(name: str) -> Any:
        return json.loads((job / "papers" / name).read_text(encoding="utf-8"))

    advice, order, plan = (read(f"{name}.json") for name in ("advice", "order", "plan"))
    return {
        "verdicts": {(floor["floor"], one["id"]): (one["rank"], one["verdict"])
                     for floor in advice["floors"] for one in floor["finishes"]},
        "packs": {each["material"]: [(pack["size"], pack["count"]) for pack in each["packs"]]
                  for each in order["packs"]},
        "days": [(step["floor"], step["task"], step["start"], step["end"]) for step in plan["steps"]],
        "back": plan["back_in_service"],
        "grades": {photo["photo"]: photo["grade"] for path in sorted(job.glob("papers/*-evenness.json"))
                   for photo in json.loads(path.read_text(encoding="utf-8"))["photos"]},
        "papers": sorted(path.name for path in (job / "papers").iterdir()),
    }  # fmt: skip


def shade(job: Path) -> dict[str, float]:
    """Return the unevenness of each photo, which another release of the libraries may move in its last digits."""
    photos = [photo for path in job.glob("papers/*-evenness.json")
              for photo in json.loads(path.read_text(encoding="utf-8"))["photos"]]  # fmt: skip
    return {photo["photo"]: photo["p95_de00"] for photo in photos}


@pytest.mark.parametrize("package", ["wheel", "sdist"])
@pytest.mark.parametrize("version", PYTHONS, ids=lambda version: f"python3.{version[1]}")
def test_the_demo_of_an_installed_package_decides_what_it_decides_here(
    version: tuple[int, int], package: str, demos: Demos, demo_run: tuple[Path, Any]
) -> None:
    try:
        job = demos[version, package].result()
    except AssertionError as error:
        if NO_INDEX.search(str(error)):
            pytest.skip(f"no package index can be reached here, so Python 3.{version[1]} was not tried")
        raise
    here = figures(demo_run[0])
    there = figures(job)
    assert len(here["verdicts"]) > 30
    assert here["packs"]
    assert here["days"]
    for what, said in here.items():
        assert there[what] == said, what
    assert shade(job) == pytest.approx(shade(demo_run[0]), abs=0.02)


def test_an_older_python_is_refused_in_words_by_pip(built: tuple[Path, Path], tmp_path: Path) -> None:
    words = [*PIP, "install", "--no-deps", "--dry-run", "--target", tmp_path / "t", "--only-binary", ":all:"]
    command = [sys.executable, *map(str, words), "--python-version", "3.10", str(built[0])]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode != 0
    assert "requires a different Python: 3.10" in done.stderr
    assert ">=3.11" in done.stderr


def test_the_sdist_holds_what_the_tests_need(built: tuple[Path, Path]) -> None:
    import tarfile

    with tarfile.open(built[1]) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    for wanted in ("pyproject.toml", "README.md", "docs/LICENSE.txt", "tests/__main__.py", "finishadvisor/cli/main.py"):
        assert wanted in names
    assert any(name.startswith("reference_images/") for name in names)
