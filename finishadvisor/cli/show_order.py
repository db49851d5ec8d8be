"""An order as text on a terminal."""

import click

from finishadvisor.catalog.models import Catalog
from finishadvisor.cli.columns import Column, print_columns
from finishadvisor.cli.show import heading, show_dollars
from finishadvisor.job.document import Job
from finishadvisor.papers.order_list import NOTHING_LEFT
from finishadvisor.papers.wording import money_range_text, money_text, quantity_text
from finishadvisor.records.order import MaterialPacks, Order


def packs_words(packs: MaterialPacks) -> str:
    """Return the packs of one material: "2 x 5 gal + 1 x 1 gal"."""
    return " + ".join(f"{pack.count} x {quantity_text(pack.size, pack.unit, 'us')}" for pack in packs.packs)


def show_order(order: Order, job: Job, catalog: Catalog) -> None:
    """Print packs to buy, then the arithmetic of each line."""
    heading("Order")
    if not order.packs:
        click.echo(NOTHING_LEFT)
        return
    columns = (
        Column("material", wraps=True),
        Column("packs"),
        *(Column(title, right=True) for title in ("cost", "left over")),
    )
    rows = []
    for packs in order.packs:
        material = catalog.materials[packs.material]
        cost = money_text(packs.cost.expected, job.currency) if packs.cost else "-"
        left = quantity_text(packs.left_over, material.unit, job.units)
        rows.append((material.name, packs_words(packs), cost, left))
    print_columns(columns, rows)
    click.echo(f"\nMaterial: {money_range_text(order.total_cost, job.currency)}")
    click.echo(f"Chance that anything runs short: {order.short_risk:.1%}")
    show_dollars([order.total_cost, *(packs.cost for packs in order.packs)], job.currency)
    for floor in order.floors:
        heading(f"{floor.floor}: how each need was reckoned")
        for line in floor.lines:
            where = f" ({line.layer})" if line.layer else ""
            click.echo(f"  {catalog.materials[line.material].name}{where}: {line.working}")
