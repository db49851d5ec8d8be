"""`finishadvisor serve`: the local page over the same job folders."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import on_option


@click.command("serve", short_help="The whole job as a page, for this laptop or a phone on site.")
@click.option(
    "--jobs",
    "jobs",
    type=click.Path(path_type=Path),
    default=Path(),
    help="Folder that holds the job folders, or one job folder; the current folder when left out.",
)
@click.option("--port", type=click.IntRange(1, 65535), help="Port; the first free one from 8712 when left out.")
@click.option("--lan", is_flag=True, help="Let a phone on the same network in, once it is paired.")
@on_option
def command(jobs: Path, port: int | None, lan: bool, on: datetime.date | None) -> None:
    """Open the local page: the whole job in a browser, on this machine or from a phone beside the slab."""
    from finishadvisor.web.serve import serve

    serve(jobs, port, lan=lan, on=on, say=click.echo)
