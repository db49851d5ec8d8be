"""The yardstick of the benches, one decode of a 12 MP photo, and how long work takes beside it."""

import io
import time
from collections.abc import Callable

import numpy as np
from PIL import Image


def a_photo() -> bytes:
    """A picture of 4000 x 3000 pixels as a JPEG, quality 90, 4:2:0."""
    noise = np.random.default_rng(1).normal(128, 12, (3000, 4000, 3))
    shade = np.linspace(-40, 40, 4000)[None, :, None]
    picture = Image.fromarray(np.clip(noise + shade, 0, 255).astype(np.uint8))
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=90, subsampling="4:2:0")
    return file.getvalue()


def best_of(count: int, work: Callable[[], object]) -> float:
    """Return the shortest processor time of several runs [s]: other programs on the machine do not count."""
    times = []
    for _ in range(count):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def decode_seconds() -> float:
    """Return what one decode takes now [s]."""
    photo = a_photo()
    return best_of(5, lambda: Image.open(io.BytesIO(photo)).convert("RGB").load())
