"""Renders the photos of the example job; what is wrong with each slab is written here, so the truth is known.

    python -m finishadvisor.demo.photos finishadvisor/demo/job/photos

prints the marks of each photo as job.toml holds them.
"""

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.demo.render import Camera, Exposure, Slab, as_jpeg, render

Array = NDArray[np.float64]
Pixel = tuple[float, float]

CELLS_PER_FT: Final = 24
TERRACOTTA: Final = (0.30, 0.135, 0.085)
SAND_BUFF: Final = (0.40, 0.335, 0.245)
GRAY_CARD: Final = 0.18
CARD_FT: Final = (0.67, 0.83)


@dataclass(frozen=True)
class Shot:
    """One photo: the slab in its light, the camera, and what is marked on it."""

    file: str
    slab: Slab
    camera: Camera
    exposure: Exposure
    card_ft: tuple[float, float]
    leave_out_ft: tuple[tuple[float, float], ...] = ()


def grid_of(width_ft: float, length_ft: float) -> tuple[Array, Array]:
    """Return the plan feet of every cell's center."""
    x = (np.arange(round(width_ft * CELLS_PER_FT)) + 0.5) / CELLS_PER_FT
    y = (np.arange(round(length_ft * CELLS_PER_FT)) + 0.5) / CELLS_PER_FT
    across, up = np.meshgrid(x, y)
    return across, up


def texture(shape: tuple[int, int], seed: int) -> Array:
    """Return the fine and middling grain of a troweled or broomed slab as a factor near 1."""
    random = np.random.default_rng(seed)
    grain = random.standard_normal(shape) * 0.02
    for cells, spread in ((6, 0.012), (14, 0.012), (36, 0.010)):
        coarse = random.standard_normal((shape[0] // cells + 3, shape[1] // cells + 3))
        rows, cols = np.linspace(0.5, coarse.shape[0] - 2, shape[0]), np.linspace(0.5, coarse.shape[1] - 2, shape[1])
        along = np.array([np.interp(cols, np.arange(coarse.shape[1]), row) for row in coarse])
        grain += spread * np.array([np.interp(rows, np.arange(coarse.shape[0]), column) for column in along.T]).T
    return np.asarray(np.exp(grain))


def spot(x: Array, y: Array, at: tuple[float, float], size: tuple[float, float], edge_ft: float) -> Array:
    """Return 1 inside an oval spot, falling to 0 over its soft edge."""
    radius = np.hypot((x - at[0]) / size[0], (y - at[1]) / size[1])
    return np.asarray(1 / (1 + np.exp((radius - 1) * 4.4 * min(size) / edge_ft)))


def with_card(reflectance: Array, x: Array, y: Array, at: tuple[float, float]) -> Array:
    """Return the slab with a gray card lying on it, its middle at `at`."""
    on_card = (abs(x - at[0]) < CARD_FT[0] / 2) & (abs(y - at[1]) < CARD_FT[1] / 2)
    return np.where(on_card[..., None], GRAY_CARD, reflectance)


def window_light(x: Array, y: Array, window_at: tuple[float, float]) -> Array:
    """Return light from a window wall that falls off across the room, a little bluer than the lamps that fill it."""
    near = 1 / (1 + ((x - window_at[0]) / 16) ** 2 + ((y - window_at[1]) / 12) ** 2)
    return np.asarray(0.35 + near[..., None] * np.array([0.62, 0.65, 0.70]))


def glaze_room(bay: str) -> Shot:
    """Return one bay of the glaze room: the second truck's load is lighter, a spot was troweled hard and late."""
    width_ft, length_ft = 13.0, 18.0
    x, y = grid_of(width_ft, length_ft)
    plan_x = x + (13.0 if bay == "east" else 0.0)
    factor = texture(x.shape, 11 if bay == "east" else 7)
    load_edge = 16.5 + y / 18 + 0.25 * np.sin(1.9 * y) + 0.12 * np.sin(5.3 * y)
    factor *= 1 + 0.22 / (1 + np.exp(-(plan_x - load_edge) / 0.10))
    factor *= 1 - 0.24 * spot(plan_x, y, (8.2, 11.5), (1.5, 0.8), 0.35)
    factor *= 1 - 0.16 * spot(plan_x, y, (4.0, 4.2), (0.9, 1.2), 0.3)
    joint = 1 - 0.75 * (abs(y - 9) < 0.03)
    reflectance = (factor * joint)[..., None] * np.array(TERRACOTTA)
    leave_out: tuple[tuple[float, float], ...] = ()
    if bay == "east":
        kiln = (x > 8) & (x < 12) & (y > 13) & (y < 17)
        reflectance = np.where(kiln[..., None], 0.05, reflectance)
        leave_out = ((7.9, 12.9), (12.1, 12.9), (12.1, 17.1), (7.9, 17.1))
    card = (5.0, 6.0) if bay == "west" else (6.0, 5.0)
    return Shot(
        file=f"glaze-room-{bay}.jpg",
        slab=Slab(width_ft, length_ft, with_card(reflectance, x, y, card), window_light(plan_x, y, (13, -2)),
                  surroundings=(0.35, 0.34, 0.32)),
        camera=Camera(place_ft=(6.5, -6.5, 12.0), look_at_ft=(6.5, 6.8)),
        exposure=Exposure(white=(1.06, 1.0, 0.90), curve=0.1, noise=0.008, seed=3),
        card_ft=card,
        leave_out_ft=leave_out,
    )  # fmt: skip


def kiln_yard() -> Shot:
    """Return the wide end of the walk under an open overcast sky: pale salts along one edge, else even."""
    width_ft, length_ft = 12.0, 14.0
    x, y = grid_of(width_ft, length_ft)
    broom = 1 + 0.02 * np.sin(2 * np.pi * x * 5.1 + 0.6 * np.sin(y))
    factor = texture(x.shape, 23) * broom
    salts = spot(x, y, (11.2, 8.4), (1.2, 2.6), 0.6) * (texture(x.shape, 5) > 0.985)
    reflectance = factor[..., None] * np.array(SAND_BUFF)
    reflectance += 0.5 * salts[..., None] * (np.array([0.52, 0.51, 0.49]) - reflectance)
    card = (3.0, 4.0)
    sky = (1 - 0.04 * (y / length_ft))[..., None] * np.array([0.97, 1.0, 1.04])
    return Shot(
        file="kiln-yard.jpg",
        slab=Slab(width_ft, length_ft, with_card(reflectance, x, y, card), sky),
        camera=Camera(place_ft=(6.0, -6.0, 10.5), look_at_ft=(6.0, 5.4)),
        exposure=Exposure(white=(1.0, 1.0, 0.97), curve=0.1, noise=0.008, seed=5),
        card_ft=card,
    )


def marks_text(shot: Shot) -> str:
    """Return the marks of a photo as job.toml holds them."""

    def pixel(at: tuple[float, float]) -> str:
        u, v = shot.camera.pixels_of(np.array([at[0]]), np.array([at[1]]))
        return f"[{float(u[0]):.1f}, {float(v[0]):.1f}]"

    corners = shot.camera.corners_px(shot.slab.width_ft, shot.slab.length_ft)
    lines = [
        "[[floor.photo]]",
        f'file = "{shot.file}"',
        f'size = ["{shot.slab.width_ft:g} ft", "{shot.slab.length_ft:g} ft"]',
        "corners = [" + ", ".join(f"[{u:.1f}, {v:.1f}]" for u, v in corners) + "]",
        f"sheet = [{{ at = {pixel(shot.card_ft)}, reflectance = {GRAY_CARD} }}]",
    ]
    if shot.leave_out_ft:
        lines.append("leave_out = [[" + ", ".join(pixel(at) for at in shot.leave_out_ft) + "]]")
    return "\n".join(lines)


def main(folder: Path) -> None:
    """Write the photos and print their marks."""
    for shot in (glaze_room("west"), glaze_room("east"), kiln_yard()):
        (folder / shot.file).write_bytes(as_jpeg(render(shot.slab, shot.camera, shot.exposure), quality=90))
        sys.stdout.write(marks_text(shot) + "\n\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
