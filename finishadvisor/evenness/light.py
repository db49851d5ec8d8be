"""The lighting of a slab as a smooth field: what it may look like, and its value at places on the slab.

A field is a sum of products of one function along each side, and of the lens's fall-off toward the picture's corners.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MOST_DEGREE: Final = 6
FUNCTIONS: Final = MOST_DEGREE + 3
"""Functions along a side: Chebyshev polynomials of degree 0 to 6, then the light toward both walls."""
WALL_OFFSET_FT: Final = 1.5


@dataclass(frozen=True)
class Shape:
    """What a lighting field may look like: total polynomial degrees, image-radius terms, wall terms."""

    degree: int
    color_degree: int
    radial: bool = True
    walls: bool = False

    def brightness_terms(self) -> NDArray[np.intp]:
        """Return the numbers of the functions along x and y whose products make brightness, shape (terms, 2)."""
        walls = [(7, 0), (8, 0), (0, 7), (0, 8)] if self.walls else []
        return np.array([*_powers(self.degree), *walls], dtype=np.intp)

    def color_terms(self) -> NDArray[np.intp]:
        """Return the same for ln R/G and ln B/G."""
        return np.array(_powers(self.color_degree), dtype=np.intp)


@dataclass(frozen=True)
class Light:
    """A fitted field of log brightness, ln R/G and ln B/G.

    Attributes:
        shape: the form that was fitted.
        table: coefficients of the products by channel, function along x and function along y, shape (3, 9, 9).
        radial: coefficients of the squared distance from the picture's middle and of its square, shape (2,).
        weight: how far each difference between cells was believed, 0 to 1, shape (pairs,).
    """

    shape: Shape
    table: Array
    radial: Array
    weight: Array

    def at(self, plane: Plane, x_ft: Array, y_ft: Array) -> Array:
        """Return the field at plan points of one shape, shape (..., 3); its level is arbitrary."""
        along, across = functions_of(x_ft.ravel(), plane.width_ft), functions_of(y_ft.ravel(), plane.length_ft)
        field = ((along @ self.table) * across).sum(axis=2).T
        field[:, 0] += self._fall_off(radius_square(plane, x_ft.ravel(), y_ft.ravel()))
        return np.asarray(field.reshape(*x_ft.shape, 3))

    def over(self, plane: Plane, grid: Grid, *, radial: bool = True) -> Array:
        """Return the field on a grid, shape (rows, cols, 3); its level is arbitrary.

        The same as `at` the cells' centers, by products of one vector along each side.

        Args:
            plane: the slab's plane.
            grid: the cells.
            radial: False leaves the lens's fall-off toward the corners out.
        """
        x, y = grid.centers_ft()
        along, across = functions_of(x, plane.width_ft), functions_of(y, plane.length_ft)
        field = np.stack(list(across @ self.table.transpose(0, 2, 1) @ along.T), axis=2)
        if self.shape.radial and radial:
            field[:, :, 0] += self._fall_off(radius_square(plane, x[None, :], y[:, None]))
        return field

    def _fall_off(self, square: Array) -> Array:
        return np.asarray(square * (self.radial[0] + square * self.radial[1]))


def functions_of(place_ft: Array, side_ft: float) -> Array:
    """Return the functions along a side at places on it, shape (n, 9)."""
    walls = np.log(np.column_stack([place_ft, side_ft - place_ft]) + WALL_OFFSET_FT)
    return np.hstack([np.polynomial.chebyshev.chebvander(2 * place_ft / side_ft - 1, MOST_DEGREE), walls])


def radius_square(plane: Plane, x_ft: Array, y_ft: Array) -> Array:
    """Return the squared distance from the picture's middle, 1 at its corners."""
    u, v = plane.to_pixels(x_ft, y_ft)
    half_w, half_h = plane.width_px / 2, plane.height_px / 2
    return np.asarray(((u - half_w) ** 2 + (v - half_h) ** 2) / (half_w**2 + half_h**2))


def range_of(
    light: Light, plane: Plane, grid: Grid, used: Mask, *, radial: bool = True, low: float = 2, high: float = 98
) -> float:
    """Return the spread between two percentiles of the fitted log brightness, with or without the lens's fall-off."""
    field = light.over(plane, grid, radial=radial)[:, :, 0][used]
    return float(np.subtract(*np.percentile(field, [high, low]))) if field.size else 0.0


def _powers(degree: int) -> list[tuple[int, int]]:
    """Return the degrees along x and y of all products up to a total degree, without the constant."""
    return [(i, total - i) for total in range(1, degree + 1) for i in range(total + 1)]
