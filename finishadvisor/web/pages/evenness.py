"""The evenness map: every patch with its size, what it probably comes from and what to do."""

import re
from typing import Any

from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import FileResponse, Response

from finishadvisor.catalog.models import Catalog
from finishadvisor.records.evenness import Evenness
from finishadvisor.units import feet_from_meters
from finishadvisor.web.jobs import NotListedError
from finishadvisor.web.maps import BARE, SEALED, SHADE, SQUARED, MapPaths, ending_of, map_paths
from finishadvisor.web.rendering import page
from finishadvisor.web.results import measured_here, outcome_here
from finishadvisor.web.site import JobAt, job_at, site_of

VIEWS = ("shade", "squared", "sealed")
MOST_ZOOM = 4
TOUCH_SHARE = 44 / 330
"""A fingertip's share of the map's width on a phone of 360 px."""


def evenness_page(request: Request) -> Response:
    """Show the measured shade of a floor, photo by photo, with patches to tap."""
    from finishadvisor.papers.evenness_words import compared_sentences
    from finishadvisor.whole_job.one_photo import SENTENCES

    here = job_at(request)
    catalog, measured = measured_here(site_of(request), here)
    shown = request.query_params.get("show", SHADE)
    zoom = request.query_params.get("zoom", "1")
    paths = map_paths(here.folder, here.floor)
    looks = looks_of(paths, catalog)
    sealed = request.query_params.get("finish", "")
    if shown == "sealed" and not sealed:
        sealed = outcome_here(site_of(request), here)[1].finish or ""
    views = [
        view_of(here, paths, number, photo) for number, photo in enumerate(measured.photos if measured else (), start=1)
    ]
    answer = page(
        request,
        "evenness.html",
        here=here,
        measured=measured,
        causes=catalog.causes,
        sources=catalog.sources,
        views=views,
        together=measured.together if measured else None,
        compared=compared_sentences(measured.compared, here.job.units) if measured else (),
        spoken=(measured.together or measured.photos[0]) if measured else None,
        sentences=SENTENCES,
        shown=shown if shown in VIEWS else SHADE,
        sealed=sealed if sealed in looks else next(iter(looks), ""),
        looks=looks,
        zoom=int(zoom) if zoom.isdigit() and 1 <= int(zoom) <= MOST_ZOOM else 1,
        most_zoom=MOST_ZOOM,
        ending_of=ending_of,
    )
    if here.floor.photos and not (views and all(view["pictures"] for view in views)):
        answer.background = BackgroundTask(site_of(request).works.make_ready)  # once the page is sent
    return answer


def view_of(here: JobAt, paths: MapPaths, number: int, evenness: Evenness) -> dict[str, Any]:
    """Return one photo's map: its sides, its patches as paths with y upward, whether its pictures are there."""
    from finishadvisor.papers.evenness_words import open_questions
    from finishadvisor.whole_job.one_photo import SENTENCES

    photo = here.floor.photos[number - 1]
    mind = [SENTENCES.get(caveat, caveat) for caveat in evenness.caveats]
    patches = evenness.patches or ()
    causes = evenness.patch_causes or ((),) * len(patches)
    unit_ft = feet_from_meters(1.0) if here.job.units == "metric" else 1.0
    width_ft, length_ft = photo.size or extent_of(evenness)
    reach_ft = TOUCH_SHARE * width_ft / 2
    return {
        "number": number,
        "evenness": evenness,
        "width_ft": width_ft,
        "length_ft": length_ft,
        "type_ft": max(width_ft, length_ft * 0.7) / 24,
        "reach_ft": reach_ft,
        "ticks_x": ticks(width_ft, unit_ft),
        "ticks_y": ticks(length_ft, unit_ft),
        "mind": list(dict.fromkeys([*mind, *open_questions(evenness, photo)])),
        "pictures": all(paths(number, what).is_file() for what in (SHADE, SQUARED, BARE)),
        "patches": [
            {
                "number": patch_number,
                "patch": patch,
                "causes": likely,
                "path": "M" + " L".join(f"{x:.2f} {length_ft - y:.2f}" for x, y in patch.outline_ft) + " Z",
                "x": patch.x_ft + patch.width_ft / 2,
                "y": length_ft - patch.y_ft - patch.length_ft / 2,
            }
            for patch_number, (patch, likely) in enumerate(zip(patches, causes, strict=True), start=1)
        ],
    }


def looks_of(paths: MapPaths, catalog: Catalog) -> dict[str, str]:
    """Return the names of the finishes whose look on this slab was drawn, by id."""
    return {finish.id: finish.name for finish in catalog.finishes.values() if paths(1, SEALED + finish.id).is_file()}


def extent_of(evenness: Evenness) -> tuple[float, float]:
    """Return how far the patches reach, for a photo whose sides are not stated."""
    patches = evenness.patches or ()
    return (
        max([1.0, *(patch.x_ft + patch.width_ft for patch in patches)]),
        max([1.0, *(patch.y_ft + patch.length_ft for patch in patches)]),
    )


def ticks(side_ft: float, unit_ft: float = 1.0) -> list[tuple[int, float]]:
    """Return a few round places along a side: what is written there, and how many feet along it lies."""
    side = side_ft / unit_ft
    step = next((step for step in (1, 2, 5, 10, 20, 50) if side / step <= 6), 100)
    return [(step * place, step * place * unit_ft) for place in range(int(side // step) + 1)]


def picture(request: Request) -> Response:
    """Return one picture of a measured photo.

    Raises:
        NotListedError: there is no such picture, or it is out of date.
    """
    here = job_at(request)
    number, what, ending = (request.path_params[name] for name in ("photo_number", "what", "ending"))
    known = re.fullmatch(rf"{SHADE}|{SQUARED}|{BARE}|{SEALED}[a-z0-9-]{{1,60}}", what)
    if known is None or f".{ending}" != ending_of(what) or not 1 <= number <= len(here.floor.photos):
        raise NotListedError("There is no such picture.")
    path = map_paths(here.folder, here.floor)(number, what)
    if not path.is_file():
        raise NotListedError("The picture is out of date. Measure the photos again.")
    return FileResponse(path, media_type="image/jpeg" if path.suffix == ".jpg" else "image/png")
