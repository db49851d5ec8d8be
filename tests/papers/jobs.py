"""Small jobs written for the tests of the papers."""

import re
from pathlib import Path

LONG_NAME = "Lower-level workshop, studio and storage with the old boiler corner and the ramp"
UNBROKEN_NAME = "W" * 80

FLOOR = """
[[floor]]
name = "{name}"

[floor.pour]
date = 2026-05-04

[floor.outline]
{outline}

[floor.answers]
place = "indoors"
use = "workshop"
traffic = "feet"
sun = "none"
winter = "no-frost"
water = "splashed"
surface = "light-steel-trowel"
slab_curing = "wet"
color_depth = "medium"
{answers}
"""

US_OUTLINE = """
[[floor.outline.rectangle]]
x = "24 ft"
y = "15 ft"

[[floor.outline.joint]]
kind = "control"
start = [12, 0]
end = [12, 15]
"""

METRIC_OUTLINE = """
polygons = [[[0, 0], [9, 0], [9, 4], [5, 4], [5, 7], [0, 7]]]

[[floor.outline.joint]]
kind = "control"
start = [5, 0]
end = [5, 4]

[[floor.outline.joint]]
kind = "crack"
start = [1, 5]
end = [3, 6.5]
"""


def write_job(folder: Path, floors: list[str], *, name: str = "Test job", head: str = "") -> Path:
    """Write a job of floors and return its folder."""
    folder.mkdir(parents=True, exist_ok=True)
    text = f'name = "{name}"\n{head}\n' + "\n".join(floors)
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return folder


def floor(name: str, *, outline: str = US_OUTLINE, answers: str = "") -> str:
    """Return one floor as TOML."""
    return FLOOR.format(name=name, outline=outline, answers=answers)


def turn_metric(folder: Path) -> None:
    """Rewrite the example's job file as a metric one: places, readings and the room get their US unit."""
    path = folder / "job.toml"
    text = path.read_text(encoding="utf-8").replace('units = "us"', 'units = "metric"').replace('"USD"', '"EUR"')
    text = re.sub(r"(?m)^((?:polygons|cut_outs|start|end|place|boundary|origin_on_plan) = )(.*\])", _in_feet, text)
    text = text.replace("air = 68", 'air = "68 F"').replace("slab = 66", 'slab = "66 F"')
    path.write_text(text.replace("value = 2.6", "value = 12.7"), encoding="utf-8")


def _in_feet(found: re.Match[str]) -> str:
    return found[1] + re.sub(r"(?<![\w.])(\d+(?:\.\d+)?)", r'"\1 ft"', found[2])
