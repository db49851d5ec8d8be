"""Running the page: address, port, the code for the phone, and the server itself."""

import contextlib
import datetime
import os
import socket
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Final

from finishadvisor.errors import FinishAdvisorError, UsageError

DEFAULT_PORT: Final = 8712
PORTS_TRIED: Final = 20

Say = Callable[[str], None]


def serve(root: Path, port: int | None, *, lan: bool, on: datetime.date | None, say: Say) -> None:
    """Run the page until it is stopped.

    Args:
        root: folder of job folders, or one job folder.
        port: port; the first free one from 8712 when None.
        lan: let paired devices of the same network in.
        on: the day to reckon from; today when None.
        say: prints a line.

    Raises:
        UsageError: the folder is not there, or the port is taken.
        FinishAdvisorError: this machine is on no network.
    """
    if not root.is_dir():
        raise UsageError(f"{root} is not a folder. Name the folder that holds your jobs, or one job folder.")
    import uvicorn

    from finishadvisor.web.app import make_app
    from finishadvisor.web.guard import Door, hosts_for
    from finishadvisor.web.pairing import Pairing
    from finishadvisor.web.site import Site

    address = lan_address() if lan else None
    listening = open_port("0.0.0.0" if lan else "127.0.0.1", port)
    taken_port = listening.getsockname()[1]
    door = Door(hosts_for([address] if address else [], taken_port), Pairing() if lan else None)
    with tempfile.TemporaryDirectory(prefix="finishadvisor-page-") as cache:
        site = Site(root, on, door, Path(cache))
        say(f"The page is at http://127.0.0.1:{taken_port}/  (jobs in {root.resolve()}). Stop it with Ctrl+C.")
        if door.pairing and address:
            say_pairing(f"http://{address}:{taken_port}/pair/{door.pairing.new_code()}", say)
        settings = uvicorn.Config(
            make_app(site), log_level="warning", server_header=False, proxy_headers=False, ws="none",
            timeout_graceful_shutdown=2,
        )  # fmt: skip
        with listening, contextlib.suppress(KeyboardInterrupt):  # Ctrl+C is the way to stop it
            uvicorn.Server(settings).run(sockets=[listening])
    say("The page is closed.")


def open_port(host: str, port: int | None) -> socket.socket:
    """Return a listening socket on the port asked for, or on the first free one of a few.

    Raises:
        UsageError: the port is taken.
    """
    for tried in [port] if port is not None else range(DEFAULT_PORT, DEFAULT_PORT + PORTS_TRIED):
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name != "nt":  # on Windows it would let two programs share the port
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((host, tried))
            listening.listen()
        except (OSError, OverflowError):
            listening.close()
            continue
        return listening
    named = f"Port {port}" if port is not None else f"Every port from {DEFAULT_PORT} on"
    raise UsageError(f"{named} is taken or not allowed. Name another with --port, for example --port 8800.")


def lan_address() -> str:
    """Return this machine's address on its network; no packet is sent.

    Raises:
        FinishAdvisorError: there is no network.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # a documentation address (RFC 5737): only the route is looked up
            address = str(probe.getsockname()[0])
        except OSError:
            address = ""
    if not address or address.startswith("127."):
        raise FinishAdvisorError(
            "This machine is on no network, so no phone can reach it. Turn on the laptop's hot spot, or join one, and "
            "start again."
        )
    return address


def say_pairing(link: str, say: Say) -> None:
    """Print the link for the phone and its code to scan."""
    import io

    import segno

    drawn = io.StringIO()
    segno.make(link, error="m").terminal(out=drawn, border=2, compact=True)
    say("\nScan this with the phone. It lets one device in, once, within 30 minutes:\n")
    say(drawn.getvalue())
    say(f"or type this address: {link}\n")
    say("Use a network of your own, such as the laptop's hot spot: what passes over it is not encrypted.")
