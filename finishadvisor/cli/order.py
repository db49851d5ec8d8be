"""`finishadvisor order`: what to buy, in packs, enough that the crew never runs out."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import (
    OutputFile,
    day_or_today,
    finish_option,
    floor_option,
    job_argument,
    json_option,
    on_option,
)


@click.command("order", short_help="What to buy, in packs, and what it costs.")
@job_argument
@floor_option
@finish_option
@on_option
@json_option
@click.option("--csv", "csv_path", type=OutputFile(), help="Write the packs as CSV.")
def command(
    job: Path,
    floor_name: str | None,
    finish_id: str | None,
    on: datetime.date | None,
    json_path: Path | None,
    csv_path: Path | None,
) -> None:
    """List every material that JOB needs: need, packs, cost, and the arithmetic of each line."""
    from finishadvisor.cli.show import bullets, show_choice, show_own_rows
    from finishadvisor.cli.show_order import show_order
    from finishadvisor.errors import JobError
    from finishadvisor.job.writing import write_whole
    from finishadvisor.papers.quantities import said
    from finishadvisor.papers.tables import order_table
    from finishadvisor.whole_job.files import write_json
    from finishadvisor.whole_job.work_through import work_through

    whole = work_through(job, day_or_today(on), floor_name=floor_name, finish_id=finish_id)
    for outcome in whole.floors:
        show_choice(outcome)
    if whole.order is None:
        raise JobError(
            "Nothing can be ordered: no floor has both an outline and a finish that suits. "
            "Give the floor an outline, or name a finish with --finish."
        )
    show_order(whole.order, whole.job, whole.catalog)
    bullets("Mind:", [said(warning, whole.job.units) for warning in whole.order_warnings])
    show_own_rows(whole.catalog.own_rows)
    if json_path:
        write_json(json_path, whole.order.as_json())
    if csv_path:
        write_whole(csv_path, order_table(whole.order, whole.catalog).csv())
