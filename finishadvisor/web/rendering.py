"""Templates rendered with what every page needs: the look, the way through the job, the form token."""

import re
from collections.abc import Callable
from functools import cache
from importlib import resources
from secrets import token_urlsafe
from typing import Any, Final
from urllib.parse import quote

from jinja2 import Environment, PackageLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from starlette.requests import Request
from starlette.responses import HTMLResponse

from finishadvisor import __version__
from finishadvisor.papers.look import look
from finishadvisor.papers.quantities import said
from finishadvisor.papers.readings import reading_text
from finishadvisor.papers.wording import (
    VERDICT_MARKS,
    VERDICT_WORDS,
    area_text,
    clock_text,
    day_text,
    hour_text,
    length_text,
    moment_text,
    money_range_text,
    money_text,
    number_text,
    quantity_text,
    sides_text,
    stability_words,
)
from finishadvisor.web.job_units import answer_in, unit_in
from finishadvisor.web.site import JobAt, device_of, site_of

FLOOR_STEPS: Final = (("floor", "The floor"), ("finishes", "Finishes"), ("photos", "Photos"), ("evenness", "Evenness"))
_SHORT: Final = re.compile(r"\b(?:rh|ph|voc)\b")
FEW_FLOORS: Final = 3
"""With more floors than these, what stands there for each of them is folded away (our choice)."""
JOB_STEPS: Final = (("order", "Order"), ("days", "Schedule"), ("papers", "Papers"))


def at(*parts: object) -> str:
    """Return the address of these parts; whatever is in a name cannot leave its part."""
    return "/" + "/".join(quote(str(part), safe="") for part in parts)


def plain_words(id_: object) -> str:
    """Return a word of a closed list as a person reads it: "frost-and-salt" as "frost and salt"."""
    if isinstance(id_, bool):
        return "yes" if id_ else "no"
    if isinstance(id_, float):
        return number_text(id_, 3)
    words = str(id_).replace("-", " ").replace("_", " ")
    return _SHORT.sub(lambda found: {"rh": "RH", "ph": "pH", "voc": "VOC"}[found[0]], words)


def in_job(told: Callable[..., str]) -> Callable[..., str]:
    """Return a filter that is given, as its last argument, the units of the job that the page shows."""

    @pass_context
    def applied(context: Context, value: Any, *words: Any) -> str:
        here = context.get("here")
        return told(value, *words, here.job.units if here else "us")

    return applied


@cache
def templates() -> Environment:
    """Return the templates; everything put into them is escaped, and a name that is not there is an error."""
    environment = Environment(
        loader=PackageLoader("finishadvisor.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters |= {
        "answer": in_job(answer_in),
        "area": in_job(area_text),
        "day": in_job(day_text),
        "feet": in_job(length_text),
        "sides": in_job(sides_text),
        "moment": in_job(moment_text),
        "money": money_text,
        "money_range": money_range_text,
        "number": number_text,
        "quantity": in_job(quantity_text),
        "reading": in_job(reading_text),
        "stability": stability_words,
        "told": in_job(said),
        "then": in_job(clock_text),
        "hour": in_job(hour_text),
        "unit": in_job(unit_in),
        "words": plain_words,
    }
    environment.globals |= {
        "at": at,
        "once": lambda: token_urlsafe(9),
        "verdict_marks": VERDICT_MARKS,
        "verdict_words": VERDICT_WORDS,
        "program_version": __version__,
    }
    return environment


def page(request: Request, template: str, status: int = 200, here: JobAt | None = None, **shown: Any) -> HTMLResponse:
    """Return a page.

    Args:
        request: the request that it answers.
        template: the template's name.
        status: the HTTP status.
        here: the job and floor that the address names.
        shown: what the template shows.
    """
    site = site_of(request)
    html = templates().get_template(template).render(
        token=site.tokens.of(device_of(request)),
        on=site.on,
        fixed_day=site.fixed_day is not None,
        here=here,
        path=request.url.path,
        step=request.url.path.split("/")[4 if here and here.number else 3 :][:1],
        floor_steps=FLOOR_STEPS,
        job_steps=JOB_STEPS,
        few_floors=FEW_FLOORS,
        pairs=site.door.pairing is not None,
        saved="saved" in request.query_params,
        work=site.works.of(here.folder) if here else None,
        **shown,
    )  # fmt: skip
    return HTMLResponse(html, status)


@cache
def look_css() -> str:
    """Return the look's colors, sizes and font as style sheet variables, light and dark."""
    it = look()
    scale = it.type["scale"]
    sizes = {f"size-{step}": f"{scale**step:.4g}rem" for step in range(-1, 5)}
    sizes |= {"touch": f"{it.space['touch_px']:g}px", "text": f"{it.type['page_px']:g}px", "scale": f"{scale}"}
    light = "".join(f"  --{name}: {value};\n" for name, value in {**it.color, **sizes}.items())
    dark = "".join(f"    --{name}: {value};\n" for name, value in it.color_dark.items())
    faces = "".join(
        f'@font-face {{ font-family: "{it.type["family"]}"; font-weight: {weight}; font-display: swap; '
        f'src: url("/font/{name}.otf") format("opentype"); }}\n'
        for weight, name in ((400, "regular"), (600, "semibold"))
    )
    return (
        f'{faces}:root {{\n  color-scheme: light dark;\n  --family: "{it.type["family"]}", "Segoe UI", sans-serif;\n'
        f"{light}}}\n@media (prefers-color-scheme: dark) {{\n  :root {{\n{dark}  }}\n}}\n"
    )


@cache
def font_bytes(name: str) -> bytes | None:
    """Return one of the two faces of the open font, None where there is no such face or the font is not installed."""
    from finishadvisor.errors import FinishAdvisorError
    from finishadvisor.papers.typeset import font_folder

    files = {"regular": "SourceSansPro-Regular.otf", "semibold": "SourceSansPro-Semibold.otf"}
    try:
        return (font_folder() / files[name]).read_bytes()
    except (FinishAdvisorError, KeyError, OSError):
        return None


@cache
def static_files() -> dict[str, bytes]:
    """Return every file of the static folder by name."""
    folder = resources.files("finishadvisor.web").joinpath("static")
    return {
        entry.name: entry.read_bytes() for entry in folder.iterdir() if entry.name.endswith((".css", ".js", ".svg"))
    }
