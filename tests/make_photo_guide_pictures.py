"""Draws the pictures of docs/photo-guide.md: `pip install matplotlib`, `python tests/make_photo_guide_pictures.py`.

The package is needed for nothing else here.
"""

import tomllib
from pathlib import Path

import matplotlib as mpl
import numpy as np
from matplotlib import font_manager
from matplotlib.figure import Figure
from PIL import Image

from finishadvisor.papers.look import look
from finishadvisor.papers.typeset import font_folder

ROOT = Path(__file__).parent.parent
REFERENCE = ROOT / "reference_images"
OUT = ROOT / "docs" / "photo-guide"
PAPER, INK, QUIET, WORK, HOLD = (look().color[name] for name in ("paper", "ink", "quiet", "work", "hold"))


def rows():
    table = tomllib.loads((REFERENCE / "reference_images.toml").read_text(encoding="utf-8"))["picture"]
    return {row["file"].removesuffix(".jpg"): row for row in table}


def corners(row):
    """A photo with its corners numbered in order, its sides and its cards."""
    picture = np.asarray(Image.open(REFERENCE / row["file"]))
    points = np.array(row["corners"])
    top, bottom = max(0, int(points[:, 1].min()) - 70), min(len(picture), int(points[:, 1].max()) + 70)
    figure = Figure(figsize=(7, 7 * (bottom - top) / picture.shape[1]), facecolor=PAPER)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.imshow(picture)
    axes.axis("off")
    axes.set(ylim=(bottom, top))
    axes.plot(*np.vstack([points, points[:1]]).T, color="white", linewidth=1.6)
    middle = points.mean(axis=0)
    for number, (x, y) in enumerate(points, start=1):
        dx, dy = np.sign(np.array([x, y]) - middle) * 26
        axes.text(x + dx, y + dy, str(number), color="white", fontsize=20, fontweight="bold", ha="center", va="center")
    for a, b, text in ((0, 1, "first side"), (0, 3, "second side")):
        x, y = (points[a] + points[b]) / 2 * 0.74 + middle * 0.26
        axes.text(x, y, text, color="white", fontsize=14, ha="center", va="center")
    for sheet in row["sheets"][1:2]:
        axes.annotate(
            "gray card", sheet["at"], (sheet["at"][0] + 40, sheet["at"][1] - 40), color="white", fontsize=11,
            arrowprops={"arrowstyle": "-", "color": "white"},
        )  # fmt: skip
    return figure


def stand():
    """How high to stand: the far end is seen flatter than 20 degrees from the floor, not from a ladder."""
    figure = Figure(figsize=(7, 2.5), facecolor=PAPER)
    axes = figure.add_axes((0.02, 0.02, 0.96, 0.96))
    axes.set(xlim=(-7.5, 26), ylim=(-2.4, 11), aspect="equal")
    axes.axis("off")
    axes.plot([0, 15], [0, 0], color=INK, linewidth=6, solid_capstyle="butt")
    axes.text(7.5, -1.6, "slab, 15 ft", ha="center", color=INK, fontsize=11)
    for height, color, name in ((5.3, HOLD, "on the floor"), (9.5, WORK, "on a ladder")):
        x = -3.0
        axes.plot([x], [height], "o", color=color, markersize=8)
        axes.plot([x, 0], [height, 0], color=color, linewidth=1)
        axes.plot([x, 15], [height, 0], color=color, linewidth=1)
        angle = np.degrees(np.arctan2(height, 15 - x))
        axes.text(x - 0.6, height, f"{name}\n{height:g} ft", ha="right", va="center", color=color, fontsize=10)
        verdict = "too flat" if angle < 20 else "good"
        axes.text(
            15.6, 0.4 if height < 6 else 2.2, f"far end seen at {angle:.0f}°: {verdict}", color=color, fontsize=11
        )
    return figure


def cards():
    """Where to lay gray cards, outdoors and indoors."""
    figure = Figure(figsize=(7, 3.2), facecolor=PAPER)
    plans = figure.subplots(1, 2)
    figure.subplots_adjust(0.03, 0.04, 0.97, 0.88, 0.08)
    places = (
        [(10, 7.5), (2.4, 1.8), (17.6, 1.8), (17.6, 13.2), (2.4, 13.2)],
        [(10, 7.5), (2.4, 1.8), (17.6, 1.8), (10, 14.2), (10, 11.4)],
    )
    for axes, title, spots in zip(
        plans, ("Outdoors: middle and corners", "Indoors: also at the wall and 3 ft in"), places, strict=True
    ):
        axes.set_title(title, fontsize=11.5, color=INK, loc="left")
        axes.add_patch(mpl.patches.Rectangle((0, 0), 20, 15, facecolor="#D9D3C7", edgecolor=INK))
        for x, y in spots:
            axes.add_patch(mpl.patches.Rectangle((x - 0.5, y - 0.35), 1.0, 0.7, facecolor="#777777", edgecolor=INK))
        axes.set(xlim=(-0.6, 20.6), ylim=(-0.6, 15.9), aspect="equal")
        axes.axis("off")
    plans[1].plot([0, 20], [15.15, 15.15], color=INK, linewidth=5, solid_capstyle="butt")
    plans[1].text(20, 15.9, "wall", ha="right", color=QUIET, fontsize=9)
    return figure


def spoiled(table):
    """What is refused, side by side."""
    names = (
        ("refused-dark", "too dark"),
        ("refused-blown", "blown out"),
        ("refused-blurred", "out of focus"),
        ("refused-shaken", "shaken"),
    )
    figure = Figure(figsize=(7, 1.75), facecolor=PAPER)
    for axes, (name, text) in zip(figure.subplots(1, 4), names, strict=True):
        axes.imshow(Image.open(REFERENCE / table[name]["file"]).resize((550, 412)))
        axes.set_title(text, fontsize=10.5, color=INK)
        axes.axis("off")
    figure.subplots_adjust(0.01, 0.02, 0.99, 0.86, 0.04)
    return figure


def main():
    for file in sorted(font_folder().rglob("*.[ot]tf")):
        font_manager.fontManager.addfont(str(file))
    OUT.mkdir(parents=True, exist_ok=True)
    table = rows()
    with mpl.rc_context({"font.family": [look().type["family"], "DejaVu Sans"]}):
        drawn = {
            "corners": corners(table["drift-gray-overcast"]),
            "stand": stand(),
            "cards": cards(),
            "spoiled": spoiled(table),
        }
        for name, figure in drawn.items():
            figure.savefig(OUT / f"{name}.png", dpi=110, facecolor=PAPER)


if __name__ == "__main__":
    main()
