"""The command that prints what a client signs: quote."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import click

from barkwright.cli.errors import MISSES
from barkwright.cli.issued import last_issued
from barkwright.cli.options import TABLE, gather, shared
from barkwright.cli.plans import changes_of, site_argument, try_option, weather_option
from barkwright.cli.site import Product, as_table, deliver, read_site, sound_plan, units_of

if TYPE_CHECKING:
    from barkwright.output.blocks import Page


@click.command(short_help="The quotation for a client: scope, price, terms.")
@site_argument
@weather_option
@try_option
@click.option("--build-up", is_flag=True, help="Add the contractor's own sheet: every line behind the price.")
@shared(formats=TABLE)
def quote(site: str, weather: tuple[str, ...], tries: tuple[str, ...], build_up: bool, **options: Any) -> int:
    """Print the quotation for the work at SITE: for each tree what is done and by when, the price, the terms.

    The amounts are those of the work order, with what `quote` in SITE says of overhead, profit, tax and deposit.
    Unless every price is your own, every question is answered, and client, contractor and profit are named, the
    sheet is headed ESTIMATE, says why, and has no lines to sign.

    What a CHANGE may be is told by: barkwright order --help
    """
    from barkwright.output.view import View
    from barkwright.quote.quotation import quotation_of

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "quote", weather)
    earlier = last_issued(shown, asked, "quote")
    plan, stopped = sound_plan(inventory, asked.on, changes_of(tries, inventory, asked.on), earlier)
    made, view = quotation_of(plan), View(plan, units_of(asked, inventory), shown)

    def page() -> Page:
        from barkwright.output.quote import quote_page

        return quote_page(made, view, build_up)

    def result() -> Mapping[str, Any]:
        from barkwright.output.quote_json import quote_result

        return quote_result(made, view)

    def rows() -> str:
        from barkwright.output.client_tables import quote_csv

        return as_table(quote_csv(made, view), asked)

    code = deliver(asked, Product("quote", page, result, {"csv": rows}), (*found, *plan.diagnostics, *stopped), shown)
    return MISSES if plan.misses or stopped else code
