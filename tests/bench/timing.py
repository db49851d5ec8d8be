"""The yardstick of the benches, one bare decode of a rendered 12 MP photo, and how long work takes beside it."""

import io
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[2]))

from finishadvisor.demo.render import Camera, Exposure, Slab, as_jpeg, render
from finishadvisor.evenness.color import linear_from_lab

SIZE_FT = (20.0, 20.0)
CAMERA = Camera((10, -7, 14), (10, 9), 4032, 3024, 24)


def a_photo() -> bytes:
    """Render the fixed photo of a slab of 20 x 20 ft: 4032 x 3024 pixels, JPEG of quality 90, 4:2:0."""
    lab = np.tile(np.array([52.0, 8, 12]), (480, 480, 1))
    lab[:, :, 0] += np.random.default_rng(12).normal(0, 1, (480, 480))
    lab[100:160, 200:300, 0] += 5
    fall = np.exp(np.linspace(0.5, -0.5, 480))[:, None, None] * np.ones((480, 480, 3))
    return as_jpeg(render(Slab(*SIZE_FT, linear_from_lab(lab), fall), CAMERA, Exposure()), 90)


def best_of(count: int, work: Callable[[], object]) -> float:
    """Return the shortest processor time of several runs [s]: other programs on the machine do not count."""
    times = []
    for _ in range(count):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def decode(photo: bytes) -> None:
    """Decode a photo and do nothing with it."""
    with Image.open(io.BytesIO(photo)) as image:
        image.load()


def decode_seconds() -> float:
    """Return what one decode takes now [s]."""
    photo = a_photo()
    return best_of(15, lambda: decode(photo))
