"""`python3 tests`: makes the test environment, installs what it needs, and runs every check.

Needs Python 3.11 or newer with venv and pip. Further words go to pytest: `python3 tests -k order`.
"""

from __future__ import annotations  # so that an older Python gets as far as saying what is needed

import hashlib
import os
import shutil
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = ROOT / ".venv-tests"
BIN = ENVIRONMENT / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
IN_CI = os.environ.get("CI") == "true"
BROWSER_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
BROWSER_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
)


def make_environment() -> None:
    """Make the environment once, and install anew whenever pyproject.toml has changed."""
    stamp = ENVIRONMENT / "installed-from"
    wanted = hashlib.sha256((ROOT / "pyproject.toml").read_bytes() + sys.version.encode()).hexdigest()
    if stamp.exists() and stamp.read_text(encoding="utf-8") == wanted:
        return
    print("Making the test environment ...", flush=True)
    try:
        venv.create(ENVIRONMENT, with_pip=True, clear=True)
    except (subprocess.CalledProcessError, OSError) as error:
        sys.exit(f"Cannot make a virtual environment ({error}). On Debian and Ubuntu: apt-get install python3-venv")
    subprocess.run([PYTHON, "-m", "pip", "install", "--quiet", "--upgrade", "pip"], check=True)
    subprocess.run([PYTHON, "-m", "pip", "install", "--quiet", "--editable", f"{ROOT}[test]"], check=True)
    stamp.write_text(wanted, encoding="utf-8")


def find_browser() -> str | None:
    """Return an installed Chromium, Chrome or Edge."""
    named = [path for name in BROWSER_NAMES if (path := shutil.which(name))]
    placed = [place for place in BROWSER_PLACES if Path(place).exists()]
    return next(iter(named + placed), None)


def install_browser() -> None:
    """Install Chromium from Debian's packages where apt and root are to be had."""
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    if not (is_root and shutil.which("apt-get")):
        return
    print("Installing Chromium ...", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for words in (["update", "-qq"], ["install", "-y", "-qq", "chromium"]):
        subprocess.run(["apt-get", *words], env=quiet, stdout=subprocess.DEVNULL, check=False)


def main(pytest_words: list[str]) -> int:
    """Run every check; return 0 only when all of them passed."""
    if sys.version_info < (3, 11):  # noqa: UP036  the person may start it with an older one
        sys.exit(f"Python 3.11 or newer is needed; this is {sys.version.split()[0]}.")
    make_environment()
    if find_browser() is None:
        install_browser()
    browser = find_browser()
    settings = {**os.environ, "FINISHADVISOR_TEST_BROWSER": browser or ""}
    if browser is None:
        print("No Chromium, Chrome or Edge found: the browser tests are left out.", flush=True)
    checks = {
        "ruff": [BIN / "ruff", "check", "."],
        "ruff format": [BIN / "ruff", "format", "--check", "."],
        "mypy": [BIN / "mypy"],
        "import-linter": [BIN / "lint-imports"],
        "pytest": [PYTHON, "-m", "pytest", *pytest_words],
    }
    failed = []
    for name, command in checks.items():
        print(f"--- {name}", flush=True)
        if subprocess.run(command, cwd=ROOT, env=settings, check=False).returncode:
            failed.append(name)
    if browser is None and IN_CI:
        failed.append("browser tests (none was found, and CI=true)")
    print("All checks passed." if not failed else f"Failed: {', '.join(failed)}", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
