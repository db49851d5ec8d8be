"""How near the measurement comes to slabs whose shade is known: `python tests/bench/evenness_truth.py [--scenes N]`.

Scenes are made from seeds, never stored. Beside the measurement stand two baselines on the same cells: no separation
of light and shade, and a quadratic in log brightness taken off.
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
import evenness_scenes

from finishadvisor.demo.render import as_jpeg
from finishadvisor.evenness.color import color_difference, lab_from_linear, linear_from_lab
from finishadvisor.evenness.measure import PhotoMarks, measure
from finishadvisor.evenness.patches import patch_cells
from finishadvisor.evenness.photo import read_photo
from finishadvisor.evenness.plane import plane_of
from finishadvisor.evenness.sample import Grid, sample_cells
from finishadvisor.evenness.smooth import masked_mean

PLAN = (
    ("plain", 0.34, ("overcast", "overcast", "window", "garage", "lamps", "mixed")),
    ("hard", 0.30, ("window", "garage", "lamps", "mixed", "shadow", "shadow", "glare", "dapple")),
    ("clutter", 0.14, ("overcast", "window", "garage", "lamps", "mixed")),
    ("drift", 0.08, ("overcast", "window", "garage")),
    ("refusal", 0.14, ("overcast", "window")),
)
REFUSALS = {
    "dark": {"too-dark"}, "blown": {"blown-out"}, "blurred": {"blurred"}, "shaken": {"blurred"},
    "tiny": {"too-few-pixels"}, "flat": {"view-too-flat", "too-few-pixels", "flat-view"},
}  # fmt: skip


def planned(count, first):
    """Fixed shares by kind; a third of the measured scenes are even slabs."""
    jobs = []
    for kind, share, lights in PLAN:
        for n in range(round(share * count)):
            seed = first + 1000 * len(jobs) + 7
            rng = np.random.default_rng(seed)
            fault = "even" if n % 3 == 0 else str(rng.choice(evenness_scenes.FAULTS[1:]))
            name = list(REFUSALS)[n % len(REFUSALS)] if kind == "refusal" else kind
            jobs.append((seed, name, fault, lights[n % len(lights)]))
    return jobs


def three_inch(lab, used):
    return masked_mean(lab, used, 3)


def compare(lab, used, truth, real):
    """Errors of a map of 1 in cells against the truth; real: cells that are slab in truth."""
    both = used & real
    if not both.any():
        return None
    true = three_inch(truth, real)
    typical_true, typical = np.nanmedian(true[real], axis=0), np.nanmedian(lab[used], axis=0)
    moved = lab - typical + typical_true
    ok = both & np.isfinite(moved).all(axis=2) & np.isfinite(true).all(axis=2)
    de_true = np.where(ok, color_difference(np.nan_to_num(true), typical_true), 0)
    de = np.where(ok, color_difference(np.nan_to_num(lab), typical), 0)
    rows, cols = used.shape
    grid = Grid(rows, cols, cols / 12, rows / 12)
    found, there = patch_cells(de, ok, grid, 0.2) > 0, patch_cells(de_true, ok, grid, 0.2) > 0
    quiet = ok & (de_true < 1)
    every_true = color_difference(np.nan_to_num(true), typical_true)[real & np.isfinite(true).all(axis=2)]
    return {
        "rmse_L": float(np.sqrt(((moved - true)[ok][:, 0] ** 2).mean())),
        "mean_de": float(color_difference(moved[ok], true[ok]).mean()),
        "false": float((de[quiet] >= 2).mean()) if quiet.any() else 0.0,
        "hit": int((found & there).sum()),
        "found": int(found.sum()),
        "there": int(there.sum()),
        "share_error": abs(float((de[used] > 3).mean()) - float((every_true > 3).mean())),
        "p95_error": abs(float(np.percentile(de[ok], 95) - np.percentile(de_true[ok], 95))),
        "error": (moved - true)[..., 0],
        "ok": ok,
    }


def baselines(path, marks, truth, real):
    photo = read_photo(path)
    plane = plane_of(marks, photo.codes.shape[1], photo.codes.shape[0])
    rows, cols = truth.shape[:2]
    rgb = sample_cells(photo, plane, Grid(rows, cols, *marks.size_ft)).rgb
    level = linear_from_lab(np.nanmedian(truth[real], axis=0)) / np.median(rgb[real], axis=0)
    y, x = np.mgrid[-1 : 1 : rows * 1j, -1 : 1 : cols * 1j]
    terms = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=2)
    ln = np.log(np.maximum(rgb @ [0.2127, 0.7152, 0.0722], 1e-5))
    theta, *_ = np.linalg.lstsq(terms[real], ln[real], rcond=None)
    flat = rgb / np.exp(terms @ theta)[:, :, None]
    flat *= np.median(rgb[real], axis=0) / np.median(flat[real], axis=0)
    return [compare(three_inch(lab_from_linear(light * level), real), real, truth, real) for light in (rgb, flat)]


def one(job):
    scene = evenness_scenes.make_scene(*job)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "scene.jpg"
        path.write_bytes(as_jpeg(scene.picture))
        marks = PhotoMarks(corners=scene.corners, size_ft=scene.size_ft, sheets=scene.sheets)
        measured = measure(path, marks)
        row = {
            "job": job,
            "kind": job[1],
            "fault": scene.fault,
            "light": scene.light_name,
            "refused": measured.evenness.refused,
        }
        row |= {"caveats": measured.evenness.caveats, "wanted": scene.refusal, "level": measured.evenness.level}
        if measured.shade is None or scene.refusal:
            return row
        real = ~scene.hidden
        none, quadratic = baselines(path, marks, scene.lab, real)
    result = compare(measured.shade.lab, measured.shade.used, scene.lab, real)
    sigma = measured.shade.error_L
    inside = np.abs(result["error"][result["ok"]]) < 2 * sigma[result["ok"]]
    row |= {key: value for key, value in result.items() if key not in {"error", "ok"}}
    row |= {"covered": float(inside.mean()), "none": strip(none), "quadratic": strip(quadratic), "curve": scene.curve}
    row["sigma"] = measured.evenness.sigma.model_dump()
    row["used"] = float(measured.shade.used.mean())
    return row


def strip(result):
    return {key: value for key, value in result.items() if key not in {"error", "ok"}}


def score(rows):
    hit, found, there = (sum(row[key] for row in rows) for key in ("hit", "found", "there"))
    even = [r["false"] for r in rows if r.get("fault", "even") == "even"]
    return {
        "n": len(rows),
        "RMSE_L": np.mean([r["rmse_L"] for r in rows]),
        "rms": np.sqrt(np.mean([r["rmse_L"] ** 2 for r in rows])),
        "mean_de": np.mean([r["mean_de"] for r in rows]),
        "F1": 2 * hit / max(found + there, 1),
        "false%": 100 * np.mean(even) if even else np.nan,
        "share_pts": 100 * np.mean([r["share_error"] for r in rows]),
    }


def line(name, values, extra=""):
    print(
        f"{name:22s}"
        + " ".join(f"{key} {value:6.2f}" if key != "n" else f"n {value:3d}" for key, value in values.items())
        + extra
    )


def report(rows):
    measured = [r for r in rows if "rmse_L" in r]
    for key in ("kind", "light", "fault"):
        print(f"-- by {key}")
        for name in sorted({r[key] for r in measured}):
            group = [r for r in measured if r[key] == name]
            line(name, score(group), f" cover {100 * np.mean([r['covered'] for r in group]):5.1f}%")
    print("-- all")
    line("this measurement", score(measured), f" cover {100 * np.mean([r['covered'] for r in measured]):5.1f}%")
    for name in ("quadratic", "none"):
        line(name, score([{**r[name], "fault": r["fault"]} for r in measured]))
    wanted = [r for r in rows if r["wanted"]]
    wanted = [{**r, "refused": r["refused"] or (r["caveats"] if r["wanted"] == "flat" else None)} for r in wanted]
    right = sum(bool(set(r["refused"] or ()) & REFUSALS[r["wanted"]]) for r in wanted)
    wrong = [r for r in rows if not r["wanted"] and r["refused"]]
    print(f"refusals right {right} of {len(wanted)}; refused though sound {len(wrong)} of {len(rows) - len(wanted)}")
    for r in [r for r in wanted if not set(r["refused"] or ()) & REFUSALS[r["wanted"]]] + wrong:
        print("   ", r["job"], r["refused"], r["caveats"])
    plain = [r for r in measured if r["kind"] == "plain"]
    allowed = {"light-steep", "two-shades", "cards-unusable"}
    false = [r for r in plain if set(r["caveats"]) - allowed]
    print(f"plain scenes with a false caveat: {len(false)} of {len(plain)}")
    for r in false:
        print("   ", r["job"], r["caveats"])
    print("worst:")
    for r in sorted(measured, key=lambda r: -r["rmse_L"])[:14]:
        print(
            "   ",
            r["job"],
            f"L {r['rmse_L']:.2f} de {r['mean_de']:.2f} false {r['false']:.3f}",
            r["level"],
            r["caveats"],
            f"used {r['used']:.2f}",
        )


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--scenes", type=int, default=240)
    parser.add_argument("--first", type=int, default=0, help="moves all seeds, for fresh scenes")
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args()
    rows = Parallel(options.workers)(delayed(one)(job) for job in planned(options.scenes, options.first))
    report(rows)
    return rows


if __name__ == "__main__":
    main()
