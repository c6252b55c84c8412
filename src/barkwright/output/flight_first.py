"""What the reader came for: by when each tree must be done, why, and how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Para
from barkwright.output.flight_dates import other_in_short
from barkwright.output.measures import Units
from barkwright.output.names import part_names, tree_names
from barkwright.output.words import day
from barkwright.record import dataclass
from barkwright.season.flight import finish_by
from barkwright.season.sure import Level, sure_of_dates, weakest

if TYPE_CHECKING:
    from datetime import date

    from barkwright.brood.finding import Confidence, PieceBrood, TreeBrood
    from barkwright.plan import FlightPlan
    from barkwright.season.year import FlightYear

BROOD_SURE: dict[Confidence, Level] = {"high": "well founded", "medium": "fairly sure", "low": "thin"}
RANK: dict[Confidence, int] = {"high": 2, "medium": 1, "low": 0}
STAGES = {"adults": "grown beetles", "larvae": "larvae", "unknown": "beetles", None: "beetles"}


HOST = "beetles take green wood on the ground first"
SINGLE_WAYS = "Some ways of doing the work must be done sooner: 'barkwright order' says which."


@dataclass(frozen=True, slots=True)
class Due:
    """What is the same for trees that share a sentence."""

    flight: int | None  # None where nothing is due
    lives: str  # what lives there, with its verb: "grown beetles are likely in"
    why: str
    confidence: Confidence


def due_blocks(plan: FlightPlan, units: Units) -> tuple[Items | Para, ...]:
    """A sentence for each group of trees, the earliest date first; what it rests on stands under it."""
    groups: dict[Due, list[str]] = {}
    for brood in plan.broods:
        for due, name in _dues(brood):
            groups.setdefault(due, []).append(name)
    dates = sure_of_dates(plan.season)
    stay = {brood.tree for brood in plan.broods if brood.may_stay_standing}
    ordered = sorted(groups.items(), key=lambda group: group[0].flight or 9999)
    flights = {flight.year: flight for flight in plan.flights}
    on = plan.tally.on
    items = Items(tuple(_entry(due, names, flights, on, dates.level, stay, units) for due, names in ordered))
    if all(due.flight is None for due in groups):
        return (items,)
    clause = other_in_short(plan.season, flights[min(due.flight for due in groups if due.flight is not None)])
    beside = f"; beside them, {clause}" if clause else ""
    said = f"The dates are {dates.level}: {dates.why}{beside}. {SINGLE_WAYS}"
    return items, Para(units.sentence(said))


def _dues(brood: TreeBrood) -> Iterator[tuple[Due, str]]:
    """The flights that a tree's pieces must beat; parts are named where they do not all have the same."""
    by_flight: dict[int, list[PieceBrood]] = {}
    for found in brood.pieces:
        if found.flight_to_beat is not None:
            by_flight.setdefault(found.flight_to_beat, []).append(found)
    for year, pieces in by_flight.items():
        name = brood.tree
        if len(by_flight) > 1:
            name += f" ({part_names(found.piece.rpartition('/')[2] for found in pieces)})"
        yield _due(year, pieces), name
    if not by_flight:
        yield _due(None, brood.pieces), brood.tree


def _due(year: int | None, pieces: Sequence[PieceBrood]) -> Due:
    surest = max(pieces, key=lambda found: (found.brood == "likely", RANK[found.confidence]))
    why = surest.reasons[0].because if surest.reasons else ""
    if year is None:
        lives = "no beetles are expected in"
    elif all(found.host for found in pieces):
        lives, why = HOST, "Green spruce on the ground holds no beetles yet, but the flight takes it first."
    else:
        lives = f"{STAGES[surest.stage]} are {surest.brood} in"
    return Due(year, lives, why, surest.confidence)


def _entry(
    due: Due,
    names: Sequence[str],
    flights: dict[int, FlightYear],
    on: date,
    dates: Level,
    stay: set[str],
    units: Units,
) -> tuple[str, tuple[str, ...]]:
    trees, brood = tree_names(names), BROOD_SURE[due.confidence]
    why = (f"Why: {units.sentence(due.why)}",) if due.why else ()
    if due.flight is None:
        return f"Nothing is due for {trees}: {due.lives} {_them(names)}; this is {brood}.", why
    level = weakest(brood, dates)
    text = f"{_by_when(flights[due.flight], on, trees, _because(due, names))}; this is {level}."
    parts = "" if brood == dates else f"How sure: what lives there is {brood}, the dates are {dates}."
    under = (*why, *([parts] if parts else []))
    staying = [name for name in names if name in stay]
    if staying:
        under += (f"{tree_names(staying)} may not have to come down at all: see tree by tree.",)
    return text, under


def _because(due: Due, names: Sequence[str]) -> str:
    return due.lives if due.lives == HOST else f"{due.lives} {_them(names)}"


def _by_when(flight: FlightYear, on: date, trees: str, because: str) -> str:
    finish, first, half = finish_by(flight), day(flight.onset), day(flight.half)
    if on <= finish:
        return f"Be done by {day(finish)} with {trees}, because {because} and the first beetles fly about {first}"
    if on < flight.onset:
        return f"Be done at once with {trees}: {day(finish)} is past, {because} and the first beetles fly about {first}"
    if on < flight.half:
        return (
            f"Do {trees} now: {because}, the first beetles flew about {first}, and until half are out, about {half}, "
            "work still stops the rest"
        )
    return (
        f"Late for {trees}: {because}, and half of the beetles were out about {half}; work stops only the rest, "
        f"until about {day(flight.end)}"
    )


def _them(names: Sequence[str]) -> str:
    return "it" if len(names) == 1 else "them"
