"""The commands that read a site: order, tally, flight, why, check."""

from __future__ import annotations

from typing import Any

import click

from barkwright.cli import files
from barkwright.cli.errors import DONE, MISSES
from barkwright.cli.options import gather, shared
from barkwright.cli.site import read_site, show, units_of

site_argument = click.argument("site", metavar="SITE")


@click.command(short_help="The work order: what to do, on which day, with what.")
@site_argument
@shared()
def order(site: str, **options: Any) -> int:
    """Print the work order for SITE, an inventory file ('-' reads it from standard input).

    Open questions come first, then what to do on which day, a card for every tree, what it costs, and what to watch.
    """
    from barkwright.output.order import order_text
    from barkwright.plan import plan_order

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "order")
    plan = plan_order(inventory, asked.on)
    show(found, asked)
    if asked.format == "json":
        from barkwright.output.envelope import envelope
        from barkwright.output.order_json import order_result

        product = envelope("order", asked.on, (*found, *plan.diagnostics), order_result(plan))
    else:
        product = order_text(plan, units_of(asked, inventory), shown)
    files.write(product, asked.output, shown)
    return MISSES if plan.misses else DONE
