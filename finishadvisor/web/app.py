"""The page as an application: its routes, and what becomes of mistakes."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Final

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from finishadvisor.errors import FinishAdvisorError, JobError
from finishadvisor.web.endpoints import posted, uploaded
from finishadvisor.web.guard import Guard
from finishadvisor.web.jobs import NotListedError
from finishadvisor.web.pages import (
    assets,
    days,
    devices,
    done,
    evenness,
    finishes,
    floor,
    marking,
    order,
    outline,
    papers,
    photos,
    start,
    working,
)
from finishadvisor.web.pages.conflict import page_of
from finishadvisor.web.rendering import page
from finishadvisor.web.site import Site

JOB: Final = "/job/{job}"
FLOOR: Final = JOB + "/{number:int}"
PHOTO: Final = FLOOR + "/photos/{photo}"

ROUTES: Final = [
    Route("/", start.jobs_page, methods=["GET"]),
    Route("/new", start.new_page, methods=["GET"]),
    Route("/new", posted(start.begin, start.new_page), methods=["POST"]),
    Route("/look.css", assets.look, methods=["GET"]),
    Route("/static/{name}", assets.static, methods=["GET"]),
    Route("/font/{name}.otf", assets.font, methods=["GET"]),
    Route("/devices", devices.devices_page, methods=["GET"]),
    Route("/devices/new", posted(devices.new_code), methods=["POST"]),
    Route("/devices/out", posted(devices.let_out), methods=["POST"]),
    Route("/pair/{code}", devices.pair_page, methods=["GET"]),
    Route("/pair/{code}", devices.pair, methods=["POST"]),
    Route(JOB, start.job_page, methods=["GET"]),
    Route(JOB + "/order", order.order_page, methods=["GET"]),
    Route(JOB + "/order/used", posted(order.used, order.order_page), methods=["POST"]),
    Route(JOB + "/days", days.days_page, methods=["GET"]),
    Route(JOB + "/days/done", posted(done.finished, days.days_page), methods=["POST"]),
    Route(JOB + "/days/weather", uploaded(days.take_weather), methods=["POST"]),
    Route(JOB + "/papers", papers.papers_page, methods=["GET"]),
    Route(JOB + "/papers", posted(papers.make), methods=["POST"]),
    Route(JOB + "/papers/{name}", papers.paper, methods=["GET"]),
    Route(JOB + "/work", working.work_page, methods=["GET"]),
    Route(JOB + "/work.json", working.work_json, methods=["GET"]),
    Route(JOB + "/work/stop", posted(working.stop), methods=["POST"]),
    Route(FLOOR + "/floor", floor.floor_page, methods=["GET"]),
    Route(FLOOR + "/floor/answers", posted(floor.save_answers, floor.floor_page), methods=["POST"]),
    Route(FLOOR + "/floor/about", posted(floor.save_about, floor.floor_page), methods=["POST"]),
    Route(FLOOR + "/floor/readings", posted(floor.save_reading, floor.floor_page), methods=["POST"]),
    Route(FLOOR + "/outline", outline.outline_page, methods=["GET"]),
    Route(FLOOR + "/outline", posted(outline.save_outline, outline.outline_page), methods=["POST"]),
    Route(FLOOR + "/finishes", finishes.finishes_page, methods=["GET"]),
    Route(FLOOR + "/finishes/{finish}", finishes.finish_page, methods=["GET"]),
    Route(FLOOR + "/finishes/{finish}", posted(finishes.decide_finish, finishes.finish_page), methods=["POST"]),
    Route(FLOOR + "/photos", photos.photos_page, methods=["GET"]),
    Route(FLOOR + "/photos", uploaded(photos.upload), methods=["POST"]),
    Route(FLOOR + "/measure", posted(photos.measure), methods=["POST"]),
    Route(PHOTO + "/shown.jpg", photos.shown, methods=["GET"]),
    Route(PHOTO + "/proposed.json", marking.proposed, methods=["GET"]),
    Route(PHOTO + "/mark", marking.mark_page, methods=["GET"]),
    Route(PHOTO + "/mark", posted(marking.save_marks, marking.mark_page), methods=["POST"]),
    Route(FLOOR + "/evenness", evenness.evenness_page, methods=["GET"]),
    Route(FLOOR + "/evenness/{photo_number:int}-{what}.{ending}", evenness.picture, methods=["GET"]),
]


def make_app(site: Site) -> Starlette:
    """Return the page over the jobs of a site."""

    @asynccontextmanager
    async def lifespan(_app: Starlette) -> AsyncIterator[None]:
        yield
        site.works.stop_all()

    app = Starlette(
        routes=ROUTES,
        middleware=[Middleware(Guard, door=site.door)],
        exception_handlers={
            HTTPException: _refused,
            FinishAdvisorError: _mistaken,
            NotListedError: _not_listed,
            Exception: _fault,
        },
        lifespan=lifespan,
    )
    app.router.redirect_slashes = False  # an address with one more slash is another address, and there is none
    app.state.site = site
    return app


def _refused(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    if error.status_code == 405 and request.method == "GET" and page_of(request.url.path) != request.url.path:
        return RedirectResponse(page_of(request.url.path), 303)  # a refused form stays at its own address; loaded anew
    words = {404: "There is no such page. Go back to the list of jobs.", 405: "That cannot be done at this address."}
    return page(
        request, "message.html", error.status_code, title="Not done", message=words.get(error.status_code, error.detail)
    )


def _mistaken(request: Request, error: Exception) -> Response:
    mistakes = error.mistakes if isinstance(error, JobError) and len(error.mistakes) > 1 else ()
    title = "This cannot be done as it stands"
    return page(request, "message.html", 400, title=title, message=str(error), mistakes=mistakes)


def _not_listed(request: Request, error: Exception) -> Response:
    return page(request, "message.html", 404, title="Not here", message=str(error))


def _fault(request: Request, error: Exception) -> Response:
    message = f"A fault inside Finish Advisor ({type(error).__name__}). Nothing of yours was changed."
    return page(request, "message.html", 500, title="A fault", message=message)
