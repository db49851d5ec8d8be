"""Ranks real photos of concrete by evenness, beside two baselines.

    python tests/bench/evenness_ranking.py FOLDER [--px-per-in 2] [--pattern "*.png"]

The photos are taken square-on; the frame is the slab. Baselines: no separation of light and shade, and a quadratic in
log brightness taken off. All are given as the 95th percentile of CIEDE2000 on a 3 in mean.
"""

import argparse
from pathlib import Path

import numpy as np
from PIL import Image

from finishadvisor.evenness.color import color_difference, lab_from_linear
from finishadvisor.evenness.measure import PhotoMarks, measure
from finishadvisor.evenness.photo import read_photo
from finishadvisor.evenness.plane import plane_of
from finishadvisor.evenness.sample import grid_over, sample_cells
from finishadvisor.evenness.smooth import masked_mean


def plain_p95(lab):
    every = np.ones(lab.shape[:2], dtype=bool)
    mean = masked_mean(lab, every, 3)
    return float(np.percentile(color_difference(mean, np.median(mean, axis=(0, 1))), 95))


def baselines(path, marks):
    photo = read_photo(path)
    plane = plane_of(marks, photo.codes.shape[1], photo.codes.shape[0])
    rgb = sample_cells(photo, plane, grid_over(plane.width_ft, plane.length_ft, 1.0)).rgb
    rows, cols = rgb.shape[:2]
    y, x = np.mgrid[-1 : 1 : rows * 1j, -1 : 1 : cols * 1j]
    terms = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=2).reshape(-1, 6)
    brightness = np.log(np.maximum(rgb @ [0.2127, 0.7152, 0.0722], 1e-5)).ravel()
    theta, *_ = np.linalg.lstsq(terms, brightness, rcond=None)
    fall = np.exp(terms @ theta - (terms @ theta).mean()).reshape(rows, cols, 1)
    return plain_p95(lab_from_linear(rgb)), plain_p95(lab_from_linear(rgb / fall))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--px-per-in", type=float, default=2.0)
    parser.add_argument("--pattern", default="*.png")
    options = parser.parse_args()
    rows = []
    for path in sorted(options.folder.glob(options.pattern)):
        if "mask" in path.stem:
            continue
        with Image.open(path) as image:
            size_ft = tuple(side / options.px_per_in / 12 for side in image.size)
        marks = PhotoMarks(size_ft=size_ft)
        found = measure(path, marks).evenness
        rows.append((found.p95_de00, path.stem, found, *baselines(path, marks)))
    print(f"{'photo':24s} {'p95':>6s} {'over 3':>7s} {'grade':>16s} {'no separation':>14s} {'quadratic':>10s}")
    for p95, name, found, none, quadratic in sorted(rows, key=lambda row: (row[0] is None, row[0])):
        if found.refused:
            print(f"{name:24s} refused: {', '.join(found.refused)}")
        else:
            over = found.share_over["3"]
            print(f"{name:24s} {p95:6.2f} {over:7.1%} {found.grade:>16s} {none:14.2f} {quadratic:10.2f}")


if __name__ == "__main__":
    main()
