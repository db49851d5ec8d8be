"""`finishadvisor used`: record what was really used, so that the next estimate is better."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, job_argument, on_option, one_floor_option


@click.command("used", short_help="Write down what was really used of a material.")
@job_argument
@one_floor_option
@click.option(
    "--material", metavar="ID", required=True, help="The material, by its id or its name, as order prints it."
)
@click.option("--layer", metavar="NAME", required=True, help='The layer it went into, as order prints it: "seal".')
@click.option("--coats", type=click.IntRange(min=1), default=1, show_default=True, help="Number of coats.")
@click.option("--area", metavar="AREA", required=True, help='Area covered: 490, "490 ft2", "45.5 m2".')
@click.option("--amount", metavar="AMOUNT", required=True, help='What was used: 3.5, "3.5 gal", "13 L", "70 lb".')
@click.option("--lot", metavar="TEXT", help="Lot number from the label.")
@on_option
def command(
    job: Path,
    floor_name: str | None,
    material: str,
    layer: str,
    coats: int,
    area: str,
    amount: str,
    lot: str | None,
    on: datetime.date | None,
) -> None:
    """Write into JOB how much of a material was really used for a layer.

    Numbers without a unit are ft² and the material's own unit (gal, lb), in a metric job m², L and kg.
    """
    from finishadvisor.cli.show import show_own_rows
    from finishadvisor.papers.wording import area_text, quantity_text
    from finishadvisor.whole_job.changes import record_used
    from finishadvisor.whole_job.named import floor_named
    from finishadvisor.whole_job.typed_use import read_use

    floor = floor_named(job, floor_name)
    used, opened = read_use(
        job, material=material, layer=layer, coats=coats, area=area, amount=amount, date=day_or_today(on), lot=lot
    )
    own_rows = record_used(job, floor, used)
    row, units = opened.catalog.materials[used.material], opened.job.units
    amount_told, area_told = quantity_text(used.used, row.unit, units), area_text(used.area_ft2, units)
    click.echo(
        f"Written: {amount_told} of {row.name} ({row.id}) for {layer} on {area_told} of {floor}, "
        f"{used.date.isoformat()}."
    )
    show_own_rows(own_rows)
