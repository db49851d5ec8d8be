"""Letting a phone in: one-time codes that become a strict, http-only cookie."""

import hashlib
import hmac
import secrets
import threading
import time
from collections.abc import Callable
from typing import Final

COOKIE: Final = "finishadvisor-paired"
CODE_SECONDS: Final = 30 * 60
"""How long a code waits for its phone (our choice: long enough to walk to the slab)."""
PAIRED_SECONDS: Final = 14 * 3600
"""One working day, then the phone is paired anew (our choice)."""


class Pairing:
    """Codes that wait and devices that are in, kept in memory only: stopping the program lets everyone out.

    Only digests are kept, so that what is in memory opens no door.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._codes: dict[str, float] = {}
        self._paired: dict[str, float] = {}

    def new_code(self) -> str:
        """Return a code that lets one device in, once."""
        code = secrets.token_urlsafe(24)
        with self._lock:
            self._codes[_digest(code)] = self._clock() + CODE_SECONDS
        return code

    def waits(self, code: str) -> bool:
        """Return whether a code would still let a device in."""
        with self._lock:
            return self._codes.get(_digest(code), 0.0) > self._clock()

    def redeem(self, code: str) -> str | None:
        """Use a code up; return the secret of its cookie, or None where the code lets nobody in."""
        with self._lock:
            if self._codes.pop(_digest(code), 0.0) <= self._clock():
                return None
            secret = secrets.token_urlsafe(32)
            self._paired[_digest(secret)] = self._clock() + PAIRED_SECONDS
            return secret

    def is_paired(self, secret: str | None) -> bool:
        """Return whether a cookie's secret belongs to a device that is in."""
        if not secret:
            return False
        with self._lock:
            return self._paired.get(_digest(secret), 0.0) > self._clock()

    def count(self) -> int:
        """Return how many devices are in."""
        with self._lock:
            return sum(until > self._clock() for until in self._paired.values())

    def let_all_out(self) -> None:
        """End every pairing and every code that waits."""
        with self._lock:
            self._codes.clear()
            self._paired.clear()


class FormTokens:
    """A token in every form, tied to the device that asked for the page; another site cannot know it."""

    def __init__(self) -> None:
        self._key = secrets.token_bytes(32)

    def of(self, device: str) -> str:
        """Return the token of a device: its cookie's secret, or "" on this machine."""
        return hmac.new(self._key, device.encode(), hashlib.sha256).hexdigest()

    def fits(self, token: str, device: str) -> bool:
        """Return whether a token is the one of this device."""
        return hmac.compare_digest(token.encode(), self.of(device).encode())


def _digest(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()
