"""`finishadvisor used`: record what was really used, so that the next estimate is better."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, job_argument, on_option


@click.command("used")
@job_argument
@click.option("--floor", "floor_name", required=True, help="The floor.")
@click.option("--material", required=True, help="The material, by its id.")
@click.option("--layer", required=True, help='The layer it went into, for example "top".')
@click.option("--coats", type=click.IntRange(min=1), default=1, show_default=True, help="Number of coats.")
@click.option("--area", "area_ft2", type=click.FloatRange(min=0, min_open=True), required=True, help="Area in ft².")
@click.option("--amount", type=click.FloatRange(min=0), required=True, help="Amount in the material's unit (gal, lb).")
@click.option("--lot", help="Lot number from the label.")
@on_option
def command(
    job: Path,
    floor_name: str,
    material: str,
    layer: str,
    coats: int,
    area_ft2: float,
    amount: float,
    lot: str | None,
    on: datetime.date | None,
) -> None:
    """Write into JOB how much of a material was really used for a layer."""
    from pydantic import ValidationError

    from finishadvisor.cli.show import show_own_rows
    from finishadvisor.errors import UsageError
    from finishadvisor.job.document import Used
    from finishadvisor.whole_job.changes import record_used

    try:
        used = Used(
            material=material, layer=layer, coats=coats, area_ft2=area_ft2, used=amount, date=day_or_today(on), lot=lot
        )
    except ValidationError as error:
        mistake = error.errors()[0]
        option = {"area_ft2": "area", "used": "amount", "date": "on"}.get(str(mistake["loc"][0]), mistake["loc"][0])
        reason = mistake["msg"].removeprefix("Value error, ")
        raise UsageError(f"--{option}: {reason[:1].lower()}{reason[1:].rstrip('.')}.") from None
    own_rows = record_used(job, floor_name, used)
    click.echo(f"Written: {amount:g} of {material} for {layer} on {area_ft2:g} ft² of {floor_name}.")
    show_own_rows(own_rows)
