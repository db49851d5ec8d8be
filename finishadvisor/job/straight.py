"""Floors whose walls all run along x or y: measured with plain arithmetic, so that no geometry library is imported.

Most rooms are such. What is doubtful here, as walls that nearly touch, is left to the library.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Final, NamedTuple

Point = tuple[float, float]
"""x and y on the plan [ft]."""

_MOST_CORNERS: Final = 100
"""Every wall is held against every other: with more corners the library is quicker."""


class Wall(NamedTuple):
    """A stretch of wall along x or y, from its lower end to its upper one [ft]."""

    left: float
    low: float
    right: float
    high: float

    def is_near(self, other: "Wall", reach_ft: float) -> bool:
        """Return whether another wall touches it or comes within reach."""
        gap_x = max(self.left, other.left) - min(self.right, other.right)
        gap_y = max(self.low, other.low) - min(self.high, other.high)
        return max(gap_x, gap_y) < reach_ft


class Ring(NamedTuple):
    """A closed line of walls, each at a right angle to the one before."""

    walls: tuple[Wall, ...]
    area_ft2: float

    @property
    def length_ft(self) -> float:
        """The length of all walls."""
        return sum(wall.right - wall.left + wall.high - wall.low for wall in self.walls)

    def holds(self, point: Point) -> bool:
        """Return whether a point lies within: a line from it along x crosses an odd number of walls."""
        x, y = point
        return sum(wall.left == wall.right > x and wall.low <= y < wall.high for wall in self.walls) % 2 == 1

    def is_near(self, point: Point, reach_ft: float) -> bool:
        """Return whether a point lies on a wall, or within reach of one."""
        x, y = point
        return any(
            wall.left - reach_ft <= x <= wall.right + reach_ft and wall.low - reach_ft <= y <= wall.high + reach_ft
            for wall in self.walls
        )

    def is_apart(self, other: "Ring", reach_ft: float) -> bool:
        """Return whether no wall of another ring comes near a wall of this one."""
        return not any(wall.is_near(theirs, reach_ft) for wall in self.walls for theirs in other.walls)


class StraightFloor(NamedTuple):
    """A ring of outer walls and the rings cut out of it, all apart from one another."""

    outer: Ring
    holes: tuple[Ring, ...]

    @property
    def area_ft2(self) -> float:
        """The floor's area."""
        return self.outer.area_ft2 - sum(hole.area_ft2 for hole in self.holes)

    @property
    def length_ft(self) -> float:
        """The length of every edge, those of cut-outs with it."""
        return sum(ring.length_ft for ring in (self.outer, *self.holes))

    def covers(self, point: Point, slack_ft: float) -> bool:
        """Return whether a point lies in the floor, on its edge, or beside it by no more than the slack."""
        if any(ring.is_near(point, slack_ft) for ring in (self.outer, *self.holes)):
            return True
        return self.outer.holds(point) and not any(hole.holds(point) for hole in self.holes)


def straight_floor(outer: Sequence[Point], holes: Sequence[Sequence[Point]], reach_ft: float) -> StraightFloor | None:
    """Return a floor of straight walls, or None where it is of another shape, or where walls come near one another.

    Args:
        outer: the corners of the floor, once around.
        holes: the corners of each cut-out.
        reach_ft: how near walls that do not follow one another must not come.
    """
    rings = [_ring(corners, reach_ft) for corners in (outer, *holes)]
    sound = [ring for ring in rings if ring is not None]
    if len(sound) < len(rings) or not all(one.is_apart(other, reach_ft) for one, other in combinations(sound, 2)):
        return None
    whole, *cut = sound
    starts = [corners[0] for corners in holes]
    inside = all(whole.holds(start) for start in starts)
    nested = any(hole.holds(start) for hole in cut for start in starts if not hole.is_near(start, 0))
    return StraightFloor(whole, tuple(cut)) if inside and not nested else None


def _ring(corners: Sequence[Point], reach_ft: float) -> Ring | None:
    """Return the ring of walls, None where walls are slanted, do not turn at each corner, or come near one another."""
    turns = list(zip(corners, (*corners[1:], corners[0]), strict=True))
    if not 4 <= len(turns) <= _MOST_CORNERS or not _turns_at_each_corner(turns):
        return None
    walls = tuple(Wall(min(x, u), min(y, v), max(x, u), max(y, v)) for (x, y), (u, v) in turns)
    if any(walls[one].is_near(walls[other], reach_ft) for one, other in _not_neighbors(len(walls))):
        return None
    x0, y0 = corners[0]
    twice = sum((x - x0) * (v - y0) - (u - x0) * (y - y0) for (x, y), (u, v) in turns)
    return Ring(walls, abs(twice) / 2)


def _turns_at_each_corner(turns: Sequence[tuple[Point, Point]]) -> bool:
    """Return whether walls run along x and along y by turns."""
    along_x = [y == v and x != u for (x, y), (u, v) in turns]
    along_y = [x == u and y != v for (x, y), (u, v) in turns]
    return (all(along_x[::2]) and all(along_y[1::2])) or (all(along_y[::2]) and all(along_x[1::2]))


def _not_neighbors(count: int) -> Iterator[tuple[int, int]]:
    """Yield the pairs of walls that share no corner."""
    return ((one, other) for one, other in combinations(range(count), 2) if other - one not in {1, count - 1})
