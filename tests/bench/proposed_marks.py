"""Prints how often corners and cards are found on random rendered slabs, how far off, and how often wrongly.

Run: python tests/bench/proposed_marks.py [SCENES] [FOLDER OF PHOTOS WITHOUT A SLAB'S OUTLINE]
"""

import sys
import time
from pathlib import Path

import numpy as np
from evenness_light import LIGHTS
from evenness_scenes import FAULTS, make_scene
from PIL import Image

from finishadvisor.evenness.propose import propose_corners
from finishadvisor.evenness.propose_cards import propose_cards

KINDS = ("plain", "hard", "clutter", "drift")
WRONG_SHARE = 0.02
"""Corners farther off than this share of the diagonal count as wrong."""
CARD_WITHIN_SHARE = 0.015
FIRST_SEED = 70_000


def worst_corner_px(found, true):
    """Return how far the worst corner is off, whichever corner comes first."""
    found, true = np.array(found), np.array(true)
    turns = [np.roll(found, k, axis=0) for k in range(4)]
    return min(float(np.linalg.norm(turned - true, axis=1).max()) for turned in turns)


def card_answers(cards, sheets, within_px):
    """Return how many cards were found, lay nowhere, were taken for the other kind, were left to a hand."""
    found = astray = other = asked = 0
    for card in cards:
        there = [value for at, value in sheets if np.hypot(*np.subtract(at, card.at)) <= within_px]
        found += bool(there)
        astray += not there
        asked += bool(there) and card.reflectance is None
        other += bool(there) and card.reflectance not in {None, there[0]}
    return np.array([found, astray, other, asked])


def try_scenes(count):
    """Print what is found on random slabs."""
    errors, wrong, none, spent = [], [], [], []
    cards, laid = np.zeros(4, dtype=int), 0
    for k in range(count):
        rng = np.random.default_rng(FIRST_SEED + k)
        kind, fault, light = KINDS[k % 4], str(rng.choice(FAULTS)), LIGHTS[(k // 4) % len(LIGHTS)]
        scene = make_scene(FIRST_SEED + k, kind, fault, light)
        start = time.perf_counter()
        corners = propose_corners(scene.picture)
        spent.append(time.perf_counter() - start)
        diagonal = float(np.hypot(*scene.picture.shape[:2]))
        if corners is None:
            none.append(light)
            continue
        error = worst_corner_px(corners, scene.corners)
        (wrong if error > WRONG_SHARE * diagonal else errors).append(error)
        if error > WRONG_SHARE * diagonal:
            print(f"wrong: seed {FIRST_SEED + k}, {kind}, {fault}, {light}: {error:.0f} px of {diagonal:.0f}")
        answers = card_answers(propose_cards(scene.picture, corners), scene.sheets, CARD_WITHIN_SHARE * diagonal)
        if answers[1:3].any():
            print(f"a card wrongly: seed {FIRST_SEED + k}, {kind}, {fault}, {light}")
        cards += answers
        laid += len(scene.sheets)
    print(f"corners found on {len(errors)} of {count} slabs, wrong on {len(wrong)}, none proposed on {len(none)}")
    print(f"none proposed, by light: { ({light: none.count(light) for light in sorted(set(none))}) }")
    middle, high = np.percentile(errors, [50, 95])
    print(f"worst corner off by {middle:.1f} px in the middle, {high:.1f} px in 95 of 100 ({diagonal:.0f} px diagonal)")
    print(f"cards found {cards[0]} of {laid} on those slabs, {cards[3]} of them without their kind", end="; ")
    print(f"{cards[1]} where none lies, {cards[2]} of the other kind")
    print(f"seconds a photo: {np.median(spent):.2f}")


def try_photos(folder):
    """Print how many photos without a slab's outline get a proposal all the same."""
    files = sorted(path for path in folder.rglob("*") if path.suffix in {".png", ".jpg"} and "mask" not in path.name)
    proposed = [path.name for path in files if propose_corners(np.asarray(Image.open(path).convert("RGB"))) is not None]
    print(f"photos without an outline: {len(files)}, proposed all the same: {len(proposed)} {proposed}")


if __name__ == "__main__":
    try_scenes(int(sys.argv[1]) if len(sys.argv) > 1 else 64)
    if len(sys.argv) > 2:
        try_photos(Path(sys.argv[2]))
