"""The demo runs from an installed wheel, far from any checkout."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that holds the installed wheel and nothing else."""
    built, folder = tmp_path_factory.mktemp("built"), tmp_path_factory.mktemp("installed")
    quiet = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*quiet, "wheel", "--no-deps", "--wheel-dir", built, ROOT], check=True)
    (wheel,) = built.glob("*.whl")
    subprocess.run([*quiet, "install", "--no-deps", "--target", folder, wheel], check=True)
    return folder


@pytest.mark.slow
def test_the_demo_runs_from_an_installed_wheel(installed, tmp_path):
    settings = {**os.environ, "PYTHONPATH": str(installed), "PYTHONUTF8": "1"}

    def run(*words: str) -> str:
        done = subprocess.run(
            [sys.executable, *words], cwd=tmp_path, env=settings, capture_output=True, encoding="utf-8", check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    place = run("-c", "import finishadvisor; print(finishadvisor.__file__)")
    assert str(installed) in place  # not the checkout
    said = run("-m", "finishadvisor", "demo")
    assert "Glaze room" in said
    assert any((tmp_path / "demo-job" / "papers").glob("*.pdf"))
    assert (tmp_path / "demo-job" / "job.schema.json").is_file()
