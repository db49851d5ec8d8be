"""What people call the zones of a floor: by the letter that plan and papers show, else by their own name."""

import re
from collections.abc import Iterable
from typing import Final

from finishadvisor.records.works import Zone

_NUMBERED: Final = re.compile(r"zone (\d+)")


def zone_letter(number: int) -> str:
    """Return the letter of a zone, counted from 0: A to Z, then AA, AB, ..."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def zone_label(zone: Zone) -> str:
    """Return what a zone is called: "C" for the third one that joints cut, else its own name, like "steps"."""
    numbered = _NUMBERED.fullmatch(zone.name)
    return zone_letter(int(numbered[1]) - 1) if numbered else zone.name


def zone_named(typed: str, zones: Iterable[Zone]) -> Zone | None:
    """Return the zone that is meant by "A", "zone a", "1" or "steps"; None where there is none."""
    wanted = typed.strip().casefold()
    plain = wanted.removeprefix("zone").strip()
    for zone in zones:
        if zone.name in {wanted, f"zone {plain}"} or plain == zone_label(zone).casefold():
            return zone
    return None
