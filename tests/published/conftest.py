"""What the checks against published values share."""

from collections.abc import Callable
from typing import Any

import pytest


@pytest.fixture
def printed() -> Callable[[str], Any]:
    """A number as a source prints it, equal to anything that rounds to it: within half a unit of its last digit."""

    def as_printed(text: str) -> Any:
        decimals = len(text.partition(".")[2])
        # The little extra lets a value on the border itself pass, whichever way the source rounds.
        return pytest.approx(float(text), rel=0, abs=0.5 * 10**-decimals * (1 + 1e-9))

    return as_printed
