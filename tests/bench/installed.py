"""The environment in which a bench starts the program: as on a user's machine, where its modules are compiled."""

import os
from pathlib import Path


def as_installed(compiled: Path) -> dict[str, str]:
    """Return this environment with compiled modules kept in a folder, whatever the tests' own environment says.

    The first run compiles, so it must not be timed. Installing a wheel compiles the program's modules; without this a
    checkout under PYTHONDONTWRITEBYTECODE would compile them at every start, and the libraries beside it never.
    """
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPYCACHEPREFIX": str(compiled)}
