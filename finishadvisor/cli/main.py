"""The `finishadvisor` command: finds the command asked for, and turns mistakes into one plain line and an exit code."""

import gc
import importlib
import os
import sys
from typing import Final, NoReturn

import click

from finishadvisor import __version__
from finishadvisor.errors import FinishAdvisorError, nearest_of

COMMANDS: Final = (
    "demo", "new", "check", "advise", "why", "evenness", "order", "plan", "today", "done", "used", "papers", "serve",
)  # fmt: skip


COLLECT_AFTER: Final = 100_000
"""So many new objects before unused ones are searched for: what a command reads it keeps, and there is no end of it."""


class CommandsOnDemand(click.Group):
    """A group whose commands are imported only when they are named, so that every start stays quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands in the order of a job."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import and return one command; another name is wrong usage."""
        if cmd_name not in COMMANDS:
            hint = nearest_of(cmd_name, COMMANDS) or f" There are: {', '.join(COMMANDS)}."
            ctx.fail(f'There is no command "{cmd_name}".{hint}')
        module = importlib.import_module(f"finishadvisor.cli.{cmd_name}")
        command: click.Command = module.command
        return command


@click.group(cls=CommandsOnDemand, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="finishadvisor")
def cli() -> None:
    """Choose, check, order, schedule and hand over the finish of integrally colored concrete floors.

    Start with `finishadvisor demo`, or describe a job of your own with `finishadvisor new DIR`.
    JOB stands for the folder of a job.
    """


def stop(line: str, exit_code: int) -> NoReturn:
    """Print one plain line on standard error and leave."""
    click.echo(" ".join(line.split()), err=True)
    sys.exit(exit_code)


def usage_line(error: click.UsageError) -> str:
    """Return what is wrong with a call, and how the command is called."""
    line = error.format_message()
    if line.startswith("Got unexpected extra argument"):
        line += ". Put words that belong together into quotes."
    if not line.endswith((".", "?", ")")):
        line += "."
    called = error.ctx.command_path if error.ctx else "finishadvisor"
    return f"{line} See: {called} --help"


def main() -> None:
    """Run the command line; a mistake ends in one line and exit code 1 or 2, never in a traceback."""
    make_output_safe()
    gc.set_threshold(COLLECT_AFTER)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # no look into every installed package at each start
    try:
        result = cli.main(prog_name="finishadvisor", standalone_mode=False)
    except FinishAdvisorError as error:
        stop(str(error), error.exit_code)
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.ctx.get_help() if error.ctx else "")
        sys.exit(0)
    except click.UsageError as error:
        stop(usage_line(error), 2)
    except click.Abort:
        stop("Stopped. What was finished before is kept.", 1)
    except click.ClickException as error:
        stop(error.format_message(), 1)
    except OSError as error:
        stop(f"The system refused: {error.strerror or error} ({error.filename or 'no file named'}).", 1)
    except Exception as error:
        if os.environ.get("FINISHADVISOR_TRACEBACK"):
            raise
        stop(
            f"A fault inside Finish Advisor ({type(error).__name__}: {error}). Nothing of yours was changed. "
            "Set FINISHADVISOR_TRACEBACK=1 and run it again to see where.",
            1,
        )
    finally:
        gc.freeze()  # all of it goes with the process; Python would search it for cycles several times before
    sys.exit(result if isinstance(result, int) else 0)


def make_output_safe() -> None:
    """Print what a terminal cannot show as "?" instead of failing: older Windows consoles lack signs like ft²."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
