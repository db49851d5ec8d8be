"""Faults of a slab's shade, drawn on half-inch cells."""

import numpy as np
from scipy.ndimage import gaussian_filter, map_coordinates

CELL_IN = 0.5


def noise_of(rng, shape, scale_in, cell_in=CELL_IN):
    """Smooth noise of unit spread whose blobs are about `scale_in` wide."""
    sigma = scale_in / 2.5 / cell_in
    step = max(1, int(sigma / 2))
    small = (shape[0] // step + 4, shape[1] // step + 4)
    field_ = gaussian_filter(rng.standard_normal(small), sigma / step, mode="wrap")
    field_ /= field_.std() + 1e-12
    rows = np.linspace(1, small[0] - 2, shape[0])
    cols = np.linspace(1, small[1] - 2, shape[1])
    return map_coordinates(field_, np.meshgrid(rows, cols, indexing="ij"), order=1)


def soft(distance_in, width_in):
    """1 inside (distance below 0), 0 outside, over a border of the given 10-90 % width."""
    return 1 / (1 + np.exp(np.clip(distance_in * 4.4 / max(width_in, 0.05), -40, 40)))


def blob(rng, xx, yy, center, radius, raggedness=0.25, lobes=None):
    """Distance [in] outside an irregular closed shape; xx, yy in inches."""
    angle = np.arctan2(yy - center[1], xx - center[0])
    r = np.hypot(xx - center[0], (yy - center[1]) * rng.uniform(0.6, 1.6))
    edge = np.ones_like(r)
    for k in range(2, lobes or 7):
        edge += raggedness / k * rng.standard_normal() * np.cos(k * angle + rng.uniform(0, 6.28))
    return r - radius * np.maximum(edge, 0.3)


class Slab:
    """True CIELAB on half-inch cells, and what is needed to mark it."""

    def __init__(self, rng, shape, color):
        self.rng, self.shape, self.color = rng, shape, color
        rows, cols = shape
        self.yy, self.xx = np.mgrid[0:rows, 0:cols] * CELL_IN + CELL_IN / 2
        self.width, self.length = cols * CELL_IN, rows * CELL_IN
        self.lab = np.tile(np.array(color, dtype=float) + rng.normal(0, [2, 0.7, 0.7]), (*shape, 1))
        rough = rng.uniform(0.5, 1.6)
        self.lab[:, :, 0] += rough * rng.standard_normal(shape) * 0.9
        self.lab[:, :, 0] += rng.uniform(0.1, 0.35) * noise_of(rng, shape, 3)
        self.lab[:, :, 0] += rng.uniform(0.1, 0.5) * noise_of(rng, shape, 8)
        self.lab[:, :, 1:] += rng.uniform(0.05, 0.2) * noise_of(rng, shape, 5)[:, :, None]
        self.strength = rng.uniform(3, 8) * rng.choice([-1, 1])
        self.tint = rng.normal(0, 0.12, 2) * abs(self.strength)

    def add(self, amount, value=None, tint=None):
        """Add a difference of `value` L* and its tint where `amount` is 1."""
        a, b = self.tint if tint is None else tint
        self.lab += amount[:, :, None] * np.array([self.strength if value is None else value, a, b])

    def place(self):
        return self.rng.uniform(0.08, 0.92) * self.width, self.rng.uniform(0.08, 0.92) * self.length

    def blob(self, radius, *shape):
        return blob(self.rng, self.xx, self.yy, self.place(), radius, *shape)


def spots(slab):
    for _ in range(slab.rng.integers(5, 16)):
        amount = soft(slab.blob(slab.rng.uniform(4, 14)), slab.rng.uniform(0.5, 5))
        slab.add(amount, slab.strength * slab.rng.uniform(0.7, 1.2))


def patch(slab):
    for _ in range(slab.rng.integers(1, 4)):
        slab.add(soft(slab.blob(slab.rng.uniform(0.14, 0.28) * min(slab.width, slab.length)), slab.rng.uniform(1, 10)))


def load(slab):
    angle = slab.rng.uniform(0, 3.14)
    across = (slab.xx - slab.width / 2) * np.cos(angle) + (slab.yy - slab.length / 2) * np.sin(angle)
    wander = 8 * noise_of(slab.rng, slab.shape, 50) + 2 * noise_of(slab.rng, slab.shape, 12)
    aside = slab.rng.uniform(-0.25, 0.25) * min(slab.width, slab.length)
    slab.add(soft(across + wander + aside, slab.rng.uniform(1, 8)))


def mottle(slab):
    field = noise_of(slab.rng, slab.shape, slab.rng.uniform(6, 14)) + 0.5 * noise_of(slab.rng, slab.shape, 24)
    slab.add(field * 0.5, abs(slab.strength) * 0.7)


def arcs(slab):
    for _ in range(slab.rng.integers(8, 24)):
        cx, cy = slab.place()
        radius, start = slab.rng.uniform(14, 40), slab.rng.uniform(0, 6.28)
        ring = np.abs(np.hypot(slab.xx - cx, slab.yy - cy) - radius)
        turn = np.mod(np.arctan2(slab.yy - cy, slab.xx - cx) - start, 6.28)
        drawn = turn < slab.rng.uniform(0.8, 2.2)
        slab.add(soft(ring - slab.rng.uniform(0.5, 1.3), 0.8) * drawn, -abs(slab.strength))


def salts(slab):
    size = abs(slab.strength)
    for _ in range(slab.rng.integers(2, 7)):
        holes = 0.55 + 0.45 * np.tanh(2 * noise_of(slab.rng, slab.shape, 5))
        lace = soft(slab.blob(slab.rng.uniform(8, 26), 0.4, 12), 3) * holes
        slab.add(lace, size, (-0.04 * slab.color[1] * size, -0.04 * slab.color[2] * size))


def damp(slab):
    for _ in range(slab.rng.integers(1, 5)):
        amount = soft(slab.blob(slab.rng.uniform(8, 30)), slab.rng.uniform(5, 16))
        slab.add(amount, -abs(slab.strength), (0.3, 0.6))


def edge_band(slab):
    reach = slab.rng.uniform(10, 18) + 3 * noise_of(slab.rng, slab.shape, 20)
    sides = (slab.xx, slab.width - slab.xx, slab.yy, slab.length - slab.yy)
    chosen = slab.rng.permutation(4)[: slab.rng.integers(1, 4)]
    slab.add(soft(np.minimum.reduce([sides[k] for k in chosen]) - reach, slab.rng.uniform(1, 5)))


def stripes(slab):
    angle = slab.rng.uniform(-0.15, 0.15) + slab.rng.choice([0, 1.5708])
    pitch = slab.rng.uniform(20, 50)
    across = slab.xx * np.cos(angle) + slab.yy * np.sin(angle)
    slab.add(soft(np.abs(np.mod(across, pitch) - pitch / 2) - slab.rng.uniform(2, 6), 1.5))


def footprints(slab):
    cx, cy = slab.place()
    heading = slab.rng.uniform(0, 6.28)
    for step in range(slab.rng.integers(5, 14)):
        side = 5 * (-1) ** step
        px = cx + 24 * step * np.cos(heading) - side * np.sin(heading)
        py = cy + 24 * step * np.sin(heading) + side * np.cos(heading)
        along = (slab.xx - px) * np.cos(heading) + (slab.yy - py) * np.sin(heading)
        over = -(slab.xx - px) * np.sin(heading) + (slab.yy - py) * np.cos(heading)
        slab.add(soft(5 * (np.hypot(along / 5.5, over / 2) - 1), 1.2))


DRAWN = {
    "even": lambda slab: None, "spots": spots, "patch": patch, "load": load, "mottle": mottle, "arcs": arcs,
    "salts": salts, "damp": damp, "edge-band": edge_band, "stripes": stripes, "footprints": footprints,
}  # fmt: skip


def shade_of(rng, fault, shape, color):
    """True CIELAB at half-inch cells of a slab with one fault."""
    slab = Slab(rng, shape, color)
    DRAWN[fault](slab)
    slab.lab[:, :, 0] = np.clip(slab.lab[:, :, 0], 8, 92)
    return slab.lab
