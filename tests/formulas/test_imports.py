"""Formulas start quickly: none loads an array library until an array is asked for."""

import subprocess
import sys


def test_no_array_library_is_loaded():
    names = ["film", "air", "slab_heat", "cure", "drying", "drying_trend", "slab_tests", "dust", "reflection", "money"]
    code = f"""
import sys
{"; ".join(f"import finishadvisor.formulas.{name}" for name in names)}
print([name for name in ("numpy", "scipy", "colour", "skimage") if name in sys.modules])
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, encoding="utf-8", check=True)
    assert done.stdout.strip() == "[]"
