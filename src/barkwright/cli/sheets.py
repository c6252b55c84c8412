"""The commands that print a plan's other sheets: options."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from barkwright.cli.completing import ids
from barkwright.cli.errors import MISSES, WRONG_USE, StopError
from barkwright.cli.issued import last_issued
from barkwright.cli.options import TABLE, gather, shared
from barkwright.cli.plans import site_argument, weather_option
from barkwright.cli.site import Product, as_table, deliver, read_site, sound_plan, units_of

if TYPE_CHECKING:
    from barkwright.plan import Plan
    from barkwright.study.sides import Sides


@click.command(short_help="The ways side by side, for a client who has to choose.")
@site_argument
@click.argument("where", required=False, metavar="[TREE|PIECE]", shell_complete=ids)
@weather_option
@click.option("--all", "whole", is_flag=True, help="Every reason with its source, and the open questions.")
@shared(formats=TABLE)
def options(site: str, where: str | None, weather: tuple[str, ...], whole: bool, **options: Any) -> int:
    """Print what may be done with SITE, with one TREE of it (T3) or one PIECE (T3/1), side by side.

    Each way with its hours, hands, tools, days and money, when it must begin at the latest, what it leaves, how well
    it works and on what evidence; what does not fit, and what would change that; and what leaving it means.
    """
    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "options", weather)
    plan, stopped = sound_plan(inventory, asked.on, (), last_issued(shown, asked, "options"))
    sides = _sides(plan, where)

    def page() -> Any:
        from barkwright.output.options_sheet import options_page

        return options_page(plan, sides, units_of(asked, inventory), shown, whole)

    def result() -> Any:
        from barkwright.output.options_json import options_result

        return options_result(plan, sides)

    def rows() -> str:
        from barkwright.output.client_tables import options_csv

        return as_table(options_csv(plan, sides), asked)

    code = deliver(asked, Product("options", page, result, {"csv": rows}), (*found, *plan.diagnostics, *stopped), shown)
    return MISSES if stopped else code


def _sides(plan: Plan, where: str | None) -> Sides:
    """The courses of the whole site, of a tree or of a piece."""
    from barkwright.plan import plan_sides

    trees = [tree.id for tree in plan.inventory.trees]
    if where is None:
        return plan_sides(plan, trees)
    if where in trees:
        return plan_sides(plan, [where])
    pieces = [piece.id for stem in plan.stems for piece in stem.pieces]
    if where not in pieces:
        import difflib

        close = difflib.get_close_matches(where, [*trees, *pieces], n=5, cutoff=0.3) or trees[:5]
        raise StopError(f"there is no tree or piece {where!r}", WRONG_USE, f"there are {', '.join(close)}")
    return plan_sides(plan, [where.rpartition("/")[0]], where)
