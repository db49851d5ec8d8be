"""Reading the catalog starts none of the heavy libraries."""

import subprocess
import sys

HEAVY = {
    "skimage",
    "scipy",
    "colour",
    "typst",
    "starlette",
    "shapely",
    "joblib",
    "numpy",
    "PIL",
    "tomlkit",
    "pydantic",
}

SCRIPT = """
import sys
from finishadvisor.catalog.load import load_catalog
load_catalog()
print(" ".join(sorted({name.partition(".")[0] for name in sys.modules})))
"""


def test_loading_imports_nothing_heavy():
    done = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert "msgspec" in loaded
    assert loaded & HEAVY == set()
