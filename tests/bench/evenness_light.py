"""Light on a rendered slab, drawn at random: an overcast sky, sun with shadows, windows, doors and lamps."""

import numpy as np
from evenness_faults import CELL_IN, noise_of, soft

LIGHTS = ("overcast", "window", "garage", "lamps", "mixed", "shadow", "dapple", "glare")


def light_of(rng, name, shape, size_ft):
    """Light on half-inch cells; indoors its range is drawn, 1.6 to 6.5 from the 2nd to the 98th percentile."""
    light = raw_light(rng, name, shape, size_ft)
    if name in {"window", "garage", "lamps", "mixed"}:
        bright = light @ [0.2, 0.7, 0.1]
        has = np.subtract(*np.percentile(np.log(bright), [98, 2]))
        light = light * (bright ** (rng.uniform(0.5, 1.9) / has - 1))[:, :, None]
    return light


def raw_light(rng, name, shape, size_ft):
    """Light on half-inch cells, shape (rows, cols, 3), before its range is drawn."""
    if name in {"overcast", "glare"}:
        return overcast_light(rng, shape, size_ft)
    if name in {"shadow", "dapple"}:
        return sunny_light(rng, name, shape, size_ft)
    return indoor_light(rng, name, shape, size_ft)


def cells_ft(shape):
    """Places of the half-inch cells: y and x [ft], each of shape (rows, cols)."""
    return (np.mgrid[0 : shape[0], 0 : shape[1]] + 0.5) * CELL_IN / 12


def overcast_light(rng, shape, size_ft):
    """An even sky, a little brighter to one side."""
    (y, x), (w, d) = cells_ft(shape), size_ft
    g = rng.normal(0, 0.05, 2)
    field_ = np.exp(g[0] * (x / w - 0.5) * 2 + g[1] * (y / d - 0.5) * 2 - rng.uniform(0, 0.03) * (x / w - 0.5) ** 2)
    return field_[:, :, None] * np.ones(3)


def sunny_light(rng, name, shape, size_ft):
    """Blue sky and yellow sun, the sun kept off by an edge or by leaves."""
    (y, x), (w, d) = cells_ft(shape), size_ft
    g = rng.normal(0, 0.04, 2)
    slow = np.exp(g[0] * (x / w - 0.5) + g[1] * (y / d - 0.5))[:, :, None]
    sky_share = rng.uniform(0.2, 0.5)
    sky, sun = sky_share * np.array([0.78, 0.95, 1.3]), (1 - sky_share) * np.array([1.06, 1.0, 0.88])
    if name == "shadow":
        angle = rng.uniform(0, 3.14)
        across = (x - w / 2) * np.cos(angle) + (y - d / 2) * np.sin(angle) + rng.uniform(-0.3, 0.3) * min(w, d)
        inside = across if rng.random() < 0.6 else np.abs(across) - rng.uniform(0.4, 1.2)
        seen = soft(inside * 12, rng.uniform(0.8, 4))
    else:
        blobs = noise_of(rng, shape, rng.uniform(5, 14)) + 0.6 * noise_of(rng, shape, 26)
        seen = 1 / (1 + np.exp(-4 * (blobs - rng.uniform(-0.4, 0.5))))
    return slow * (sky + seen[:, :, None] * sun)


def lamp(places_ft, px, py, height):
    """Light of a bare bulb [relative], falling off with the square and the slant."""
    y, x = places_ft
    square = (x - px) ** 2 + (y - py) ** 2 + height**2
    return height**2 / square * height / np.sqrt(square)


def opening(places_ft, px, half, height, along="x", deep=0.0):
    """Light of a window or door [relative], 1 where it is brightest, as that of seven narrow ones side by side."""
    y, x = places_ft
    total = np.zeros(x.shape)
    for k in np.linspace(-half, half, 7):
        qx, qy = (px + k, -deep) if along == "x" else (-deep, px + k)
        square = (x - qx) ** 2 + (y - qy) ** 2 + height**2
        out = (y + deep) if along == "x" else (x + deep)
        total += np.maximum(out, 0.05) * height / square**2
    return total / total.max()


def indoor_light(rng, name, shape, size_ft):
    """A window, an open garage door, lamps, or daylight and bulbs together."""
    places_ft, (w, d) = cells_ft(shape), size_ft
    ambient = rng.uniform(0.2, 0.5)
    if name == "window":
        along = rng.choice(["x", "y"])
        side = w if along == "x" else d
        field_ = ambient + opening(places_ft, rng.uniform(0.2, 0.8) * side, 2, 4.5, along, rng.uniform(0.5, 3))
        return field_[:, :, None] * rng.uniform([0.92, 0.98, 1.0], [1.0, 1.02, 1.12])
    if name == "garage":
        field_ = ambient + opening(places_ft, w / 2, w * 0.35, 5, "x", rng.uniform(0.3, 2))
        return field_[:, :, None] * rng.uniform([0.92, 0.98, 1.0], [1.0, 1.02, 1.12])
    if name == "lamps":
        field_ = np.full(shape, ambient)
        for _ in range(rng.integers(2, 6)):
            share = rng.uniform(0.5, 1)
            field_ = field_ + share * lamp(places_ft, rng.uniform(0, w), rng.uniform(0, d), rng.uniform(6.5, 9))
        return field_[:, :, None] * np.array([1.12, 1.0, 0.78])
    daylight = 0.7 * opening(places_ft, rng.uniform(0.2, 0.8) * w, 2.5, 4.5, "x", rng.uniform(1, 3))
    both = sum(lamp(places_ft, rng.uniform(0, w), rng.uniform(0, d), rng.uniform(7, 9)) for _ in range(2))
    bulbs = both * rng.uniform(0.3, 0.6)
    return ambient + daylight[:, :, None] * np.array([0.9, 1, 1.18]) + bulbs[:, :, None] * np.array([1.2, 1, 0.65])
