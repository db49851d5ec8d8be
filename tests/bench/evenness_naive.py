"""The plainest script that colors a slab's cells: decode, warp, CIELAB, CIEDE2000. A yardstick of time only.

python tests/bench/evenness_naive.py PHOTO "x,y x,y x,y x,y" WIDTH_FT LENGTH_FT OUT.json
"""

import json
import pathlib
import sys

import numpy as np
from PIL import Image
from skimage.color import deltaE_ciede2000, rgb2lab
from skimage.transform import ProjectiveTransform, warp


def main():
    photo, corners, width_ft, length_ft, out = sys.argv[1:6]
    pixels = np.array([[float(v) for v in pair.split(",")] for pair in corners.split()])
    cols, rows = round(float(width_ft) * 12), round(float(length_ft) * 12)
    cells = np.array([(0, 0), (cols, 0), (cols, rows), (0, rows)], dtype=float)
    to_photo = ProjectiveTransform.from_estimate(cells, pixels)
    picture = np.asarray(Image.open(photo).convert("RGB"))
    lab = rgb2lab(warp(picture, to_photo, output_shape=(rows, cols)))
    de00 = deltaE_ciede2000(lab, np.broadcast_to(np.median(lab, axis=(0, 1)), lab.shape))
    with pathlib.Path(out).open("w", encoding="utf-8") as file:
        json.dump({"share_over_3": float((de00 > 3).mean()), "p95": float(np.percentile(de00, 95))}, file)


if __name__ == "__main__":
    main()
