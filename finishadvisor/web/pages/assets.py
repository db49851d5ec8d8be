"""Style sheets, scripts and the font: all from this machine."""

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from finishadvisor.web.rendering import font_bytes, look_css, static_files

KINDS = {"css": "text/css; charset=utf-8", "js": "text/javascript; charset=utf-8", "svg": "image/svg+xml"}


def look(_request: Request) -> Response:
    """Return the look as style sheet variables."""
    return Response(look_css(), media_type=KINDS["css"])


def static(request: Request) -> Response:
    """Return a file of the static folder, by its listed name.

    Raises:
        HTTPException: there is no such file.
    """
    name = request.path_params["name"]
    content = static_files().get(name)
    if content is None:
        raise HTTPException(404)
    return Response(content, media_type=KINDS[name.rsplit(".", 1)[1]])


def font(request: Request) -> Response:
    """Return one face of the font.

    Raises:
        HTTPException: there is no such face.
    """
    content = font_bytes(request.path_params["name"])
    if content is None:
        raise HTTPException(404)
    return Response(content, media_type="font/otf", headers={"Cache-Control": "private, max-age=86400"})
