"""Photos of very many pixels: time, memory and figures beside those at 12 MP: `python tests/bench/large_photos.py`.

One rendered scene, made larger by interpolation and saved again, each size measured in a process of its own. Memory is
the greatest of that process, what is imported included. Nothing is asserted.
"""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

SIZE_FT = (20.0, 20.0)
CASES = (
    ("JPEG", 4032, {"quality": 90}),
    ("JPEG", 8160, {"quality": 90}),
    ("JPEG", 12_000, {"quality": 90}),
    ("JPEG", 16_320, {"quality": 90}),
    ("JPEG", 11_500, {"quality": 90, "progressive": True}),
    ("PNG", 11_500, {"compress_level": 1}),
    ("TIFF", 11_500, {"compression": "tiff_lzw"}),
    ("WEBP", 8160, {"quality": 90, "method": 0}),
)
"""Format, width and options; all of one shape, 4 to 3."""

RENDER = """
import json, sys; from pathlib import Path
from timing import CAMERA, SIZE_FT, a_photo
Path(json.loads(sys.argv[1])[0]).write_bytes(a_photo())
print(json.dumps(CAMERA.corners_px(*SIZE_FT)))
"""
ENLARGE = """
import json, sys; from PIL import Image
Image.MAX_IMAGE_PIXELS = None
small, path, form, width, options = json.loads(sys.argv[1])
image, size = Image.open(small), (width, width * 3 // 4)
(image if size == image.size else image.resize(size, Image.Resampling.BICUBIC)).save(path, form, **options)
print("null")
"""
MEASURE = """
import json, resource, sys, time
from pathlib import Path
from finishadvisor.evenness.measure import PhotoMarks, measure
path, corners, size_ft = json.loads(sys.argv[1])
begin = time.process_time()
evenness = measure(Path(path), PhotoMarks(corners=tuple(map(tuple, corners)), size_ft=tuple(size_ft))).evenness
spent = time.process_time() - begin
print(json.dumps([spent, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, evenness.as_json()]))
"""


def in_a_process(code, *given):
    """Run code that takes these values: Linux hands the greatest memory of a parent down to its children."""
    command = [sys.executable, "-c", code, json.dumps(given)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=Path(__file__).parent)
    return json.loads(done.stdout)


def main():
    with tempfile.TemporaryDirectory() as folder:
        small = str(Path(folder) / "small.jpg")
        corners = in_a_process(RENDER, small)
        for form, width, options in CASES:
            path = Path(folder) / "large"
            in_a_process(ENLARGE, small, str(path), form, width, options)
            scale = width / 4032
            marked = [[x * scale, y * scale] for x, y in corners]
            seconds, megabytes, found = in_a_process(MEASURE, str(path), marked, SIZE_FT)
            figures = found["refused"] or (
                f"over 3: {100 * found['share_over']['3']:.1f} %, p95 {found['p95_de00']:.2f}, "
                f"index {found['index']:.2f}, L* {found['typical_lab'][0]:.1f}, patches {len(found['patches'])}"
            )
            name = f"{form}{' progressive' if 'progressive' in options else ''}"
            print(
                f"{name:17s} {width * (width * 3 // 4) / 1e6:5.0f} MP {path.stat().st_size / 1e6:6.1f} MB: "
                f"{seconds:5.2f} s of processor time, {megabytes:4.0f} MB; {figures}",
                flush=True,
            )


if __name__ == "__main__":
    main()
