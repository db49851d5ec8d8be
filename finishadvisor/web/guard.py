"""What stands in front of every handler: known host, same site, paired device, small enough, strict headers."""

import ipaddress
from collections.abc import Iterable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from finishadvisor.web.pairing import COOKIE, Pairing

MOST_UPLOAD_BYTES: Final = 120_000_000
"""A 200 megapixel original at the finest setting, and room for the form around it (our choice)."""
MOST_FORM_BYTES: Final = 600_000
METHODS: Final = frozenset({"GET", "HEAD", "POST"})

CONTENT_POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS: Final = {
    "Content-Security-Policy": CONTENT_POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cache-Control": "no-store",
}


@dataclass(frozen=True)
class Door:
    """Who is let in.

    Attributes:
        hosts: the only values of the Host header that are answered, with their port.
        pairing: None: the page is on this machine's loopback alone. Else every other machine must be paired.
    """

    hosts: frozenset[str]
    pairing: Pairing | None = None


class Guard:
    """Refuses whatever may not pass, and puts strict headers on every answer."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        self._app = app
        self._door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, refuse, or hand on one request."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        refused = self.refusal(scope)
        if refused:
            status, words = refused
            await PlainTextResponse(words + "\n", status)(scope, receive, send_with_headers)
            return
        await self._app(scope, _limited(receive, _most_bytes(scope)), send_with_headers)

    def refusal(self, scope: Scope) -> tuple[int, str] | None:
        """Return the status and words that a request is turned away with, None where it may pass."""
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if len(hosts) != 1 or hosts[0].lower() not in self._door.hosts:
            return 421, "This page does not answer under that name. Open the address that the terminal printed."
        if scope["method"] not in METHODS:
            return 405, "Only reading and sending forms is possible here."
        if scope["method"] == "POST" and not _same_site(headers, hosts[0]):
            return 403, "This was sent from another site, so nothing was done. Open the page itself and send it there."
        if not self._may_enter(scope, headers, hosts[0]):
            return 401, (
                "This device is not paired. Scan the code in the terminal, or ask for a new one on the laptop's "
                "page under Devices."
            )
        length = headers.get("content-length")
        if length is not None and (not length.isdigit() or int(length) > _most_bytes(scope)):
            return 413, f"This is more than may be sent at once: {_most_bytes(scope) / 1e6:.1f} MB. Nothing was kept."
        return None

    def _may_enter(self, scope: Scope, headers: Headers, host: str) -> bool:
        if self._door.pairing is None or (_is_loopback(scope) and _names_loopback(host)):
            return True
        return scope["path"].startswith("/pair/") or self._door.pairing.is_paired(paired_secret(headers))


def paired_secret(headers: Headers) -> str | None:
    """Return the secret of the pairing cookie, None where there is none."""
    try:
        morsel = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
    except CookieError:
        return None
    return morsel.value if morsel else None


def hosts_for(addresses: Iterable[str], port: int) -> frozenset[str]:
    """Return the Host values of some addresses on a port, this machine's own names among them."""
    names = {"127.0.0.1", "localhost", "[::1]", *addresses}
    return frozenset(f"{name}:{port}" for name in names) | (frozenset(names) if port == 80 else frozenset())


def _same_site(headers: Headers, host: str) -> bool:
    """Return whether a form was sent from this page; a browser always says where from."""
    origin = headers.get("origin")
    if origin is not None:
        return origin.lower() == f"http://{host.lower()}"
    return headers.get("sec-fetch-site") == "same-origin"


def _is_loopback(scope: Scope) -> bool:
    client = scope.get("client")
    try:
        return client is not None and ipaddress.ip_address(client[0]).is_loopback
    except ValueError:
        return False


def _names_loopback(host: str) -> bool:
    return host.rsplit(":", 1)[0].lower() in {"127.0.0.1", "localhost", "[::1]"}


def _most_bytes(scope: Scope) -> int:
    if scope["method"] != "POST":
        return 0
    return MOST_UPLOAD_BYTES if scope["path"].endswith("/photos") else MOST_FORM_BYTES


def _limited(receive: Receive, most_bytes: int) -> Receive:
    """Return a `receive` that stops a body without a stated length as soon as it grows too long."""
    received = 0

    async def counted() -> Message:
        nonlocal received
        message = await receive()
        received += len(message.get("body", b""))
        if received > most_bytes:
            raise HTTPException(413, f"This is more than may be sent at once: {most_bytes / 1e6:.1f} MB.")
        return message

    return counted
