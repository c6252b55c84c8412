"""`done`: what was done, seen or taken back goes into the journal beside the inventory."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

import click

from barkwright.cli import files, journal_file
from barkwright.cli.completing import ids
from barkwright.cli.errors import FILE_FAULT, WRONG_USE, StopError
from barkwright.cli.options import PLAIN, IsoDate, Shared, apart, gather, moment, shared
from barkwright.cli.plans import site_argument
from barkwright.cli.site import Product, deliver, read_site, refuse

if TYPE_CHECKING:
    from barkwright.journal.entries import Entry, Journal
    from barkwright.journal.refusing import Known, Refusal

METHODS = ("chip", "debark", "score", "burn", "bury", "split", "haul", "leave")
BARK = ("lying", "burnt", "buried", "chipped", "hauled")
LOOKS = (
    click.option("--found", metavar="LIST", help="Seen under the bark: larvae,pupae,adults or none."),
    click.option("--looked", metavar="LIST", help="Where: base,sunny,shaded,upper; wood that lies: top,side,bottom."),
    click.option("--insect", metavar="WORD", help="spruce-beetle, engraver, other or not-sure."),
    click.option("--exit-holes", metavar="WORD", help="none, some or many."),
    click.option("--crown", metavar="WORD", help="green, yellow-green, dropping or bare."),
)


def _looks(command: Any) -> Any:
    for option in reversed(LOOKS):
        command = option(command)
    return command


@click.command(short_help="Record work that is done, or a look under the bark.")
@site_argument
@click.argument("what", nargs=-1, metavar="[TREE|PIECE]...", shell_complete=ids)
@click.option("--date", "day", type=IsoDate(), metavar="YYYY-MM-DD", help="Day of the work.  [default: today]")
@click.option("--method", type=click.Choice(METHODS), metavar="WORD", help=f"How it was treated: {', '.join(METHODS)}.")
@click.option("--felled", is_flag=True, help="The tree came down.")
@click.option("--cut-up", is_flag=True, help="It was limbed and cut to lengths.")
@click.option(
    "--bark", type=click.Choice(BARK), metavar="WORD", help=f"What became of stripped bark: {', '.join(BARK)}."
)
@click.option("--left", metavar="TEXT", help="What is still to be done: 'bark not burnt yet'.")
@click.option("--by", metavar="TEXT", help="Who did it.")
@click.option("--hours", type=click.FloatRange(0, 10_000), metavar="NUMBER", help="Person-hours that it took.")
@_looks
@click.option("--called", type=IsoDate(), metavar="YYYY-MM-DD", help="Somebody was called, and comes on that day.")
@click.option("--located", is_flag=True, help="Buried services are located and marked.")
@click.option("--note", metavar="TEXT", help="Anything else worth keeping.")
@click.option(
    "--undo", type=click.IntRange(min=1), multiple=True, metavar="NUMBER", help="Take an entry back, on record. Repeat."
)
@click.option("--list", "listed", is_flag=True, help="Show the entries of the journal.")
@shared(units=False, formats=PLAIN)
def done(site: str, what: tuple[str, ...], **options: Any) -> int:
    """Record in the journal of SITE what was done. The inventory itself is never changed.

    Name pieces (T3/1, T3/stump, T3/6-9), or trees (T3, T1-T4) for all of them but the stumps. The journal stands
    beside the inventory: heron.yaml has heron.journal.yaml. From then on every command knows what is done, and plans
    the rest.

    \b
    barkwright done heron.yaml T3/1 T3/2 --method chip --by Ana
    barkwright done heron.yaml T3/1 --method debark --left "bark not burnt yet"
    barkwright done heron.yaml T2 --felled --date 2026-11-21
    barkwright done heron.yaml T1 --found larvae --looked base,sunny,shaded
    barkwright done heron.yaml --undo 4
    """
    said, common = apart(options)
    asked = gather(**common)
    _fit(what, said)
    if said["listed"]:
        return _show(site, asked)
    entries, journal = _record(site, what, said, asked)
    from barkwright.output.journal import recorded_result, recorded_text
    from barkwright.plan import plan_flight

    inventory, _, shown = read_site(site, asked, "done", ())
    plan = plan_flight(inventory, asked.on)
    product = Product(
        "done",
        None,
        lambda: recorded_result(plan, entries, journal),
        text=lambda: recorded_text(plan, entries, journal, shown, journal_file.journal_of(shown)),
    )
    return deliver(asked, product, (), shown)


def _fit(what: tuple[str, ...], said: dict[str, Any]) -> None:
    """Options that belong together are there together, and nothing that contradicts itself."""
    looks = any(said[name] is not None for name in ("found", "looked", "insect", "exit_holes", "crown"))
    did = [name for name in ("method", "felled", "cut_up", "called", "located") if said[name]]
    alone = bool(said["undo"] or said["listed"])
    if alone and (what or did or looks or (said["undo"] and said["listed"])):
        option = "--undo" if said["undo"] else "--list"
        raise StopError(f"{option} stands by itself", WRONG_USE, f"barkwright done SITE {option}")
    if alone:
        return
    if not what and (did != ["located"] or looks):
        hint = "name a tree or a piece: barkwright done SITE T3/1 --method chip; or --list, or --undo NUMBER"
        raise StopError("nothing is named that was done", WRONG_USE, hint)
    for name in ("bark", "left"):
        if said[name] is not None and said["method"] is None:
            raise StopError(f"--{name} goes with --method", WRONG_USE, "add --method debark, or another")
    if not did and not looks:
        hint = "add --method chip (or another), --felled, --cut-up, --called DATE, or --found with --looked"
        raise StopError("it is not said what was done", WRONG_USE, hint)
    if said["bark"] is not None and said["method"] != "debark":
        raise StopError("--bark is said of stripped bark", WRONG_USE, "it goes with --method debark")


def _record(site: str, what: Sequence[str], said: dict[str, Any], asked: Shared) -> tuple[tuple[Entry, ...], Journal]:
    """Check and write the entries while nobody else writes; what cannot have been ends the command."""
    from barkwright.journal.entries import Journal
    from barkwright.journal.refusing import Known, cut_changed, refusals
    from barkwright.journal.writing import begun, with_entries
    from barkwright.plan import plan_tally

    if site == files.STDIN or site == "-":
        raise StopError("an inventory from standard input has no journal", WRONG_USE, "name the file")
    inventory, _, shown = read_site(site, asked, "done", journal=False)
    for lost in journal_file.lost(shown, inventory.site.name):  # with a journal of its own it would be forgotten
        raise StopError(f"{shown}: {lost.message}", WRONG_USE, lost.hint)
    kinds = {piece.id: piece.kind for stem in plan_tally(inventory, asked.on).stems for piece in stem.pieces}
    with journal_file.alone(shown):
        journal, found, text = journal_file.read(shown)
        if journal is None:
            raise refuse(found, asked, "done", text)
        known = Known(inventory, kinds, journal, asked.on)
        entries = _entries(what, said, asked, known)
        refused: list[Refusal] = []
        for number, entry in enumerate(entries):
            then = Journal((*journal.entries, *entries[:number]))
            refused += [*refusals(entry, replace(known, journal=then)), *_unfit(entry, kinds)]
        before = cut_changed(known)
        if refused or before is not None:
            raise _refused(refused, before)
        longer = with_entries(text or begun(inventory.site.name), entries)
        _proven(longer, shown)
        journal_file.write(shown, longer)
    return entries, Journal((*journal.entries, *entries))


def _proven(text: str, site: str) -> None:
    """Nothing is written that could not be read again."""
    from barkwright.journal.reading import read_journal

    journal, found = read_journal(text, journal_file.journal_of(site))
    if journal is None:
        raise StopError(f"not recorded: {found[0].message}", FILE_FAULT, found[0].hint)


def _unfit(entry: Entry, kinds: Mapping[str, str]) -> list[Refusal]:
    """Methods that a piece cannot have been treated by, and words of what is left that name no step."""
    from barkwright.journal.refusing import Refusal
    from barkwright.treatment.finished import left_step, methods_of

    found: list[Refusal] = []
    for piece in entry.pieces if entry.did == "treated" else ():
        kind = kinds.get(piece)
        if kind is None:
            continue
        if entry.method not in methods_of(kind):
            hint = f"for {'limbs' if kind == 'limbs' else f'a {kind}'}: {', '.join(methods_of(kind))}"
            found.append(Refusal(f"{piece} cannot have been treated by {entry.method}", hint))
        elif entry.left is not None and left_step(entry.left, str(entry.method), kind) is None:
            hint = "say it with bark, split, stack, burn, haul or bury: --left 'bark not burnt yet'"
            found.append(Refusal(f"--left {entry.left!r} names no step of the work on {piece}", hint))
    return found


def _refused(refused: Sequence[Refusal], before: Entry | None) -> StopError:
    """One message for everything that is refused; nothing was written."""
    if before is not None:
        back = "set cutting in the inventory back to what it was: the pieces are named after it"
        return StopError(f"the cutting was changed after entry {before.id} was written", WRONG_USE, back)
    messages = list(dict.fromkeys(one.message for one in refused))
    more = f"; and {len(messages) - 3} more" if len(messages) > 3 else ""
    hint = next((one.hint for one in refused if one.hint), None)
    return StopError(f"not recorded: {'; '.join(messages[:3])}{more}", WRONG_USE, hint)


def _entries(what: Sequence[str], said: dict[str, Any], asked: Shared, known: Known) -> tuple[Entry, ...]:
    from barkwright.intake.sheet import words
    from barkwright.journal.applied import cut_of, tree_of
    from barkwright.journal.naming import meant
    from barkwright.journal.refusing import pieces_named

    standing = dict.fromkeys(tree.id for tree in known.inventory.trees)
    what = meant(what, standing, known.kinds)
    day: date = said["day"] or asked.on
    common: dict[str, Any] = {"recorded": moment(), "date": day, "by": _plain(said["by"]), "note": _plain(said["note"])}
    trees = list(dict.fromkeys(name if name in standing else tree_of(name) for name in what))
    made: list[dict[str, Any]] = []
    made += [{**common, "did": "undone", "undoes": number, "date": asked.on} for number in said["undo"]]
    if any(said[name] is not None for name in ("found", "looked", "insect", "exit_holes", "crown")):
        made.append({
            **common, "did": "looked", "pieces": trees, "stages": words(said["found"]),
            "looked": words(said["looked"]) or [], "insect": said["insect"], "exit_holes": said["exit_holes"],
            "crown": said["crown"],
        })  # fmt: skip
    if said["felled"]:
        made.append({**common, "did": "felled", "pieces": list(what)})
    if said["cut_up"]:
        made.append({**common, "did": "cut up", "pieces": list(what)})
    if said["called"] is not None:
        made.append({**common, "did": "called", "pieces": list(what), "appointment": said["called"]})
    if said["located"]:
        made.append({**common, "did": "located"})
    if said["method"] is not None:
        pieces = pieces_named(what, known.kinds)
        made.append({
            **common, "did": "treated", "pieces": pieces, "method": said["method"], "bark": said["bark"],
            "left": _plain(said["left"]), "cut": cut_of(known.inventory),
        })  # fmt: skip
    if said["hours"] is not None:
        made[-1]["hours"] = said["hours"]
    return tuple(_entry(record, known.journal.next_id + place) for place, record in enumerate(made))


def _entry(record: dict[str, Any], number: int) -> Entry:
    import json

    from pydantic import ValidationError

    from barkwright.journal.entries import Entry

    try:
        return Entry.model_validate_json(json.dumps({"id": number, **record}, default=_as_json))
    except ValidationError as errors:
        one = errors.errors(include_url=False)[0]
        name = str(next((part for part in one["loc"] if isinstance(part, str)), "value"))
        option = {"stages": "found", "date": "date"}.get(name, name).replace("_", "-")
        expected = str(one.get("ctx", {}).get("expected", "")).replace("'", "").replace(" or ", ", ")
        hint = f"one of {expected}" if expected else None
        raise StopError(f"--{option} {one['input']!r} is not understood", WRONG_USE, hint) from None


def _as_json(value: Any) -> Any:
    return value.model_dump() if hasattr(value, "model_dump") else str(value)


def _plain(text: str | None) -> str | None:
    """Words of the user without anything that is no letter of a text."""
    from barkwright.output.names import printable

    return None if text is None else printable(" ".join(text.split()))[:500] or None


def _show(site: str, asked: Shared) -> int:
    from barkwright.output.journal import journal_result, journal_text

    inventory, _, shown = read_site(site, asked, "done", journal=False)
    journal, found, text = journal_file.read(shown)
    if journal is None:
        raise refuse(found, asked, "done", text)
    name = journal_file.journal_of(shown)
    product = Product("done", None, lambda: journal_result(journal), text=lambda: journal_text(journal, name))
    return deliver(asked, product, journal_file.lost(shown, inventory.site.name), shown)
