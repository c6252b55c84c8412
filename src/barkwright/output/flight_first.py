"""What the reader came for: by when each tree must be done, why, and how sure that is."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

from barkwright.brood.hosts import draws_beetles
from barkwright.output.blocks import Items, Para
from barkwright.output.flight_dates import other_in_short
from barkwright.output.measures import Units
from barkwright.output.names import part_names, tree_names
from barkwright.output.words import day
from barkwright.record import dataclass
from barkwright.season.flight import coming_flight, finish_by, flight_year
from barkwright.season.sure import Level, sure_of_dates, weakest

if TYPE_CHECKING:
    from datetime import date

    from barkwright.brood.finding import Confidence, PieceBrood, TreeBrood
    from barkwright.inventory.model import Tree
    from barkwright.plan import FlightPlan
    from barkwright.season.site import Season
    from barkwright.season.year import FlightYear

BROOD_SURE: dict[Confidence, Level] = {"high": "well founded", "medium": "fairly sure", "low": "not sure"}
RANK: dict[Confidence, int] = {"high": 2, "medium": 1, "low": 0}
STAGES = {"adults": "grown beetles", "larvae": "larvae", "unknown": "beetles", None: "beetles"}
HOST = "beetles take green wood on the ground first"
HOST_TO_FELL = "felled green wood draws beetles"
SINGLE_WAYS = (
    "Some ways of doing the work must be done sooner, and so must a tree that is felled before an earlier flight than "
    "its own: 'barkwright order' says which."
)


@dataclass(frozen=True, slots=True)
class Due:
    """What is the same for trees that share a sentence."""

    flight: int | None  # None where nothing is due
    lives: str  # what lives there, with its verb: "grown beetles are likely in"
    sure: Level
    lies_through: int | None = None  # an earlier flight, for which wood that lies draws beetles from elsewhere


def due_blocks(plan: FlightPlan, units: Units) -> tuple[Items | Para, ...]:
    """A sentence for each group of trees, the earliest date first; what it rests on stands under it."""
    groups: dict[Due, dict[str, list[str]]] = {}  # by what is due, the trees by why
    for tree, brood in zip(plan.tally.inventory.trees, plan.broods, strict=True):
        for due, why, name in _dues(tree, brood, _drawn(tree, plan.season, plan.tally.on)):
            groups.setdefault(due, {}).setdefault(why, []).append(name)
    dates = sure_of_dates(plan.season)
    felled = {tree.id for tree in plan.tally.inventory.trees if tree.removal is not None}
    stay = {brood.tree for brood in plan.broods if brood.may_stay_standing} - felled
    flights = {flight.year: flight for flight in plan.flights}
    ordered = sorted(groups.items(), key=lambda group: group[0].lies_through or group[0].flight or 9999)
    entries = []
    for due, whys in ordered:
        names = [name for same in whys.values() for name in same]
        flight = None if due.flight is None else flights[due.flight]
        through = None if due.lies_through is None else flights[due.lies_through]
        text = _sentence(due, flight, through, names, plan.tally.on, dates.level)
        entries.append((text, tuple(units.sentence(line) for line in _under(due, whys, dates.level, stay))))
    items = Items(tuple(entries))
    first = min((due.flight for due in groups if due.flight is not None), default=None)
    if first is None:
        return (items,)
    clause = other_in_short(plan.season, flights[first])
    beside = f"; beside them, {clause}" if clause else ""
    return items, Para(units.sentence(f"The dates are {dates.level}: {dates.why}{beside}. {SINGLE_WAYS}"))


def _drawn(tree: Tree, season: Season, on: date) -> int | None:
    """The flight that this tree's wood draws if it still lies by then; None while it stands, or draws none."""
    coming = coming_flight(season, on)
    lies = tree.status != "standing" and on < flight_year(season, coming).onset
    return coming if lies and draws_beetles(tree, season, on) else None


def _dues(tree: Tree, brood: TreeBrood, drawn: int | None) -> Iterator[tuple[Due, str, str]]:
    """The flights that a tree's pieces must beat, and why; parts are named where they do not all have the same.

    drawn : int | None    a flight that the wood must not lie through, whatever lives in it
    """
    by_flight: dict[int, list[PieceBrood]] = {}
    for found in brood.pieces:
        if found.flight_to_beat is not None:
            by_flight.setdefault(found.flight_to_beat, []).append(found)
    for year, pieces in by_flight.items():
        name = brood.tree
        if len(by_flight) > 1:
            name += f" ({part_names(found.piece.rpartition('/')[2] for found in pieces)})"
        due, why = _due(year, pieces, tree.status == "standing")
        yield replace(due, lies_through=drawn if drawn is not None and drawn < year else None), why, name
    if not by_flight:
        yield *_due(None, brood.pieces, tree.status == "standing"), brood.tree


def _due(year: int | None, pieces: Sequence[PieceBrood], stands: bool) -> tuple[Due, str]:
    surest = max(pieces, key=lambda found: (found.brood == "likely", RANK[found.confidence]))
    why = surest.reasons[0].because if surest.reasons else ""
    if year is None:
        lives = "no beetles are expected in"
    elif all(found.host for found in pieces) and stands:
        lives, why = (
            HOST_TO_FELL,
            "A green tree that is taken down leaves fresh wood, and the flight takes such wood first.",
        )
    elif all(found.host for found in pieces):
        lives, why = HOST, "Green spruce on the ground holds no beetles yet, but the flight takes it first."
    else:
        lives = f"{STAGES[surest.stage]} are {surest.brood} in"
    return Due(year, lives, BROOD_SURE[surest.confidence]), why


def _sentence(
    due: Due, flight: FlightYear | None, through: FlightYear | None, names: Sequence[str], on: date, dates: Level
) -> str:
    trees, because = tree_names(names), _because(due, names)
    if flight is None:
        return f"Nothing is due for {trees}: {because}; this is {due.sure}."
    if through is not None:
        last, it = through.onset - timedelta(days=1), "it lies" if len(names) == 1 else "they lie"
        return (
            f"Be done by {day(last)} with {trees}, because {it} with the bark on and the flight of {through.year} "
            f"attacks such wood; {because}, which fly in {flight.year}; this is {weakest(due.sure, dates)}."
        )
    return f"{_by_when(flight, on, trees, because)}; this is {weakest(due.sure, dates)}."


def _under(due: Due, whys: Mapping[str, Sequence[str]], dates: Level, stay: Container[str]) -> Iterator[str]:
    for why, names in whys.items():
        if why:
            yield f"Why: {why}" if len(whys) == 1 else f"Why {tree_names(names)}: {why}"
    if due.flight is None:
        return
    if due.sure != dates:
        yield f"How sure: what lives there is {due.sure}, the dates are {dates}."
    trees = dict.fromkeys(name.partition(" (")[0] for names in whys.values() for name in names)
    staying = [tree for tree in trees if tree in stay]
    if staying:
        yield f"{tree_names(staying)} may not have to come down at all: see tree by tree."


def _because(due: Due, names: Sequence[str]) -> str:
    return due.lives if due.lives in (HOST, HOST_TO_FELL) else f"{due.lives} {_them(names)}"


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
