"""The commands that read a site: order, tally, flight, why, check."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from barkwright.cli import voice
from barkwright.cli.completing import ids, site_files
from barkwright.cli.errors import MISSES, WRONG_USE, StopError
from barkwright.cli.local import local_knowledge
from barkwright.cli.options import ORDER, PLAIN, TABLE, IsoDate, Shared, gather, shared, table_of, table_option
from barkwright.cli.site import Product, as_table, deliver, planned, print_order, read_site, show, units_of

if TYPE_CHECKING:
    from barkwright.cli.options import Shared
    from barkwright.inventory.model import Inventory
    from barkwright.plan import FlightPlan, Plan
    from barkwright.schedule.earlier import Earlier
    from barkwright.study.change import Change

site_argument = click.argument("site", metavar="SITE", shell_complete=site_files)
weather_option = click.option(
    "--weather", multiple=True, metavar="PATH", help="A weather file or folder, in place of those of SITE. Repeat."
)


try_option = click.option(
    "--try",
    "tries",
    multiple=True,
    metavar="CHANGE",
    help="Also plan with one thing changed, side by side: 'rent chipper 12 in'. Repeat.",
)


@click.command(short_help="The work order: what to do, on which day, with what.")
@site_argument
@weather_option
@try_option
@click.option("--since-last", is_flag=True, help="Say what changed since the order that was given out last, and why.")
@click.option("--since", type=IsoDate(), metavar="YYYY-MM-DD", help="The same since the order as of that day.")
@click.option("--issue", "given", is_flag=True, help="Keep this order as the one that is given out.")
@table_option
@shared(formats=ORDER)
def order(
    site: str,
    weather: tuple[str, ...],
    tries: tuple[str, ...],
    since_last: bool,
    since: date | None,
    given: bool,
    table: str | None,
    **options: Any,
) -> int:
    """Print the work order for SITE, an inventory file ('-' reads it from standard input).

    Open questions come first, then what to do on which day, a card for every tree, what it costs, and what to watch.

    --format ics writes a calendar. Importing that of a later plan moves its entries; what a later plan no longer has
    stays in the calendar until it is taken out by hand. --format csv writes one table, for a spreadsheet best to a
    file with -o.

    --issue keeps the order beside SITE (heron.yaml: heron.issued.json) and notes it in the journal. From then on plans
    change as little of it as they can, and --since-last says what changed and why.

    \b
    A CHANGE is one thing, in plain words:
      rent chipper 12 in at 310 a day, 90 delivery    (size and prices may be left out)
      drop chipper; without chipper
      one more person; 2 more people with NAME        (NAME is a crew of the site)
      one more day; 2 more days with NAME; one more weekend
      allow burn; forbid burn                         (any method; burning takes a permit as held)
      start 2027-01-15; start now
      budget 2000; no budget
    """
    asked = gather(**options)
    rows = table_of(table, asked)
    inventory, found, shown = read_site(site, asked, "order", weather)
    earlier = _earlier(shown, since_last, since, asked, weather)
    return print_order(
        inventory,
        found,
        shown,
        asked,
        "order",
        shown,
        changes_of(tries, inventory, asked.on),
        rows,
        earlier,
        since_last or since is not None,
        (lambda plan: _issue(shown, plan)) if given else None,
    )


def _earlier(
    site: str, since_last: bool, since: date | None, asked: Shared, weather: tuple[str, ...]
) -> Earlier | None:
    """The order that this one is made after, and compared with if that was asked for."""
    from barkwright.cli.issued import last_issued, order_of

    if since is not None and since_last:
        raise StopError("--since and --since-last are two questions", WRONG_USE, "take one of them")
    if since is not None:
        return order_of(site, since, asked, weather)
    last = last_issued(site, asked, "order")
    if last is None and since_last:
        hint = "give one out with --issue, or compare with the order of a day: --since 2026-11-01"
        raise StopError(f"no order of {site!r} was given out by {asked.on}", WRONG_USE, hint)
    return last


def _issue(site: str, plan: Plan) -> None:
    from barkwright.cli.issued import issue

    voice.say(f"kept as the order that is given out: {issue(site, plan)}")


def changes_of(tries: tuple[str, ...], inventory: Inventory, on: date) -> tuple[Change, ...]:
    """The changes that the phrases ask for; a phrase that is not understood ends the command."""
    if not tries:
        return ()
    from barkwright.study.change import UnfitChangeError
    from barkwright.study.phrases import read_phrase

    try:
        return tuple(read_phrase(text, inventory, on) for text in tries)
    except UnfitChangeError as fault:
        raise StopError(f"--try: {fault}", WRONG_USE, fault.hint) from None


@click.command(short_help="The log tally: sizes, volumes, weights.")
@site_argument
@shared(formats=TABLE)
def tally(site: str, **options: Any) -> int:
    """Print every piece of every tree of SITE with its size, volume, bark and weight, and the totals."""
    from barkwright.output.tables_file import tally_csv
    from barkwright.output.tally import tally_page, tally_result
    from barkwright.plan import plan_tally

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "tally")
    plan = plan_tally(inventory, asked.on)
    return deliver(
        asked,
        Product(
            "tally",
            lambda: tally_page(plan, units_of(asked, inventory), shown),
            lambda: tally_result(plan),
            {"csv": lambda: as_table(tally_csv(plan), asked)},
        ),
        (*found, *plan.diagnostics),
        shown,
    )


@click.command(short_help="What lives in each tree, and when it flies.")
@site_argument
@weather_option
@click.option("--after", is_flag=True, help="The follow-up after a flight: which living spruce to look at, when, how.")
@shared()
def flight(site: str, weather: tuple[str, ...], after: bool, **options: Any) -> int:
    """Print the flight dates of SITE, what lives in each tree, what that rests on, and what to look at.

    With --after print the follow-up in their place: a sheet for the walk among the living spruce, to be used when the
    flight is over; made earlier it is a preview and says from which day it will be of use.
    """
    from barkwright.plan import plan_flight

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "flight", weather)
    plan = plan_flight(inventory, asked.on)
    product = _followed(plan, asked, shown) if after else _flown(plan, asked, shown)
    return deliver(asked, product, (*found, *plan.diagnostics), shown)


def _flown(plan: FlightPlan, asked: Shared, shown: str) -> Product:
    from barkwright.output.flight import flight_page, flight_result

    units = units_of(asked, plan.tally.inventory)
    return Product("flight", lambda: flight_page(plan, units, shown), lambda: flight_result(plan))


def _followed(plan: FlightPlan, asked: Shared, shown: str) -> Product:
    from barkwright.output.follow import follow_page
    from barkwright.output.follow_json import follow_result

    units = units_of(asked, plan.tally.inventory)
    return Product("flight-after", lambda: follow_page(plan, units, shown), lambda: follow_result(plan))


@click.command(short_help="Every fact, rule and number behind one piece.")
@site_argument
@click.argument("piece", metavar="PIECE", shell_complete=ids)
@weather_option
@shared()
def why(site: str, piece: str, weather: tuple[str, ...], **options: Any) -> int:
    """Print what is known of one piece of SITE, what may be done with it and when, and what that rests on.

    PIECE is a tree and a part of it: T3/1 is the butt log of T3, T3/stump its stump; also T3/top and T3/limbs.
    """
    from barkwright.output.why import piece_ids, why_page, why_result
    from barkwright.plan import plan_ways

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "why", weather)
    plan = plan_ways(inventory, asked.on)
    known = piece_ids(plan)
    if piece not in known:
        raise StopError(f"there is no piece {piece!r}", WRONG_USE, _nearest(piece, known))
    return deliver(
        asked,
        Product(
            "why",
            lambda: why_page(plan, piece, units_of(asked, inventory), shown),
            lambda: why_result(plan, piece),
        ),
        found,
        shown,
    )


def _nearest(piece: str, known: tuple[str, ...]) -> str:
    import difflib

    of_tree = [one for one in known if one.rpartition("/")[0] == piece]
    close = of_tree or difflib.get_close_matches(piece, known, n=5, cutoff=0.3) or known[:5]
    return f"pieces are named {', '.join(close)}"


@click.command(short_help="Is the file sound, and which questions are open?")
@site_argument
@weather_option
@click.option("--rules", is_flag=True, help="What the site's own files (local:) say, and what they change in its plan.")
@shared(units=False, formats=PLAIN)
def check(site: str, weather: tuple[str, ...], rules: bool, **options: Any) -> int:
    """Check SITE for faults, and count the questions that are open.

    With --rules the site is planned twice, without and with its own rules, rates, flight calendars and figures: you
    see which shipped ones they take the place of, which are never used here, and what becomes of the plan.
    """
    from barkwright.cli.issued import last_issued
    from barkwright.output.check import check_result, check_text

    asked = gather(**options)
    inventory, found, shown = read_site(site, asked, "check", weather)
    plan, stopped = planned(inventory, asked.on, (), last_issued(shown, asked, "check"))
    found = (*found, *stopped)
    if asked.format == "text":
        show(found, asked)
    knowledge = local_knowledge(plan, shown) if rules else None
    product = Product(
        "check",
        None,
        lambda: check_result(plan, found, knowledge.record() if knowledge else None),
        text=lambda: check_text(plan, found, shown) + (f"\n{knowledge.text()}" if knowledge else ""),
    )
    code = deliver(
        asked,
        product,
        found,
        shown,
        quiet=True,
    )
    return MISSES if stopped or (knowledge and knowledge.stopped) else code
