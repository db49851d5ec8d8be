"""The slab's plane: where each place on the slab lies in the photo.

A plan point (x, y) [ft] and a pixel (u, v) are tied by a homography H: (u w, v w, w) = H (x, y, 1).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from finishadvisor.errors import UsageError
from finishadvisor.evenness.marks import PhotoMarks

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Plane:
    """Where the slab lies in the photo.

    Attributes:
        homography: feet to pixels, shape (3, 3).
        width_ft: first side, along x.
        length_ft: second side, along y.
        width_px: width of the photo.
        height_px: height of the photo.
    """

    homography: Array
    width_ft: float
    length_ft: float
    width_px: int
    height_px: int

    def to_pixels(self, x_ft: Array, y_ft: Array) -> tuple[Array, Array]:
        """Return the pixel coordinates of plan points; not a number behind the camera."""
        h = self.homography
        w = h[2, 0] * x_ft + h[2, 1] * y_ft + h[2, 2]
        w = np.where(w > 1e-12, w, np.nan)
        return (h[0, 0] * x_ft + h[0, 1] * y_ft + h[0, 2]) / w, (h[1, 0] * x_ft + h[1, 1] * y_ft + h[1, 2]) / w

    def to_feet(self, x_px: float, y_px: float) -> tuple[float, float]:
        """Return the plan point of a pixel."""
        x, y, w = np.linalg.solve(self.homography, np.array([x_px, y_px, 1.0]))
        return float(x / w), float(y / w)

    def scales(self, x_ft: Array, y_ft: Array) -> tuple[Array, Array]:
        """Return the least and the greatest scale [px per ft] at plan points: the singular values of the Jacobian."""
        h = self.homography
        u, v = self.to_pixels(x_ft, y_ft)
        w = h[2, 0] * x_ft + h[2, 1] * y_ft + h[2, 2]
        ux, uy = (h[0, 0] - u * h[2, 0]) / w, (h[0, 1] - u * h[2, 1]) / w
        vx, vy = (h[1, 0] - v * h[2, 0]) / w, (h[1, 1] - v * h[2, 1]) / w
        square = ux**2 + uy**2 + vx**2 + vy**2
        twice_area = 2 * np.abs(ux * vy - uy * vx)
        sum_, difference = np.sqrt(square + twice_area), np.sqrt(np.maximum(square - twice_area, 0))
        return (sum_ - difference) / 2, (sum_ + difference) / 2


def plane_of(marks: PhotoMarks, width_px: int, height_px: int) -> Plane:
    """Return the slab's plane from checked marks.

    Raises:
        UsageError: known points lie in a line or contradict one another.
    """
    if marks.points:
        return _plane_from_points(marks, width_px, height_px)
    assert marks.size_ft is not None
    width_ft, length_ft = marks.size_ft
    frame = ((0, height_px), (width_px, height_px), (width_px, 0), (0, 0))
    pixels = np.array(marks.corners if marks.corners is not None else frame, dtype=np.float64)
    feet = np.array([(0, 0), (width_ft, 0), (width_ft, length_ft), (0, length_ft)], dtype=np.float64)
    return Plane(solve_homography(feet, pixels), width_ft, length_ft, width_px, height_px)


def _plane_from_points(marks: PhotoMarks, width_px: int, height_px: int) -> Plane:
    pixels = np.array([pixel for pixel, _ in marks.points], dtype=np.float64)
    feet = np.array([place for _, place in marks.points], dtype=np.float64)
    width_ft, length_ft = marks.size_ft if marks.size_ft is not None else feet.max(axis=0)
    if width_ft <= 0 or length_ft <= 0:
        raise UsageError("The known points span no area on the slab. Give places in feet from the origin corner.")
    plane = Plane(solve_homography(feet, pixels), float(width_ft), float(length_ft), width_px, height_px)
    u, v = plane.to_pixels(feet[:, 0], feet[:, 1])
    miss_px = np.hypot(u - pixels[:, 0], v - pixels[:, 1])
    if not np.isfinite(miss_px).all() or miss_px.max() > 0.03 * max(width_px, height_px):
        worst = int(np.argmax(np.nan_to_num(miss_px, nan=np.inf)))
        x, y = feet[worst]
        raise UsageError(
            f"The known points contradict one another, most at {x:g}ft,{y:g}ft. No 3 may lie in a line; check each "
            "pixel and place."
        )
    return plane


def solve_homography(feet: Array, pixels: Array) -> Array:
    """Return the homography that takes plan points to pixels: exact for 4 points, least squares for more.

    Args:
        feet: plan points, shape (n, 2), n >= 4.
        pixels: their pixels, shape (n, 2).

    Returns:
        Matrix of shape (3, 3), its third row positive over the plan points.

    Raises:
        UsageError: three of four points lie in a line.

    Source: direct linear transform with normalized coordinates (Hartley and Zisserman, Multiple View Geometry, 4.4).
    """
    to_plan, plan = _normalized(feet)
    to_picture, picture = _normalized(pixels)
    rows = []
    for (x, y), (u, v) in zip(plan, picture, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, -u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, -v])
    _, singular, vectors = np.linalg.svd(np.array(rows))
    if singular[7] < 1e-9 * singular[0]:
        raise UsageError("Three of the points lie in a line. Give four that span the slab.")
    h = np.linalg.inv(to_picture) @ vectors[-1].reshape(3, 3) @ to_plan
    depth = np.column_stack([feet, np.ones(len(feet))]) @ h[2]
    return np.asarray(h * (np.sign(np.median(depth)) / np.abs(h).max()))


def _normalized(points: Array) -> tuple[Array, Array]:
    center, spread = points.mean(axis=0), max(float(points.std()), 1e-12)
    matrix = np.array([[1 / spread, 0, -center[0] / spread], [0, 1 / spread, -center[1] / spread], [0, 0, 1]])
    return matrix, (points - center) / spread
