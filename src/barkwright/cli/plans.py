"""The commands that read a site: order, tally, flight, why, check."""

from __future__ import annotations

from typing import Any

import click

from barkwright.cli import files
from barkwright.cli.errors import DONE, MISSES
from barkwright.cli.options import gather, shared
from barkwright.cli.site import product, read_site, show, units_of

site_argument = click.argument("site", metavar="SITE")


@click.command(short_help="The work order: what to do, on which day, with what.")
@site_argument
@shared()
def order(site: str, **options: Any) -> int:
    """Print the work order for SITE, an inventory file ('-' reads it from standard input).

    Open questions come first, then what to do on which day, a card for every tree, what it costs, and what to watch.
    """
    from barkwright.output.order import order_text
    from barkwright.output.order_json import order_result
    from barkwright.plan import plan_order

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "order")
    plan = plan_order(inventory, asked.on)
    text = product(
        asked,
        lambda: order_text(plan, units_of(asked, inventory), shown),
        "order",
        (*found, *plan.diagnostics),
        lambda: order_result(plan),
    )
    files.write(text, asked.output, shown)
    return MISSES if plan.misses else DONE


@click.command(short_help="The log tally: sizes, volumes, weights.")
@site_argument
@shared()
def tally(site: str, **options: Any) -> int:
    """Print every piece of every tree of SITE with its size, volume, bark and weight, and the totals."""
    from barkwright.output.tally import tally_result, tally_text
    from barkwright.plan import plan_tally

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "tally")
    plan = plan_tally(inventory, asked.on)
    text = product(
        asked,
        lambda: tally_text(plan, units_of(asked, inventory), shown),
        "tally",
        (*found, *plan.diagnostics),
        lambda: tally_result(plan),
    )
    files.write(text, asked.output, shown)
    return DONE


@click.command(short_help="What lives in each tree, and when it flies.")
@site_argument
@shared()
def flight(site: str, **options: Any) -> int:
    """Print the flight dates of SITE, what lives in each tree, what that rests on, and what to look at."""
    from barkwright.output.flight import flight_result, flight_text
    from barkwright.plan import plan_flight

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "flight")
    plan = plan_flight(inventory, asked.on)
    text = product(
        asked,
        lambda: flight_text(plan, units_of(asked, inventory), shown),
        "flight",
        (*found, *plan.tally.diagnostics),
        lambda: flight_result(plan),
    )
    files.write(text, asked.output, shown)
    return DONE


@click.command(short_help="Is the file sound, and which questions are open?")
@site_argument
@shared(units=False)
def check(site: str, **options: Any) -> int:
    """Check SITE for faults, and count the questions that are open."""
    from barkwright.output.check import check_result, check_text
    from barkwright.plan import plan_order

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "check")
    plan = plan_order(inventory, asked.on)
    if asked.format == "text":
        show(found, asked)
    text = product(
        asked, lambda: check_text(plan, found, shown), "check", found, lambda: check_result(plan, found), quiet=True
    )
    files.write(text, asked.output, shown)
    return DONE
