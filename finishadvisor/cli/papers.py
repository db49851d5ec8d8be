"""`finishadvisor papers`: everything that is handed to the client, the supplier and the crew."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, job_argument, on_option, weather_option


@click.command("papers", short_help="Make every paper, picture, table and JSON file.")
@job_argument
@click.option(
    "--out", "out", type=click.Path(file_okay=False, path_type=Path), help="Folder; JOB/papers when left out."
)
@weather_option
@click.option("--only", metavar="NAME", multiple=True, help="Only the file of this name; may be given several times.")
@click.option("--map-for-client", is_flag=True, help="Put the shade map on the client sheets.")
@on_option
def command(
    job: Path,
    out: Path | None,
    weather_path: Path | None,
    only: tuple[str, ...],
    map_for_client: bool,
    on: datetime.date | None,
) -> None:
    """Make every paper, picture, table and JSON file of JOB."""
    from finishadvisor.cli.show import show_own_rows
    from finishadvisor.papers.make import make_papers
    from finishadvisor.whole_job.work_through import work_through

    whole = work_through(
        job,
        day_or_today(on),
        weather_path=weather_path,
        measure_photos=True,
        progress=click.echo,
    )
    written = make_papers(
        whole,
        out or whole.folder / "papers",
        click.echo,
        only,
        map_for_client=map_for_client,
    )
    for path in written:
        click.echo(str(path))
    show_own_rows(whole.catalog.own_rows)
