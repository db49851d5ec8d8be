"""Options and arguments that several commands share."""

import datetime
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from finishadvisor.errors import EntryError, JobError
from finishadvisor.job.entries import read_clock

Command = TypeVar("Command", bound=Callable[..., Any])


class DayType(click.ParamType[datetime.date]):
    """A calendar day, YYYY-MM-DD."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> datetime.date:
        """Return the day."""
        if isinstance(value, datetime.date):
            return value
        try:
            return datetime.date.fromisoformat(value)
        except ValueError:
            self.fail(f'"{value}" is not a day. Write year, month and day, for example 2026-09-01.', param, ctx)


class ClockType(click.ParamType[datetime.time]):
    """A time of day, 14:30 or 2:30 PM."""

    name = "time"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> datetime.time:
        """Return the time."""
        try:
            return read_clock(value)
        except EntryError as error:
            self.fail(str(error), param, ctx)


class OutputFile(click.Path):
    """A file to be written, refused before any work is done where its folder is not there."""

    name = "file"

    def __init__(self) -> None:
        """Take files only, as paths."""
        super().__init__(dir_okay=False, path_type=Path)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path.

        Raises:
            JobError: there is no such folder.
        """
        path = Path(os.fsdecode(super().convert(value, param, ctx)))
        if not path.parent.is_dir():
            raise JobError(
                f"There is no folder {path.parent} to write {path.name} into. Make it first, or name another."
            )
        return path


def job_argument(command: Command) -> Command:
    """Add the JOB argument: a job folder or its job.toml."""
    return click.argument("job", type=click.Path(path_type=Path))(command)


def on_option(command: Command) -> Command:
    """Add --on DATE, the day that ages and dates are reckoned from."""
    return click.option("--on", type=DayType(), help="Reckon as of this day (YYYY-MM-DD); today when left out.")(
        command
    )


def floor_option(command: Command) -> Command:
    """Add --floor NAME."""
    return click.option("--floor", "floor_name", metavar="NAME", help="Only this floor of the job.")(command)


def one_floor_option(command: Command) -> Command:
    """Add --floor NAME where one floor is meant."""
    return click.option(
        "--floor", "floor_name", metavar="NAME", help="The floor; may be left out where the job has only one."
    )(command)


def finish_option(command: Command) -> Command:
    """Add --finish ID."""
    return click.option(
        "--finish",
        "finish_id",
        metavar="ID",
        help="This finish, by its id or name; left out: the decided one, else the top of advise.",
    )(command)


def weather_option(command: Command) -> Command:
    """Add --weather FILE."""
    return click.option(
        "--weather",
        "weather_path",
        type=click.Path(path_type=Path),
        metavar="FILE",
        help="Hourly weather: a CSV file (docs/days.md), or the hourly forecast of the US national weather service "
        "saved as GeoJSON. Left out: the file that the job names.",
    )(command)


def json_option(command: Command) -> Command:
    """Add --json FILE."""
    return click.option("--json", "json_path", type=OutputFile(), help="Write the result as JSON.")(command)


def day_or_today(on: datetime.date | None) -> datetime.date:
    """Return the day asked for, else today by the computer's clock."""
    return on or datetime.datetime.now().astimezone().date()
