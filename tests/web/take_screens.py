"""Takes the pictures of every page that the user guide shows: phone and laptop, from the example job.

    python -m tests.web.take_screens [--dark] [FOLDER]

Without a folder they go to docs/screens.
"""

import io
import re
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from tests.web.running import LAPTOP, PHONE, browser, served

JOB = "/job/pottery"
PAGES = {
    "jobs": "/",
    "new-job": "/new",
    "job": JOB,
    "floor": f"{JOB}/1/floor",
    "outline": f"{JOB}/1/outline",
    "finishes": f"{JOB}/1/finishes",
    "finish": f"{JOB}/1/finishes/densified",
    "photos": f"{JOB}/1/photos",
    "mark": f"{JOB}/1/photos/glaze-room-west.jpg/mark",
    "evenness": f"{JOB}/1/evenness",
    "patch": f"{JOB}/1/evenness#patch-1-1",
    "order": f"{JOB}/order",
    "days": f"{JOB}/days",
    "papers": f"{JOB}/papers",
}
READY = {"mark": "#marking[data-looked]", "outline": "#drawing[data-ready]"}
"""What is there once a page's script has done its part."""
PICTURES_ARE_THERE = "() => [...document.images].every((image) => image.complete)"
TALLEST_PX = 1300
"""Long pages are cut here: the guide shows how a page begins."""
COLORS = 160


def make_jobs(folder: Path) -> None:
    """Make the example job, measured, and a second one that has just begun."""
    command = [sys.executable, "-m", "finishadvisor"]
    subprocess.run([*command, "demo", folder / "pottery"], check=True, stdout=subprocess.DEVNULL)
    subprocess.run(
        [*command, "new", folder / "bike-shed", "--name", "Bike shed"], check=True, input="covered\n\n\n\n\n",
        encoding="utf-8", stdout=subprocess.DEVNULL,
    )  # fmt: skip


def measure_on_the_page(page: Any, address: str) -> None:
    """Measure the photos of the first floor, so that its evenness page shows the maps."""
    page.goto(f"{address}{JOB}/1/evenness")
    page.get_by_role("button", name=re.compile("Draw the map|Measure the photos")).first.click()
    page.wait_for_selector("svg.map image", timeout=120_000)


def take(address: str, browser_: Any, out: Path, dark: bool) -> None:
    for name, size in (("laptop", LAPTOP), ("phone", PHONE)):
        context = browser_.new_context(
            viewport=size, color_scheme="dark" if dark else "light", has_touch=name == "phone"
        )
        page = context.new_page()
        if name == "laptop":
            measure_on_the_page(page, address)
        for title, path in PAGES.items():
            page.goto(address + path)
            page.wait_for_selector(READY.get(title, "main"))
            height = min(TALLEST_PX, page.evaluate("document.documentElement.scrollHeight"))
            page.set_viewport_size({**size, "height": max(size["height"], height)})
            page.wait_for_function(PICTURES_ARE_THERE)
            write_small(page.screenshot(), out / f"{title}-{name}.png")
            page.set_viewport_size(size)
        context.close()


def write_small(screenshot: bytes, path: Path) -> None:
    """Write a screenshot with a small palette: pages are mostly one color, and the repository stays small."""
    from PIL import Image

    picture = Image.open(io.BytesIO(screenshot)).convert("RGB")
    method = Image.Quantize.MAXCOVERAGE  # keeps the few colors of a map beside a page of paper
    small = picture.quantize(COLORS, method=method, dither=Image.Dither.NONE)
    palette = small.getpalette()
    paper = 3 * small.getpixel((0, 0))  # the paper keeps its very color: most of the picture is of it
    palette[paper : paper + 3] = picture.getpixel((0, 0))
    small.putpalette(palette)
    small.save(path, optimize=True)


def main(words: list[str]) -> None:
    dark = "--dark" in words
    named = [word for word in words if not word.startswith("--")]
    out = Path(named[0]) if named else Path(__file__).parents[2] / "docs" / "screens"
    out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        make_jobs(Path(folder))
        with served(Path(folder)) as address, browser() as browser_:
            take(address, browser_, out, dark)


if __name__ == "__main__":
    main(sys.argv[1:])
