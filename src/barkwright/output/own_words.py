"""What of a sheet is local: rests on an entry of the user's own files, each said once with what it rests on itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from barkwright.output.names import tree_names
from barkwright.output.words import listing
from barkwright.ownentry import YOURS
from barkwright.treatment.basis import own_figures

if TYPE_CHECKING:
    from barkwright.output.view import View
    from barkwright.season.year import FlightYear
    from barkwright.sources import Reason
    from barkwright.stem.pieces import TreeStem
    from barkwright.study.sides import Sides

CALENDAR = ", by a local flight calendar"


def sheet_lines(
    view: View, chosen: Iterable[tuple[str, str]], reasons: Iterable[Reason], trees: Iterable[str], felling: bool = True
) -> Iterator[str]:
    """Everything local behind a sheet. chosen : way id and bark condition of each way that its hours are of."""
    wanted = set(trees)
    yield from flight_lines(view.plan.flights)
    yield from stem_lines(stem for stem in view.plan.stems if stem.tree in wanted)
    figures = own_figures(view.plan.bench, chosen, felling)
    if figures:
        yield f"Local figures behind the hours: {'; '.join(figures)}."
    yield from rule_lines(reasons)


def local_lines(view: View, sides: Sides) -> Iterator[str]:
    """Everything local behind an options sheet: of all its courses, planned or not."""
    taken = [one for side in sides.sides for one in (*side.taken, *side.beside)]
    chosen = {(one.way.id, one.window.bark) for one in taken}
    barred = [one.reason for side in sides.sides for one in side.barred]
    reasons = [*(reason for one in taken for reason in one.window.reasons), *barred]
    trees = [tree.tree.id for tree in sides.trees]
    rates = {name: None for side in sides.sides if side.bill is not None for name in side.bill.local}
    yield from sheet_lines(view, sorted(chosen), reasons, trees, sides.felled)
    if rates:
        yield f"At a local hourly rate: {listing(list(rates))}."


def plan_lines(view: View) -> Iterator[str]:
    """Everything local behind the whole plan."""
    chosen, reasons = chosen_ways(view)
    yield from sheet_lines(view, chosen, reasons, view.trees, bool(view.felled))
    yield from price_lines(view)


def chosen_ways(view: View) -> tuple[list[tuple[str, str]], list[Reason]]:
    """The ways that the plan takes, with the bark as it is then; and the reasons for them."""
    taken = [(way, window) for piece in view.choices if (way := view.way(piece)) and (window := view.window(piece))]
    return [(way.id, window.bark) for way, window in taken], [one for _, window in taken for one in window.reasons]


def flight_lines(flights: Iterable[FlightYear]) -> Iterator[str]:
    """The dates that come from a local calendar."""
    for basis in dict.fromkeys(flight.basis for flight in flights if flight.local):
        yield f"The flight dates are local. {basis}"


def stem_lines(stems: Iterable[TreeStem]) -> Iterator[str]:
    """The trees whose sizes and weights come from local figures."""
    groups: dict[str, list[str]] = {}
    for stem in stems:
        for line in stem.basis[-1:] if stem.local else ():
            groups.setdefault(line, []).append(stem.tree)
    for line, trees in groups.items():
        yield f"Sizes and weights of {tree_names(trees)} rest on {line}."


def price_lines(view: View) -> Iterator[str]:
    """Machines at a local hourly rate."""
    names = [line.what.partition(", at")[0] for line in view.plan.schedule.costs if line.basis == "local rate"]
    if names:
        yield f"At a local hourly rate: {listing(list(dict.fromkeys(names)))}."


def _basis(reason: Reason) -> str:
    return YOURS if reason.basis == "ours" else reason.basis


def rule_lines(reasons: Iterable[Reason]) -> Iterator[str]:
    """What local rules say."""
    said: dict[str, str] = {}
    for reason in reasons:
        if reason.local:
            said.setdefault(reason.rule, reason.own_source or "; ".join(map(str, reason.citations)) or _basis(reason))
    for rule, source in said.items():
        yield f"Local rule {rule}: it rests on {source}."
