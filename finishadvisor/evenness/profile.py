"""The embedded color profile: from a picture's codes to linear light in sRGB primaries, nothing clipped."""

import struct
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

XYZ_FROM_SRGB: Final = np.array([
    [0.412453, 0.357580, 0.180423],
    [0.212671, 0.715160, 0.072169],
    [0.019334, 0.119193, 0.950227],
])
"""Linear sRGB to XYZ, D65, 2°: primaries and white of IEC 61966-2-1 (ITU-R BT.709), six decimals."""

D65_FROM_D50: Final = np.array([
    [0.9555766, -0.0230393, 0.0631636],
    [-0.0282895, 1.0099416, 0.0210077],
    [0.0122982, -0.0204830, 1.3299098],
])
"""Bradford adaptation from the profile connection space's D50 to D65 (Lindbloom's values, from memory)."""

D50_WHITE: Final = np.array([0.9642, 1.0, 0.8249])
"""White of the profile connection space: the sum of a sound profile's primaries. Source: ICC.1 (ISO 15076-1)."""
MOST_WHITE_OFF: Final = 0.05
"""Beyond this a profile is damaged, or was never adapted to the connection space (our choice)."""


@dataclass(frozen=True)
class Profile:
    """How codes become light.

    Attributes:
        table: linear light by 8-bit code and channel, shape (256, 3).
        to_srgb: matrix from the profile's linear RGB to linear sRGB, shape (3, 3); None where they are the same.
        guessed: True where the embedded profile could not be used and sRGB stands in.
    """

    table: NDArray[np.float32]
    to_srgb: Array | None = None
    guessed: bool = False


def srgb_linear(encoded: Array) -> Array:
    """Return linear light, 0 to 1, from sRGB values, 0 to 1. Source: IEC 61966-2-1."""
    return np.where(encoded <= 0.04045, encoded / 12.92, ((np.maximum(encoded, 0.04045) + 0.055) / 1.055) ** 2.4)


def srgb_encoded(linear: Array) -> Array:
    """Return sRGB values, 0 to 1, from linear light; light outside 0 to 1 is clipped. Source: IEC 61966-2-1."""
    light = np.clip(linear, 0.0, 1.0)
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * np.maximum(light, 0.0031308) ** (1 / 2.4) - 0.055)


def code_values(high_bytes: bool) -> Array:
    """Return the encoded value, 0 to 1, of each 8-bit code; `high_bytes`: the codes are the upper half of 16 bits."""
    codes = np.arange(256, dtype=np.float64)
    return (codes * 256 + 127.5) / 65535 if high_bytes else codes / 255


def read_profile(icc: bytes | None, high_bytes: bool = False) -> Profile:
    """Return how codes become light under the embedded profile, or sRGB where there is none.

    Args:
        icc: the embedded ICC profile.
        high_bytes: the codes are the upper bytes of 16-bit ones.
    """
    values = code_values(high_bytes)
    plain = np.repeat(srgb_linear(values)[:, None], 3, axis=1).astype(np.float32)
    if not icc:
        return Profile(plain)
    try:
        tags = _tags(icc)
        with np.errstate(all="ignore"):  # a damaged curve overflows: what is not a number is looked for below
            curves = [_curve(tags[name], values) for name in (b"rTRC", b"gTRC", b"bTRC")]
        matrix_d50 = np.stack([_xyz(tags[name]) for name in (b"rXYZ", b"gXYZ", b"bXYZ")], axis=1)
    except (KeyError, struct.error, ValueError, IndexError, ZeroDivisionError):
        return Profile(plain, guessed=True)
    to_srgb = np.linalg.inv(XYZ_FROM_SRGB) @ D65_FROM_D50 @ matrix_d50
    table = np.stack(curves, axis=1)
    white_off = np.abs(matrix_d50.sum(axis=1) - D50_WHITE).max()
    if not (np.isfinite(table).all() and white_off < MOST_WHITE_OFF and abs(np.linalg.det(to_srgb)) > 1e-3):
        return Profile(plain, guessed=True)
    same = np.abs(to_srgb - np.eye(3)).max() < 0.01
    return Profile(table.clip(0, 1).astype(np.float32), None if same else to_srgb)


def _tags(icc: bytes) -> dict[bytes, bytes]:
    """Return the content of each tag of an RGB matrix profile.

    Raises:
        ValueError: it is another kind of profile.

    Source: ICC.1 (ISO 15076-1), tag table.
    """
    if icc[16:20] != b"RGB ":
        raise ValueError("not an RGB profile")
    (count,) = struct.unpack_from(">I", icc, 128)
    tags = {}
    for index in range(min(count, 200)):
        name, offset, size = struct.unpack_from(">4sII", icc, 132 + 12 * index)
        tags[name] = icc[offset : offset + size]
    return tags


def _xyz(tag: bytes) -> Array:
    """Return the three s15Fixed16 numbers of an XYZ tag."""
    return np.array(struct.unpack_from(">3i", tag, 8), dtype=np.float64) / 65536


def _curve(tag: bytes, values: Array) -> Array:
    """Return a tone curve tag at encoded values 0 to 1.

    Raises:
        ValueError: it is another kind of tag.

    Source: ICC.1 (ISO 15076-1), curveType and parametricCurveType.
    """
    if tag[:4] == b"curv":
        (count,) = struct.unpack_from(">I", tag, 8)
        if count == 0:
            return values
        numbers = np.array(struct.unpack_from(f">{count}H", tag, 12), dtype=np.float64)
        if count == 1:
            return np.asarray(values ** (numbers[0] / 256))
        return np.interp(values, np.linspace(0, 1, count), numbers / 65535)
    if tag[:4] != b"para":
        raise ValueError("unknown curve")
    (form,) = struct.unpack_from(">H", tag, 8)
    count = (1, 3, 4, 5, 7)[form]
    given = [n / 65536 for n in struct.unpack_from(f">{count}i", tag, 12)]
    return _parametric(form, given + [0.0] * (7 - count), values)


def _parametric(form: int, numbers: list[float], values: Array) -> Array:
    """Return a parametric curve of one of the five forms of ICC.1, parametricCurveType."""
    g, a, b, c, d, e, f = numbers
    if form == 0:
        return np.asarray(values**g)
    if form in {1, 2}:
        c, d, e, f = 0.0, -b / a, c, c
    return np.where(values >= d, np.maximum(a * values + b, 0) ** g + e, c * values + f)
