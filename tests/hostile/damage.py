"""Ways to damage a file, and damaged photos of every kind; seeded, so that each can be had again."""

import random
import struct
from collections.abc import Callable, Iterator

from tests.hostile.odd_photos import whole_photos

EXTREMES = (0, 1, 0x7F, 0x80, 0xFF, 0x7FFF, 0xFFFF, 0x7FFFFFFF, 0xFFFFFFFF)

Damage = Callable[[bytearray, random.Random], bytearray]


def flip_bits(data: bytearray, chance: random.Random) -> bytearray:
    for _ in range(chance.choice((1, 3, 20, 200))):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
    return data


def change_head(data: bytearray, chance: random.Random) -> bytearray:
    for _ in range(chance.choice((1, 2, 8))):
        data[chance.randrange(min(len(data), 400))] = chance.randrange(256)
    return data


def put_extremes(data: bytearray, chance: random.Random) -> bytearray:
    for _ in range(chance.choice((1, 2, 4))):
        form = chance.choice((">H", "<H", ">I", "<I"))
        value = chance.choice(EXTREMES) & (0xFFFF if form.endswith("H") else 0xFFFFFFFF)
        place = chance.randrange(max(1, min(len(data), chance.choice((300, 1200, 10**6))) - 4))
        struct.pack_into(form, data, place, value)
    return data


def cut_off(data: bytearray, chance: random.Random) -> bytearray:
    return data[: chance.randrange(len(data))]


def cut_out(data: bytearray, chance: random.Random) -> bytearray:
    start = chance.randrange(len(data))
    del data[start : start + chance.choice((1, 2, 40, 1000))]
    return data


def double(data: bytearray, chance: random.Random) -> bytearray:
    start = chance.randrange(len(data))
    piece = data[start : start + chance.choice((1, 12, 400))]
    return data[:start] + piece * chance.choice((1, 2, 50)) + data[start:]


def blank(data: bytearray, chance: random.Random) -> bytearray:
    start = chance.randrange(len(data))
    length = min(chance.choice((4, 64, 1000)), len(data) - start)
    data[start : start + length] = bytes([chance.choice((0, 255))]) * length
    return data


def graft(data: bytearray, chance: random.Random) -> bytearray:
    other = chance.choice(list(whole_photos().values()))
    return data[: chance.randrange(len(data))] + other[chance.randrange(len(other)) :]


DAMAGES: tuple[Damage, ...] = (flip_bits, change_head, put_extremes, cut_off, cut_out, double, blank, graft)


def damaged(number: int) -> tuple[str, bytes]:
    """Return the damaged photo of this number, and what it was made from."""
    chance = random.Random(number)
    kinds = list(whole_photos())
    kind = kinds[number % len(kinds)]
    data = bytearray(whole_photos()[kind])
    done = []
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        damage = chance.choice(DAMAGES)
        if len(data) > 8:
            data = damage(data, chance)
            done.append(damage.__name__)
    return f"{number}: {kind}, {', '.join(done)}", bytes(data)


def cuts_every(step: int) -> Iterator[tuple[str, bytes]]:
    """Yield every kind of photo cut off at every so many bytes."""
    for kind, data in whole_photos().items():
        for length in range(0, len(data), step):
            yield f"{kind} cut at byte {length}", data[:length]


def cuts(pieces: int) -> Iterator[tuple[str, bytes]]:
    """Yield every kind of photo cut off at this many places."""
    for kind, data in whole_photos().items():
        for piece in range(pieces):
            length = len(data) * piece // pieces
            yield f"{kind} cut at byte {length}", data[:length]
