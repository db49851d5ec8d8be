"""Random slabs with known shade, seeded: what they are made of, how they are lit and photographed."""

from dataclasses import dataclass, field, replace

import numpy as np
from evenness_faults import CELL_IN, DRAWN, shade_of
from evenness_light import light_of

from finishadvisor.demo.render import Camera, Exposure, Slab, render
from finishadvisor.evenness.color import lab_from_linear, linear_from_lab

COLORS = {
    "charcoal": (31, 0, 0), "dark-gray": (42, 0, 1), "gray": (56, 0, 2), "light-gray": (66, 0, 3), "brown": (41, 8, 12),
    "terracotta": (47, 18, 20), "buff": (67, 5, 18), "green": (50, -7, 7), "near-black": (26, 0, -1),
    "tan": (58, 6, 14),
}  # fmt: skip
FAULTS = tuple(DRAWN)


@dataclass
class Scene:
    """One photo to be measured and what is true of its slab."""

    kind: str
    fault: str
    light_name: str
    picture: np.ndarray
    corners: tuple
    size_ft: tuple[float, float]
    lab: np.ndarray
    """True CIELAB of 1 in cells, shape (rows, cols, 3)."""
    hidden: np.ndarray
    """Cells under things lying on the slab."""
    sheets: tuple = ()
    curve: float = 0.0
    refusal: str | None = None
    true_light: np.ndarray | None = None
    extras: dict = field(default_factory=dict)


def things_on(rng, reflectance, count):
    """Lay a hose, boards, leaves and pails on the slab; return the cells that they hide."""
    rows, cols = reflectance.shape[:2]
    yy, xx = np.mgrid[0:rows, 0:cols] * CELL_IN
    hidden = np.zeros((rows, cols), dtype=bool)
    for _ in range(count):
        cx, cy = rng.uniform(0.1, 0.9) * cols * CELL_IN, rng.uniform(0.1, 0.9) * rows * CELL_IN
        angle = rng.uniform(0, 3.14)
        along, over = (
            (xx - cx) * np.cos(angle) + (yy - cy) * np.sin(angle),
            -(xx - cx) * np.sin(angle) + (yy - cy) * np.cos(angle),
        )
        kind = rng.choice(["board", "hose", "leaves", "pail"])
        if kind == "board":
            cells, color = (np.abs(along) < rng.uniform(15, 45)) & (np.abs(over) < 2.7), (70, 8, 30)
        elif kind == "hose":
            cells = (np.abs(over - 12 * np.sin(along / 14)) < 0.7) & (np.abs(along) < rng.uniform(30, 80))
            color = (45, -35, 25)
        elif kind == "leaves":
            cells, color = np.zeros_like(hidden), (38, 18, 32)
            for _ in range(12):
                ox, oy = rng.normal(0, 20, 2)
                cells |= np.hypot(xx - cx - ox, (yy - cy - oy) * 1.6) < rng.uniform(1, 2.2)
        else:
            cells, color = np.hypot(xx - cx, yy - cy) < 6, (85, 0, 2)
        reflectance[cells] = linear_from_lab(np.array(color, dtype=float)) * rng.uniform(0.8, 1.1)
        hidden |= cells
    return hidden


def camera_for(rng, size_ft, width_px, flat=False):
    """A person on a ladder or the ground at one side, the whole slab in the frame."""
    w, d = size_ft
    height = 2.5 if flat else rng.uniform(7, 12)
    aim = (w / 2 + rng.uniform(-0.05, 0.05) * w, d * 0.45)
    away = 1.0
    while True:
        place = (w / 2 + rng.uniform(-0.2, 0.2) * w, -away, height)
        camera = Camera(place, aim, width_px, width_px * 3 // 4, rng.choice([24.0, 26.0, 28.0]))
        px = np.array(camera.corners_px(w, d))
        if (px > 0.02 * width_px).all() and (px[:, 0] < 0.98 * width_px).all() and (px[:, 1] < 0.735 * width_px).all():
            return filled_frame(camera, w, d, 1.0 if flat else 1.6)
        away += 0.5
        height += 0.0 if flat else 0.12


def filled_frame(camera, w, d, most):
    """The same stand, stepped in or zoomed until the slab fills the frame."""
    best = camera
    for factor in np.linspace(1, most, 13):
        trial = replace(camera, focal_mm=camera.focal_mm * factor)
        for _ in range(3):
            px = np.array(trial.corners_px(w, d))
            middle = (px.min(axis=0) + px.max(axis=0)) / 2
            x, y, _ = trial.feet_of(np.array([middle[0]]), np.array([middle[1]]))
            trial = replace(trial, look_at_ft=(float(x[0]), float(y[0])))
        px = np.array(trial.corners_px(w, d))
        size = np.array([trial.width_px, trial.height_px])
        if (px > 0.02 * size).all() and (px < 0.98 * size).all():
            best = trial
    return best


def make_scene(
    seed: int, kind: str, fault: str, light_name: str, *, width_px: int = 1600, color: str | None = None
) -> Scene:
    """Return one rendered scene.

    kind: plain, hard, clutter, drift, or a refusal: dark, blown, blurred, shaken, tiny, flat.
    """
    rng = np.random.default_rng(seed)
    size_ft = (float(rng.uniform(9, 24)), float(rng.uniform(8, 20)))
    size_ft = (round(size_ft[0] * 2) / 2, round(size_ft[1] * 2) / 2)
    shape = (round(size_ft[1] * 24), round(size_ft[0] * 24))
    color = color or str(rng.choice(list(COLORS)))
    lab = shade_of(rng, fault, shape, COLORS[color])
    if kind == "drift":
        y, x = np.mgrid[-1 : 1 : shape[0] * 1j, -1 : 1 : shape[1] * 1j]
        lab[:, :, 0] += (x * rng.normal() + y * rng.normal()) * rng.uniform(1, 2.5)
    reflectance = linear_from_lab(lab)
    truth = lab_mean(reflectance)
    light = light_of(rng, light_name, shape, size_ft)
    hidden = things_on(rng, reflectance, rng.integers(2, 6)) if kind == "clutter" else np.zeros(shape, bool)
    sheets = lay_cards(rng, reflectance, hidden, size_ft, kind)
    if kind != "plain" and rng.random() < 0.4:
        add_joints(rng, reflectance, hidden)
    camera = camera_for(rng, size_ft, 150 if kind == "tiny" else width_px, kind == "flat")
    if kind == "hard":
        camera = replace(camera, barrel=float(rng.uniform(0, 0.02)))
    glare = glare_of(rng, shape, size_ft, camera) if light_name == "glare" else None
    slab = Slab(*size_ft, reflectance, light, glare, tuple(rng.uniform(0.05, 0.35, 3)))
    exposure = exposure_for(rng, kind, float(np.median(reflectance * light)))
    corners = marked_corners(rng, camera, size_ft)
    marked = marked_cards(camera, sheets)
    return Scene(
        kind, fault, light_name, render(slab, camera, exposure), corners, size_ft, truth, one_inch_any(hidden),
        marked, exposure.curve, kind if kind in {"dark", "blown", "blurred", "shaken", "tiny", "flat"} else None,
        one_inch(light + (0 if glare is None else glare)), {"color": color, "glare": glare is not None},
    )  # fmt: skip


def marked_corners(rng, camera, size_ft):
    """The slab's corners as a person marks them: a little beside the true ones, within the frame."""
    jitter = rng.normal(0, 0.8, (4, 2))
    return tuple(
        (float(np.clip(x + j[0], 0, camera.width_px)), float(np.clip(y + j[1], 0, camera.height_px)))
        for (x, y), j in zip(camera.corners_px(*size_ft), jitter, strict=False)
    )


def marked_cards(camera, sheets):
    """The pixel of each card, and its reflectance."""
    if not sheets:
        return ()
    px = camera.pixels_of(np.array([s[0][0] for s in sheets]), np.array([s[0][1] for s in sheets]))
    return tuple(((float(u), float(v)), s[1]) for u, v, s in zip(*px, sheets, strict=False))


def exposure_for(rng, kind, middle):
    base = Exposure(
        gain=None,
        white=tuple(rng.uniform([0.88, 1, 0.88], [1.12, 1.0001, 1.12])),
        noise=float(rng.uniform(0.004, 0.015)),
        curve=float(rng.uniform(0, 0.1) if kind == "plain" else rng.uniform(0, 0.3)),
        fall_off=float(rng.uniform(0, 0.3)),
        blur_px=float(rng.uniform(0.5, 0.8)),
        seed=int(rng.integers(1 << 30)),
    )
    if kind == "dark":
        return replace(base, gain=0.012 / middle, noise=0.03)
    if kind == "blown":
        return replace(base, gain=1.4 / middle)
    if kind == "blurred":
        return replace(base, blur_px=4.0)
    if kind == "shaken":
        return replace(base, shake_px=21, blur_px=1.5)
    return base


def lay_cards(rng, reflectance, hidden, size_ft, kind):
    """Lay gray cards (0.18) or paper (0.85): none, one, or five; return places and reflectances."""
    if kind in {"dark", "blown", "blurred", "shaken", "tiny", "flat"}:
        return ()
    choice = 5 if kind == "drift" else rng.choice([0, 0, 1, 5])
    w, d = size_ft
    spots = [(0.5, 0.5), (0.12, 0.12), (0.88, 0.12), (0.88, 0.88), (0.12, 0.88)][:choice]
    value = 0.18 if rng.random() < 0.75 else 0.85
    found = []
    for fx, fy in spots:
        x, y = fx * w, fy * d
        half_h, half_w = 0.35, 0.46
        rows = slice(int((y - half_h) * 24), int((y + half_h) * 24))
        cols = slice(int((x - half_w) * 24), int((x + half_w) * 24))
        reflectance[rows, cols] = value * rng.uniform(0.985, 1.015)
        hidden[rows, cols] = True
        found.append(((x, y), value))
    return found


def add_joints(rng, reflectance, hidden):
    """Saw-cut joints 3/8 in wide, one each way."""
    rows, cols = hidden.shape
    row, col = int(rng.uniform(0.3, 0.7) * rows), int(rng.uniform(0.3, 0.7) * cols)
    for cells in (np.s_[row : row + 1, :], np.s_[:, col : col + 1]):
        reflectance[cells] *= 0.3
        hidden[cells] = True


def glare_of(rng, shape, size_ft, camera):
    """A streak of mirrored light along the line of sight, or a broad lobe."""
    w, d = size_ft
    y, x = (np.mgrid[0 : shape[0], 0 : shape[1]] + 0.5) * CELL_IN / 12
    cx, cy = rng.uniform(0.25, 0.75) * w, rng.uniform(0.35, 0.8) * d
    sight = np.arctan2(cy - camera.place_ft[1], cx - camera.place_ft[0])
    along = (x - cx) * np.cos(sight) + (y - cy) * np.sin(sight)
    over = -(x - cx) * np.sin(sight) + (y - cy) * np.cos(sight)
    streak = np.exp(-0.5 * (over / rng.uniform(0.6, 1.1)) ** 2 - 0.5 * (along / rng.uniform(4, 8)) ** 2)
    return streak[:, :, None] * rng.uniform(0.02, 0.07) * np.array([0.95, 1, 1.05])


def one_inch(values):
    rows, cols = values.shape[0] // 2 * 2, values.shape[1] // 2 * 2
    return values[:rows, :cols].reshape(rows // 2, 2, cols // 2, 2, -1).mean(axis=(1, 3))


def one_inch_any(values):
    rows, cols = values.shape[0] // 2 * 2, values.shape[1] // 2 * 2
    return values[:rows, :cols].reshape(rows // 2, 2, cols // 2, 2).any(axis=(1, 3))


def lab_mean(reflectance):
    """True CIELAB of one-inch cells, from mean reflectance."""
    return lab_from_linear(one_inch(reflectance))
