"""`finishadvisor evenness`: how even the slab's own shade is, from one photo or from a job's photos."""

import datetime
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from finishadvisor.cli.marks import marks_from_options, marks_options, read_cell_in
from finishadvisor.cli.options import OutputFile, day_or_today, floor_option, json_option, on_option
from finishadvisor.errors import JobError, PhotoError, UsageError

if TYPE_CHECKING:
    from finishadvisor.records.shade import Measurement


@click.command("evenness", short_help="How even the shade of a slab is, from photos.")
@click.argument("photo_or_job", type=click.Path(path_type=Path))
@marks_options
@click.option("--cell", metavar="LENGTH", help="Side of a cell of the map and of --cells; 1in when left out.")
@json_option
@click.option("--cells", "cells_path", type=OutputFile(), help="Write the cells as CSV: x_ft,y_ft,L,a,b,de00,used.")
@click.option("--map", "map_path", type=OutputFile(), help="Write the shade map as PNG.")
@floor_option
@on_option
def command(
    photo_or_job: Path,
    json_path: Path | None,
    cells_path: Path | None,
    map_path: Path | None,
    floor_name: str | None,
    on: datetime.date | None,
    **options: Any,
) -> None:
    """Measure how even the shade of a slab is.

    PHOTO_OR_JOB is one photo, with its marks given as options, or a job folder, whose photos carry their marks in
    job.toml. Corners are pixels of the photo as a viewer shows it; 0,0 is the outer corner of its first pixel.
    """
    if photo_or_job.is_dir() or photo_or_job.name == "job.toml":
        refuse_photo_options(options, cells_path, map_path)
        measure_job(photo_or_job, floor_name, day_or_today(on), json_path)
    else:
        if floor_name:
            raise UsageError("--floor goes with a job folder, not with one photo.")
        measure_one(photo_or_job, options, json_path, cells_path, map_path)


def refuse_photo_options(options: dict[str, Any], cells_path: Path | None, map_path: Path | None) -> None:
    """Refuse options that speak of one photo where a job is measured."""
    given = [name for name in ("corners", "points", "size", "sheet", "leave_out", "wet", "cell") if options[name]]
    given += ["cells"] if cells_path else []
    given += ["map"] if map_path else []
    if given:
        raise UsageError(
            f"--{given[0].replace('_', '-')} goes with one photo; a job's photos carry their marks in job.toml."
        )


def measure_one(
    path: Path, options: dict[str, Any], json_path: Path | None, cells_path: Path | None, map_path: Path | None
) -> None:
    """Measure one photo and write what was asked for; a refused photo ends with exit code 1."""
    from finishadvisor.catalog.load import shipped_finishes
    from finishadvisor.cli.show_evenness import show_evenness
    from finishadvisor.whole_job.files import write_json
    from finishadvisor.whole_job.one_photo import SENTENCES, measure_marked

    marks = marks_from_options(options)
    cell_in = read_cell_in(options["cell"] or "1in")
    measured = measure_marked(
        path, marks, cell_in=cell_in, finishes=shipped_finishes(), with_picture=map_path is not None
    )
    if json_path:
        write_json(json_path, measured.evenness.as_json())
    if measured.evenness.refused:
        missing = "There is no such file. Check its name and folder."
        raise PhotoError(f"{path}: {SENTENCES[measured.evenness.refused[0]] if path.exists() else missing}")
    write_pictures(measured, cells_path, map_path)
    show_evenness(measured.evenness, SENTENCES, marks)


def write_pictures(measured: "Measurement", cells_path: Path | None, map_path: Path | None) -> None:
    """Write the cells and the map of one measured photo, as asked for."""
    from finishadvisor.job.writing import write_whole

    if cells_path:
        from finishadvisor.papers.tables import cells_table

        write_whole(cells_path, cells_table(measured).csv_of_numbers())
    if map_path:
        from finishadvisor.papers.shade_map import shade_map_png

        write_whole(map_path, shade_map_png(measured))


def measure_job(job: Path, floor_name: str | None, on: datetime.date, json_path: Path | None) -> None:
    """Measure and join the photos that a job lists, one floor after another."""
    from finishadvisor.cli.show import show_own_rows
    from finishadvisor.cli.show_evenness import show_causes, show_compared, show_evenness
    from finishadvisor.whole_job.files import write_json
    from finishadvisor.whole_job.photos import SENTENCES, measure_job_floors

    opened, floors = measure_job_floors(job, floor_name, on, click.echo)
    if not floors:
        raise JobError('No photos are listed for this job. Add a [[floor.photo]] with its "file" to job.toml.')
    for floor in floors:
        (of_floor,) = opened.floors_named(floor.floor)
        for evenness, photo in zip(floor.photos, of_floor.photos, strict=True):
            show_evenness(evenness, SENTENCES, photo, opened.job.units)
        if floor.together:
            show_evenness(floor.together, SENTENCES, units=opened.job.units)
        show_compared(floor.compared, opened.job.units)
        show_causes(floor.together or floor.photos[0], opened.catalog)
    show_own_rows(opened.catalog.own_rows)
    if json_path:
        plain = [floor.as_json() for floor in floors]
        write_json(json_path, plain[0] if len(plain) == 1 else {"floors": plain})
    refused = [photo.photo for floor in floors for photo in floor.photos if photo.refused]
    if refused:
        measured = any(not photo.refused for floor in floors for photo in floor.photos)
        others = "The others are measured." if measured else "None is measured."
        click.echo(f"Refused: {', '.join(refused)}. {others}", err=True)
        sys.exit(1)
