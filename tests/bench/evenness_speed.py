"""How long a measurement takes, beside a bare decode of the same photo: `python tests/bench/evenness_speed.py`.

The photo is rendered here: 12 megapixels, quality 90, halved color, a 20 x 20 ft slab. Nothing is asserted.
"""

import math
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

from installed import as_installed  # noqa: E402
from joblib import Parallel, delayed  # noqa: E402
from timing import CAMERA, SIZE_FT, a_photo, decode  # noqa: E402

from finishadvisor.evenness.measure import PhotoMarks, measure  # noqa: E402


def best(function, times):
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        function()
        spent.append(time.perf_counter() - start)
    return min(spent), sorted(spent)[len(spent) // 2]


PEAK = """
import sys
from pathlib import Path
def peak_mb():
    status = Path("/proc/self/status")
    if status.exists():
        line = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM"))
        return int(line.split()[1]) / 1024
    try:
        import resource
    except ImportError:
        return float("nan")
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024**2 if sys.platform == "darwin" else 1024)
from finishadvisor.evenness.measure import measure, PhotoMarks
import scipy.ndimage, skimage.color, skimage.measure, skimage.filters, skimage.transform, shapely
before = peak_mb()
measure(Path({path!r}), {marks!r})
print(peak_mb() - before)
"""


def tell_peak_beyond_imports(path, marks):
    """Print the peak memory of one measurement in a fresh process, less what the imports took."""
    code = PEAK.format(path=str(path), marks=marks)
    peak_mb = float(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout)
    told = "not told by this system" if math.isnan(peak_mb) else f"{peak_mb:7.0f} MB"
    print(f"peak beyond imports      {told}")
    if not Path("/proc/self/status").exists():
        print("  (this system counts from the start of the process that started it, so the peak may be higher)")


def whole(command, environment):
    """Return the shortest time of a whole process, its modules compiled by a first run as on a user's machine."""
    subprocess.run(command, check=True, capture_output=True, env=environment)
    return best(lambda: subprocess.run(command, check=True, capture_output=True, env=environment), 5)[0]


def workers_gain(path, marks, count=40):
    spent = []
    for number in (1, 2):
        with Parallel(n_jobs=number, backend="loky") as parallel:
            parallel(delayed(measure)(path, marks) for _ in range(2 * number))
            start = time.perf_counter()
            parallel(delayed(measure)(path, marks) for _ in range(count))
            spent.append(time.perf_counter() - start)
    return spent[0] / spent[1]


def main():
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "slab.jpg"
        photo, corners = a_photo(), CAMERA.corners_px(*SIZE_FT)
        path.write_bytes(photo)
        marks = PhotoMarks(corners=corners, size_ft=SIZE_FT)
        measure(path, marks)
        a_decode, _ = best(lambda: decode(photo), 15)
        fastest, median = best(lambda: measure(path, marks), 9)
        print(f"a decode                 {1000 * a_decode:7.0f} ms")
        print(
            f"measure, warm            {1000 * fastest:7.0f} ms = {fastest / a_decode:.1f} decodes "
            f"(median {median / a_decode:.1f})"
        )
        tell_peak_beyond_imports(path, marks)
        text = " ".join(f"{x},{y}" for x, y in corners)
        here = Path(__file__).parent
        naive = [sys.executable, str(here / "evenness_naive.py"), str(path), text, "20", "20", f"{folder}/n.json"]
        ours = [
            sys.executable,
            "-m",
            "finishadvisor",
            "evenness",
            str(path),
            "--corners",
            text,
            "--size",
            "20ft x 20ft",
        ]
        environment = as_installed(Path(folder) / "compiled")
        plain, own = whole(naive, environment), whole([*ours, "--json", f"{folder}/e.json"], environment)
        print(
            f"whole command            {1000 * own:7.0f} ms = {own / plain:.2f} x the naive script "
            f"({1000 * plain:.0f} ms)"
        )
        print(f"40 photos, 2 workers     {workers_gain(path, marks):7.2f} x one worker")


if __name__ == "__main__":
    main()
