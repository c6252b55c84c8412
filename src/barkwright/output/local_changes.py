"""What differs between two plans of one site, in plain words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.output.blocks import Facts, Para, plain
from barkwright.output.measures import Units
from barkwright.output.names import piece_names
from barkwright.output.words import amount, day, hours, money

if TYPE_CHECKING:
    from barkwright.output.blocks import Block
    from barkwright.sources import Reason
    from barkwright.study.differences import Differences, Taken, Totals
    from barkwright.treatment.ways import End

STOPS: dict[End, str] = {"done": "stops all", "partial": "stops part", "not done": "stops none"}
SAME = "Nothing: without them the plan is the same."
BETTER = "with them it is the better one of the ways that fit"


def change_blocks(found: Differences, units: Units, currency: str) -> Iterator[Block]:
    """Figures of the plan without and with; then what is done otherwise, and what may be done otherwise."""
    if found.none:
        yield Para(SAME)
        return
    yield Facts(tuple(_figures(found, units, currency)))
    ways = [*_ways(found, units), *_days(found)]
    yield plain(ways) if ways else Para("No piece is treated in another way or on another day.")
    verdicts = list(_verdicts(found, units))
    if verdicts:
        yield Para("Ways that the rules judge otherwise:")
        yield plain(verdicts)


def _figures(found: Differences, units: Units, currency: str) -> Iterator[tuple[str, str]]:
    before, after = found.before, found.after
    for flight in found.flights:
        text = f"first beetles {_turn(day(flight.before[0]), day(flight.after[0]))}; "
        yield f"Flight {flight.year}", text + f"finish by {_turn(day(flight.before[1]), day(flight.after[1]))}."
    for size in found.sizes:
        said = []
        if size.height_ft[0] != size.height_ft[1]:
            said.append(f"height {_turn(*('-' if one is None else units.feet(one) for one in size.height_ft))}")
        if size.green_lb[0] != size.green_lb[1]:
            said.append(f"weight {_turn(*map(units.pounds, size.green_lb))}")
        yield size.tree, f"{'; '.join(said)}."
    yield "Work", f"{_turn(*(hours(one.hours.likely) for one in (before, after)))}, {_days_of(before, after)}."
    yield "To pay", f"{_turn(*(money(one.to_pay, currency) for one in (before, after)))}."
    yield "Last work", f"{_turn(*('none' if one.last is None else day(one.last) for one in (before, after)))}."
    area = units.square_feet
    left = _turn(*(area(one.left_ft2) if one.left_ft2 > 0 else "none" for one in (before, after)))
    yield "Infested bark", f"left when the beetles fly: {left}."
    if before.host_left_ft2 or after.host_left_ft2:
        yield "Green bark", f"left to attack: {_turn(area(before.host_left_ft2), area(after.host_left_ft2))}."
    if before.missed or after.missed:
        yield "Missed", f"pieces that miss their date: {_turn(str(before.missed), str(after.missed))}."


def _days_of(before: Totals, after: Totals) -> str:
    return _turn(*(f"on {amount(one.days, 'day')}" for one in (before, after)))


def _turn(before: str, after: str) -> str:
    return f"{after}, as without them" if before == after else f"{after} instead of {before}"


def _ways(found: Differences, units: Units) -> Iterator[str]:
    """What takes another way, and why, like pieces together."""
    groups: dict[tuple[str, str, str], list[str]] = {}
    for one in found.pieces:
        if one.other_way:
            why = _because(one.why, one.held, units) or BETTER
            groups.setdefault((_title(one.before), _title(one.after), why), []).append(one.piece)
    for (before, after, why), pieces in groups.items():
        yield units.sentence(f"{piece_names(pieces)}: {after}, instead of: {before}. Why: {why.rstrip('.')}.")


def _days(found: Differences) -> Iterator[str]:
    """What is done on another day in the same way, like pieces together."""
    groups: dict[tuple[str, str], list[str]] = {}
    for one in found.pieces:
        if not one.other_way:
            days = tuple("not at all" if t.done_on is None else f"on {day(t.done_on)}" for t in (one.before, one.after))
            groups.setdefault((days[0], days[1]), []).append(one.piece)
    for (before, after), pieces in groups.items():
        yield f"{piece_names(pieces)}: done {after} instead of {before}, in the same way."


def _verdicts(found: Differences, units: Units) -> Iterator[str]:
    groups: dict[tuple[str, str, str, str], list[str]] = {}
    for one in found.verdicts:
        said: list[str] = [one.before[0], one.after[0]]
        if one.before[0] == one.after[0]:
            said = [f"{verdict}, {STOPS[end]}" for verdict, end in (one.before, one.after)]
        groups.setdefault((one.title, said[0], said[1], _because(one.why, one.held, units)), []).append(one.piece)
    for (title, before, after, why), pieces in groups.items():
        because = f" {why.rstrip('.')}." if why else ""
        yield units.sentence(f"{piece_names(pieces)}, {title}: {after} instead of {before}.{because}")


def _because(reasons: tuple[Reason, ...], held: str, units: Units) -> str:
    """The first reason that counts, marked where it is local, and where it holds in the plan without them."""
    if not reasons:
        return ""
    first = reasons[0]
    lead = "Without them: " if held == "before" else ""
    return lead + units.sentence(first.because).rstrip(".") + (" (local rule)" if first.local else "")


def _title(taken: Taken) -> str:
    return taken.title or "nothing"
