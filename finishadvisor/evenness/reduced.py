"""Marks of a photo in the pixels of the smaller picture that was decoded of it."""

from dataclasses import replace

from finishadvisor.evenness.marks import PhotoMarks, Pixel, Polygon


def reduced_marks(marks: PhotoMarks, by: int) -> PhotoMarks:
    """Return marks in the pixels of a picture whose width and height are divided by `by`; places on the slab stay.

    Args:
        marks: marks in pixels of the file's own picture.
        by: 1 for the picture as it is.
    """
    if by == 1:
        return marks

    def pixel(at: Pixel) -> Pixel:
        return at[0] / by, at[1] / by

    def polygons(areas: tuple[Polygon, ...]) -> tuple[Polygon, ...]:
        return tuple(tuple(pixel(at) for at in area) for area in areas)

    if marks.corners is not None:
        first, second, third, fourth = (pixel(at) for at in marks.corners)
        marks = replace(marks, corners=(first, second, third, fourth))
    return replace(
        marks,
        points=tuple((pixel(at), place) for at, place in marks.points),
        sheets=tuple((pixel(at), reflectance) for at, reflectance in marks.sheets),
        leave_out=polygons(marks.leave_out),
        wet=polygons(marks.wet),
    )
