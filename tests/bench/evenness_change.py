"""How well change over time is found: `python tests/bench/evenness_change.py [--pairs N] [--first SEED]`.

Each pair shows one slab twice, from other places, in other light, by another exposure. In two pairs of three some of
its marks came, went or faded in between; in the third nothing changed. Pairs are made from seeds, never stored. Prints
F1 over the cells that changed, the share found on slabs that did not, and how often fading was told right.
"""

import argparse
import os
import sys
import tempfile
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
from joblib import Parallel, delayed

sys.path.insert(0, str(Path(__file__).parent))
import evenness_scenes as scenes
from evenness_faults import CELL_IN, blob, noise_of, shade_of, soft
from evenness_light import light_of

from finishadvisor.demo.render import Exposure, Slab, as_jpeg, render
from finishadvisor.evenness.change import LEAST_CHANGE, change_between
from finishadvisor.evenness.color import color_difference, linear_from_lab
from finishadvisor.evenness.compare import CHANGED_SHARE
from finishadvisor.evenness.measure import PhotoMarks, measure
from finishadvisor.evenness.smooth import masked_mean

KINDS = ("none", "goes", "comes", "fades", "goes", "none")
LIGHTS = ("overcast", "window", "garage", "lamps", "mixed")


def marks_of(rng, shape):
    """Blotches and clouds as amounts from 0 to 1 on half-inch cells, shape (rows, cols)."""
    y, x = (np.mgrid[: shape[0], : shape[1]] + 0.5) * CELL_IN
    amount = np.zeros(shape)
    for _ in range(rng.integers(2, 6)):
        center = rng.uniform(0.1, 0.9, 2) * (shape[1] * CELL_IN, shape[0] * CELL_IN)
        outside = blob(rng, x, y, center, rng.uniform(8, 26))
        amount = np.maximum(amount, soft(outside + 1.5 * noise_of(rng, shape, 10), rng.uniform(1, 9)))
    return amount


def made_pair(seed):
    """Return kind, size, CIELAB before and after on half-inch cells."""
    rng = np.random.default_rng(seed)
    size_ft = tuple(float(v) for v in (round(rng.uniform(10, 20) * 2) / 2, round(rng.uniform(9, 18) * 2) / 2))
    shape = (round(size_ft[1] * 24), round(size_ft[0] * 24))
    color = scenes.COLORS[str(rng.choice(list(scenes.COLORS)))]
    lab = shade_of(rng, str(rng.choice(["even", "patch", "spots", "damp"])), shape, color)
    strength = rng.uniform(4, 9) * rng.choice([-1, 1]) * np.array([1.0, 0.08, 0.15])
    marks = marks_of(rng, shape)[:, :, None] * strength
    kind = KINDS[seed % len(KINDS)]
    before, after = {"none": (1, 1), "goes": (1, 0), "comes": (0, 1), "fades": (1, 0.3)}[kind]
    return (
        kind,
        size_ft,
        np.clip(lab + before * marks, [8, -99, -99], [92, 99, 99]),
        np.clip(lab + after * marks, [8, -99, -99], [92, 99, 99]),
    )


def measured(lab, size_ft, rng, name):
    """Render one photo of a slab in light of its own and measure it."""
    light = light_of(rng, LIGHTS[rng.integers(len(LIGHTS))], lab.shape[:2], size_ft)
    camera = scenes.camera_for(rng, size_ft, 1400)
    exposure = Exposure(
        white=tuple(rng.uniform([0.9, 1, 0.9], [1.1, 1.0001, 1.1])), noise=float(rng.uniform(0.004, 0.015)),
        curve=float(rng.uniform(0, 0.15)), fall_off=float(rng.uniform(0, 0.3)), seed=int(rng.integers(1 << 30)),
    )  # fmt: skip
    picture = render(Slab(*size_ft, linear_from_lab(lab), light), camera, exposure)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(as_jpeg(picture))
        return measure(path, PhotoMarks(corners=camera.corners_px(*size_ft), size_ft=size_ft))


def true_change(before, after, seen):
    """CIEDE2000 by which 1 in cells truly changed, on the measurement's 3 in mean, an even change left out."""
    every = np.ones(seen.shape, dtype=bool)
    old, new = (masked_mean(scenes.lab_mean(linear_from_lab(lab)), every, 3) for lab in (before, after))
    middle = np.median(old[seen], axis=0)
    return color_difference(old, new - np.median(new[seen], axis=0) + middle)


def one(seed):
    kind, size_ft, old, new = made_pair(seed)
    rng = np.random.default_rng(seed + 1)
    before, after = measured(old, size_ft, rng, "before.jpg"), measured(new, size_ft, rng, "after.jpg")
    if before.shade is None or after.shade is None:
        return {"seed": seed, "kind": kind, "refused": before.evenness.refused or after.evenness.refused}
    change = change_between(before, after)
    there = change.seen & (true_change(old, new, change.seen) > LEAST_CHANGE)
    told = change.less_uneven and change.share >= CHANGED_SHARE
    return {
        "seed": seed, "kind": kind, "refused": None, "share": change.share,
        "true_share": float(there[change.seen].mean()),
        "hit": int((there & change.changed).sum()), "found": int(change.changed.sum()), "there": int(there.sum()),
        "fading_right": told == (kind in {"goes", "fades"}),
    }  # fmt: skip


def f1(rows):
    hit, found, there = (sum(row[key] for row in rows) for key in ("hit", "found", "there"))
    return 2 * hit / max(found + there, 1)


def report(rows):
    good = [row for row in rows if row["refused"] is None]
    for kind in sorted({row["kind"] for row in good}):
        group = [row for row in good if row["kind"] == kind]
        score = f"F1 {f1(group):.2f}" if kind != "none" else "      "
        found, truly, right = (np.mean([row[key] for row in group]) for key in ("share", "true_share", "fading_right"))
        print(f"{kind:6s} n {len(group):3d} {score} changed {found:.1%}, truly {truly:.1%}; fading right {right:.0%}")
    print(f"all    n {len(good):3d} F1 {f1(good):.3f}; refused {len(rows) - len(good)}")
    changed = [row for row in good if row["kind"] != "none"]
    print(
        "weakest:",
        ", ".join(f"{row['seed']} {row['kind']} {f1([row]):.2f}" for row in sorted(changed, key=lambda r: f1([r]))[:6]),
    )


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pairs", type=int, default=48)
    parser.add_argument("--first", type=int, default=7_000_000)
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args()
    report(Parallel(options.workers)(delayed(one)(options.first + n) for n in range(options.pairs)))


if __name__ == "__main__":
    main()
