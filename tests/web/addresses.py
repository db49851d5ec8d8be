"""An address for every route, so that no route is ever left out of a check."""

from starlette.routing import Route

from finishadvisor.web.app import ROUTES

VALUES = {
    "job": "pottery",
    "number": "1",
    "finish": "densified",
    "photo": "glaze-room-west.jpg",
    "photo_number": "1",
    "what": "shade",
    "ending": "png",
    "name": "page.css",
    "code": "no-such-code",
}


def address_of(route: Route) -> str:
    """Return an address that the route answers."""
    values = {name: VALUES[name] for name in route.param_convertors}
    if route.path.startswith("/font"):
        values["name"] = "regular"
    return route.path_format.format(**values)


def addresses(method: str) -> list[str]:
    """Return an address of every route that answers a method."""
    return [address_of(route) for route in ROUTES if method in (route.methods or ())]
