"""Style sheets, scripts and the font: all from this machine."""

import hashlib

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from finishadvisor.web.rendering import font_bytes, look_css, static_files

KINDS = {"css": "text/css; charset=utf-8", "js": "text/javascript; charset=utf-8", "svg": "image/svg+xml"}


def look(request: Request) -> Response:
    """Return the look as style sheet variables."""
    return _unless_there(request, look_css().encode(), KINDS["css"])


def static(request: Request) -> Response:
    """Return a file of the static folder, by its listed name.

    Raises:
        HTTPException: there is no such file.
    """
    name = request.path_params["name"]
    content = static_files().get(name)
    if content is None:
        raise HTTPException(404)
    return _unless_there(request, content, KINDS[name.rsplit(".", 1)[1]])


def _unless_there(request: Request, content: bytes, kind: str) -> Response:
    """Return a file, or only that the browser has it: it asks each time, so that a new version shows at once."""
    mark = f'"{hashlib.sha256(content).hexdigest()[:24]}"'
    headers = {"Cache-Control": "private, no-cache", "ETag": mark}
    if request.headers.get("if-none-match") == mark:
        return Response(status_code=304, headers=headers)
    return Response(content, media_type=kind, headers=headers)


def font(request: Request) -> Response:
    """Return one face of the font.

    Raises:
        HTTPException: there is no such face.
    """
    content = font_bytes(request.path_params["name"])
    if content is None:
        raise HTTPException(404)
    return Response(content, media_type="font/otf", headers={"Cache-Control": "private, max-age=86400"})
