"""A measurement for practice: whatever measuring loads late is there when real photos come."""

import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any, Final

FLOOR: Final = "Practice"
WIDTH_PX, HEIGHT_PX = 400, 300
JOB: Final = f"""
name = "{FLOOR}"
[[floor]]
name = "{FLOOR}"
[[floor.photo]]
file = "slab.jpg"
corners = [[20, 280], [380, 280], [380, 20], [20, 20]]
size = ["12 ft", "9 ft"]
"""
DARKER: Final = (160, 100, 260, 180)
"""A patch: left, upper, right and lower side [px]."""


def practice(measure: Callable[[dict[str, Any]], None]) -> None:
    """Let a task measure a small made-up job that is thrown away; what goes wrong with it is of no account.

    Args:
        measure: the task, given the folder, the floor's name and the day.
    """
    from PIL import Image

    with suppress(Exception), tempfile.TemporaryDirectory(prefix="finishadvisor-practice-") as folder:
        slab = Image.effect_noise((WIDTH_PX, HEIGHT_PX), 12).convert("RGB")
        slab.paste((112, 110, 106), DARKER)
        (Path(folder) / "photos").mkdir()
        slab.save(Path(folder) / "photos" / "slab.jpg", quality=90)
        (Path(folder) / "job.toml").write_text(JOB, encoding="utf-8")
        measure({"folder": folder, "floor": FLOOR, "on": "2026-01-01"})
