"""From the name of a site file to an inventory and its diagnostics; and the one place that shows diagnostics."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from typing import TYPE_CHECKING, Any

import click

from barkwright.cli import files, voice
from barkwright.cli.errors import DONE, FAILED, MISSES, FaultyFileError, StopError
from barkwright.cli.options import Shared
from barkwright.cli.weather import with_weather
from barkwright.record import dataclass

if TYPE_CHECKING:
    from datetime import date

    from barkwright.diagnostics import Diagnostic
    from barkwright.inventory.model import Inventory
    from barkwright.output.blocks import Page
    from barkwright.output.measures import Units
    from barkwright.plan import Plan
    from barkwright.schedule.earlier import Earlier
    from barkwright.study.change import Change

COLORS = {"error": "red", "warning": "yellow", "note": "cyan"}
DRAWN = "█▒─┌▲"  # letters that pictures are drawn with
ON_THE_PAGE = frozenset(("weather-doubt", "weather-gap"))  # told by the order and the flight page, day by day


def read_site(
    name: str, asked: Shared, command: str, weather: Sequence[str] | None = None, journal: bool = True
) -> tuple[Inventory, tuple[Diagnostic, ...], str]:
    """The inventory, what was worth saying about it, and the file's shown name. Ends the command if it has errors.

    weather : paths in place of the site's own, none for those of the site; None where the command needs no weather
    journal : is the site to be as it stands, with the work of its journal done?
    """
    content, shown = files.read_bytes(name)
    inventory, found, shown = _read(content, shown, asked, command, weather)
    if journal:
        from barkwright.cli.journal_file import as_it_stands

        inventory, faults, text = as_it_stands(inventory, shown, asked.on)
        if any(one.severity == "error" for one in faults):
            raise refuse((*found, *faults), asked, command, text)
        found = (*found, *faults)
    return inventory, found, shown


def _read(
    content: bytes, shown: str, asked: Shared, command: str, weather: Sequence[str] | None = None
) -> tuple[Inventory, tuple[Diagnostic, ...], str]:
    """The same for bytes already in hand."""
    from barkwright.inventory.reading import read_inventory
    from barkwright.yamldoc import decode

    voice.tell(f"read {shown}: {len(content):,} bytes")
    text, found = decode(content, shown)
    inventory = None
    if text is not None:
        inventory, found = read_inventory(text, shown, asked.on, lambda local: known_names(local, shown))
    if inventory is None:
        raise refuse(found, asked, command, text or "")
    if inventory.local:
        inventory, faults = _with_own_rules(inventory, shown)
        found = sound((*found, *faults), asked, command)
    if weather is not None and (weather or inventory.site.weather):
        inventory, faults = with_weather(inventory, text or "", shown, weather)
        found = sound((*found, *faults), asked, command)
    return inventory, found, shown


def sound(found: tuple[Diagnostic, ...], asked: Shared, command: str) -> tuple[Diagnostic, ...]:
    """What was found, if no error is in it; else the end of the command."""
    if any(one.severity == "error" for one in found):
        raise refuse(found, asked, command, "")
    return found


def known_names(local: tuple[str, ...] = (), shown: str = "") -> Mapping[str, Sequence[str]]:
    """The words that a site may use for its flight calendar, those of its own files among them."""
    from barkwright.season.regions import regions

    own: tuple[str, ...] = ()
    if local:
        from barkwright.ownfiles import own_files
        from barkwright.season.ownregions import region_book

        if any(_leads_out(path, shown) for path in local) or own_files(opened(local, shown)).diagnostics:
            return {}  # what the file names cannot be told, and that it cannot be read is said later
        own = region_book(opened(local, shown)).named
    return {"region": sorted({*(region.id for region in regions().regions), *own})}


def _folder(shown: str) -> str:
    return "" if shown == files.STDIN else os.path.dirname(shown)


def opened(local: tuple[str, ...], shown: str) -> tuple[str, ...]:
    """The paths of a site as they can be opened from here."""
    return tuple(os.path.join(_folder(shown), path) for path in local)


def _leads_out(path: str, shown: str) -> bool:
    """Is a path of the site a link that leads out of its folder?"""
    home = os.path.realpath(_folder(shown) or ".")
    try:
        return os.path.commonpath([home, os.path.realpath(os.path.join(home, path))]) != home
    except ValueError:  # on another drive
        return True


def _with_own_rules(inventory: Inventory, shown: str) -> tuple[Inventory, tuple[Diagnostic, ...]]:
    """The inventory with its rulebooks' paths as they can be opened from here, and what is wrong in them."""
    from barkwright.cli.local import own_faults
    from barkwright.diagnostics import Diagnostic, Place

    for path in inventory.local:
        if _leads_out(path, shown):
            message = f"local: '{path}' is a link that leads out of the inventory's folder"
            hint = "put the file itself beside the inventory or in a folder below it"
            return inventory, (Diagnostic("error", "bad-path", message, Place(shown, 1, 1), value=path, hint=hint),)
    inventory = inventory.model_copy(update={"local": opened(inventory.local, shown)})
    files.protect(inventory.local)
    return inventory, own_faults(inventory.local)


def refuse(found: Sequence[Diagnostic], asked: Shared, command: str, text: str) -> FaultyFileError:
    """Show what is wrong with a file; raise what is returned to end the command with exit code 3."""
    if asked.format == "json":
        from barkwright.output.envelope import envelope

        files.write(envelope(command, asked.on, found, None), asked.output)
    show(found, asked, text)
    return FaultyFileError()


def show(found: Sequence[Diagnostic], asked: Shared, text: str = "") -> None:
    """Diagnostics on standard error, the only place where colour is used."""
    from barkwright.output.faults import diagnostic_lines

    if voice.quiet():
        found = [one for one in found if one.severity == "error"]
    for severity, line in diagnostic_lines(found, text):
        click.secho(line, err=True, fg=COLORS.get(severity), color=asked.color)


def units_of(asked: Shared, inventory: Inventory) -> Units:
    """The units the reader asked for, or those the file is written in."""
    from barkwright.output.measures import Units

    return Units((asked.units or inventory.site.units) == "metric")


@dataclass(frozen=True, slots=True)
class Product:
    """What a command has made, in the forms that it can take; each is computed only where it is asked for."""

    command: str
    page: Callable[[], Page] | None
    result: Callable[[], Mapping[str, Any]]
    more: Mapping[str, Callable[[], str | bytes]] = field(default_factory=dict)  # csv, ics
    text: Callable[[], str] | None = None  # where the text is not a page


def _shown(asked: Shared, product: Product, found: Sequence[Diagnostic], quiet: bool = False) -> str | bytes:
    """What goes to standard output, in the form that was asked for; warnings about the file go to standard error."""
    found = tuple(dict.fromkeys(found))  # what the weather holds is said by the reading and by the season
    if asked.format == "json":
        from barkwright.output.envelope import envelope

        return envelope(product.command, asked.on, found, product.result())
    if not quiet:
        told = () if product.command == "why" else ON_THE_PAGE
        show([one for one in found if one.severity == "warning" and one.code not in told], asked)
    if asked.format in product.more:
        return product.more[asked.format]()
    if product.page is None:
        return product.text() if product.text else ""
    from barkwright.output.forms import page_form

    return page_form(product.page(), asked.format, asked.output != "-" or files.shows(DRAWN))


def deliver(asked: Shared, product: Product, found: Sequence[Diagnostic], keep: str | None, quiet: bool = False) -> int:
    """Write the product of a command that ends well whatever it says; `keep` is the file it was made from."""
    files.write(_shown(asked, product, found, quiet), asked.output, keep)
    return DONE


def as_table(text: str, asked: Shared) -> str:
    """A table for standard output as it is; for a file with the sign by which spreadsheets know its letters."""
    from barkwright.output.tables_file import BOM

    return text if asked.output == "-" else BOM + text


def planned(
    inventory: Inventory, on: date, changes: Sequence[Change] = (), earlier: Earlier | None = None
) -> tuple[Plan, tuple[Diagnostic, ...]]:
    """The plan of a site, and a word about it if Ctrl-C ended the search before its time."""
    from barkwright.cli.waiting import waiting
    from barkwright.diagnostics import Diagnostic
    from barkwright.plan import plan_order

    with waiting() as watch:
        plan = plan_order(inventory, on, watch, changes, earlier)
    if not watch.stop:
        return plan, ()
    message = "the planning was interrupted: this is the best plan so far"
    hint = "run the command again and let it come to its end"
    return plan, (Diagnostic("warning", "interrupted", message, hint=hint),)


def sound_plan(
    inventory: Inventory, on: date, changes: Sequence[Change] = (), earlier: Earlier | None = None
) -> tuple[Plan, tuple[Diagnostic, ...]]:
    """The plan of a site as `planned`; one that fails the program's own check ends the command."""
    plan, stopped = planned(inventory, on, changes, earlier)
    if plan.broken:
        faults = "; ".join(plan.broken[:3])
        raise StopError(f"the plan failed the program's own check and is not printed: {faults}", FAILED)
    return plan, stopped


def print_order(
    inventory: Inventory,
    found: Sequence[Diagnostic],
    made_from: str,
    asked: Shared,
    command: str,
    keep: str | None,
    changes: Sequence[Change] = (),
    table: str = "pieces",
    earlier: Earlier | None = None,
    compare: bool = False,
    after: Callable[[Plan], None] | None = None,
) -> int:
    """Plan the site and print its work order; the exit code says whether anything misses its date.

    earlier : the order that planning again holds on to; compare : is it to be said what changes of that?
    after : what is done with the plan once its order is written
    """
    from barkwright.plan import since_earlier

    plan, stopped = sound_plan(inventory, asked.on, changes, earlier)
    if compare:
        plan = since_earlier(plan)

    def page() -> Page:
        from barkwright.output.order import order_page

        return order_page(plan, units_of(asked, inventory), made_from)

    def result() -> Mapping[str, Any]:
        from barkwright.output.order_json import order_result

        return order_result(plan)

    def rows() -> str:
        from barkwright.output.tables_file import order_csv

        return as_table(order_csv(plan, table), asked)

    def calendar() -> bytes:
        from barkwright.output.calendar_file import order_ics

        return order_ics(plan, units_of(asked, inventory), made_from)

    product = Product(command, page, result, {"csv": rows, "ics": calendar})
    files.write(_shown(asked, product, (*found, *plan.diagnostics, *stopped)), asked.output, keep)
    if after is not None:
        after(plan)
    return MISSES if plan.misses or stopped else DONE
