"""An order as text on a terminal."""

import click
from rich.table import Table

from finishadvisor.catalog.models import Catalog
from finishadvisor.cli.show import console, heading
from finishadvisor.job.document import Job
from finishadvisor.papers.wording import money_range_text, money_text, number_text, quantity_text
from finishadvisor.records.order import MaterialPacks, Order


def packs_words(packs: MaterialPacks) -> str:
    """Return the packs of one material: "2 x 5 gal + 1 x 1 gal"."""
    return " + ".join(f"{pack.count} x {number_text(pack.size, 2)} {pack.unit}" for pack in packs.packs)


def show_order(order: Order, job: Job, catalog: Catalog) -> None:
    """Print packs to buy, then the arithmetic of each line."""
    heading("Order")
    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False)
    for name, justify in (("material", "left"), ("packs", "left"), ("cost", "right"), ("left over", "right")):
        table.add_column(name, justify=justify)  # type: ignore[arg-type]
    for packs in order.packs:
        material = catalog.materials[packs.material]
        cost = money_text(packs.cost.expected, job.currency) if packs.cost else "-"
        left = quantity_text(packs.left_over, material.unit, job.units)
        table.add_row(material.name, packs_words(packs), cost, left)
    console().print(table)
    click.echo(f"\nMaterial: {money_range_text(order.total_cost, job.currency)}")
    click.echo(f"Chance that anything runs short: {order.short_risk:.1%}")
    for floor in order.floors:
        heading(f"{floor.floor}: how each need was reckoned")
        for line in floor.lines:
            where = f" ({line.layer})" if line.layer else ""
            click.echo(f"  {catalog.materials[line.material].name}{where}: {line.working}")
