"""Letting devices in: the page behind the scanned code, and new codes for further devices."""

import base64
import hashlib
import io

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from finishadvisor.web.forms import Fields
from finishadvisor.web.guard import CONTENT_POLICY
from finishadvisor.web.pairing import COOKIE, PAIRED_SECONDS, Pairing
from finishadvisor.web.rendering import at, look_css, page, templates
from finishadvisor.web.site import site_of


def pairing_of(request: Request) -> Pairing:
    """Return who is let in.

    Raises:
        HTTPException: the page is on this machine alone.
    """
    pairing = site_of(request).door.pairing
    if pairing is None:
        raise HTTPException(404, "The page is on this machine alone. Start it with --lan to let a phone in.")
    return pairing


def pair_page(request: Request) -> Response:
    """Ask before a code is used up: programs that look a scanned address over in advance must not use it."""
    code = request.path_params["code"]
    waits = pairing_of(request).waits(code)
    style = look_css().split(":root", 1)[1]
    sheet = (
        ":root" + style + "body{background:var(--paper);color:var(--ink);font:1.2rem/1.5 sans-serif;margin:1.5rem;"
        "max-width:34rem}button{font:inherit;font-weight:600;min-height:3.5rem;width:100%;border:0;border-radius:.4rem;"
        "background:var(--work);color:var(--paper)}"
    )
    digest = base64.b64encode(hashlib.sha256(sheet.encode()).digest()).decode()
    html = templates().get_template("pair.html").render(code=code, waits=waits, sheet=sheet)
    policy = CONTENT_POLICY.replace("style-src 'self'", f"style-src 'sha256-{digest}'")
    return HTMLResponse(html, 200 if waits else 401, headers={"Content-Security-Policy": policy})


def pair(request: Request) -> Response:
    """Use the code up and let this device in.

    Raises:
        HTTPException: the code lets nobody in.
    """
    secret = pairing_of(request).redeem(request.path_params["code"])
    if secret is None:
        return HTMLResponse(templates().get_template("pair.html").render(code="", waits=False, sheet=""), 401)
    answer = RedirectResponse("/", 303)
    answer.set_cookie(COOKIE, secret, max_age=PAIRED_SECONDS, path="/", httponly=True, samesite="strict")
    return answer


def devices_page(request: Request, link: str = "") -> Response:
    """Show how many devices are in, and let one more in or all out."""
    return page(request, "devices.html", count=pairing_of(request).count(), link=link, drawing=drawing_of(link))


def new_code(request: Request, _fields: Fields) -> Response:
    """Make a code for one more device."""
    site = site_of(request)
    hosts = sorted(host for host in site.door.hosts if not host.startswith(("127.", "localhost", "[::1]")))
    host = hosts[0] if hosts else request.headers["host"]
    return devices_page(request, f"http://{host}{at('pair', pairing_of(request).new_code())}")


def let_out(request: Request, _fields: Fields) -> Response:
    """End every pairing."""
    pairing_of(request).let_all_out()
    return RedirectResponse("/", 303)


def drawing_of(link: str) -> list[str]:
    """Return the rows of the code to scan as paths of one drawing, empty without a link."""
    if not link:
        return []
    import segno

    out = io.StringIO()
    segno.make(link, error="m").save(out, kind="txt", border=4)
    return out.getvalue().split()
