"""A job file with something under nearly every key, and changes to any one of its entries; seeded."""

import copy
import datetime
import random
from importlib import resources
from typing import Any

import tomlkit

Path = tuple[str | int, ...]

MORE = """
[[price]]
material = "flake"
size = 40
price = 130.0

[weights]
look = 2
wear = 1

[own_files]
rules = ["own-rules.toml"]
"""
FLOOR_MORE = """
[[floor.used]]
material = "flake"
layer = "flake"
coats = 1
area_ft2 = 200
used = 30
date = 2026-09-19
lot = "A7"

[[floor.mock_up]]
finish = "polyaspartic-flake"
material = "flake"
area_ft2 = 12
used = 2
date = 2026-09-18
signed_by = "the client"

[[floor.layer_down]]
material = "acrylic"
laid = 2026-08-20

[floor.decision]
finish = "polyaspartic-flake"
by = "the client"
date = 2026-09-19
"""
WHEN = 'when = { sun = ["full"], slab_rh_pct = { at_least = 60 } }'
OWN_RULES = f"""
[[rule]]
id = "no-flake-in-sun"
about = {{ layer = "polyaspartic" }}
{WHEN}
effect = "caution"
because = "Flake fades in full sun"
source = {{ id = "common-practice", from_memory = true }}
"""


EFFECTS = ("caution", "favor", "against", "hold")


def rules_text(count: int) -> str:
    """Return so many rules of a user's own, of every effect that leaves a finish on the list."""
    return "\n".join(
        f"""[[rule]]
id = "own-{number}"
about = {{ all = "finishes" }}
when = {{ slab_rh_pct = {{ at_least = {50 + number % 40} }}, place = "indoors" }}
effect = "{EFFECTS[number % len(EFFECTS)]}"
because = "Sentence {number}"
source = {{ id = "common-practice", from_memory = true }}
"""
        for number in range(count)
    )


def full_text() -> str:
    """Return the example's job file with the entries that it leaves out."""
    text = resources.files("finishadvisor.demo").joinpath("job", "job.toml").read_text(encoding="utf-8")
    head, first, second = text.split("[[floor]]")
    head = head.replace("[workday]", MORE + "\n[workday]", 1)
    return f"{head}[[floor]]{first}{FLOOR_MORE}\n[[floor]]{second}"


def full_job() -> dict[str, Any]:
    return tomlkit.parse(full_text()).unwrap()


ODD_VALUES: tuple[Any, ...] = (
    0, 1, -1, 3, 1e-9, 0.5, -0.0, 99, 101, 1e6, 1e12, 1e300, -1e300, 2**62, float("nan"), float("inf"),
    True, False, "", " ", "x", "none", "0", "-4 ft", "24ft 6in", "1e400 ft", "7 furlongs", "é" * 300,
    "../../etc/passwd", "\u202e", "a\nb", "2026-02-30", [], {}, [[]], [1], [1, 2], [1, 2, 3], ["a", "b"],
    [[0, 0], [1, 1], [2, 2]], [[0, 0], [1e9, 0], [1e9, 1e9]], [[0, 0], [4, 4], [4, 0], [0, 4]], {"a": 1}, {"x": "1ft"},
    datetime.date(1, 1, 1), datetime.date(9999, 12, 31), datetime.date(2026, 9, 21), datetime.time(23, 59),
    datetime.time(0, 0), datetime.datetime(2026, 9, 18, 10, 30),  # noqa: DTZ001  a job's times are the zone's clock
    datetime.datetime(9999, 12, 31, 23, 59, tzinfo=datetime.UTC),
)  # fmt: skip


def places(value: Any, here: Path = ()) -> list[Path]:
    """Return the place of every entry below a value."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [place for key, below in inner for place in ((*here, key), *places(below, (*here, key)))]


def changed_job(number: int) -> tuple[str, str]:
    """Return what was changed and the text of the job file of this number: one to three entries made odd."""
    chance = random.Random(number)
    job = copy.deepcopy(full_job())
    said = []
    for _ in range(chance.choice((1, 1, 2, 3))):
        place = chance.choice(places(job))
        holder: Any = job
        for key in place[:-1]:
            holder = holder[key]
        action = chance.choice(("change", "change", "scale", "scale", "remove", "remove", "repeat", "rename"))
        said.append(f"{action} {'.'.join(map(str, place))}")
        if action == "remove":
            del holder[place[-1]]
        elif action == "repeat" and isinstance(holder, list):
            holder.append(copy.deepcopy(holder[place[-1]]))
        elif action == "scale" and type(holder[place[-1]]) in {int, float}:
            holder[place[-1]] *= chance.choice((0.01, 0.5, 2, 3, 10, 1000))
        elif action == "rename" and isinstance(holder, dict):
            holder[chance.choice(("odd", "", "a b", "name", "floor"))] = holder.pop(place[-1])
        else:
            holder[place[-1]] = copy.deepcopy(chance.choice(ODD_VALUES))
            said[-1] += f" to {holder[place[-1]]!r}"[:60]
    try:
        return f"{number}: {'; '.join(said)}", tomlkit.dumps(job)
    except (ValueError, TypeError, AttributeError):  # a mixture that the writer has no form for
        return changed_job(number + 1_000_000)
