"""The path: one function per stop, from an inventory and a date to what that stop shows. It decides nothing.

No stop computes past what it prints: `tally` needs no flight, `flight` needs no rulebook, `why` needs no schedule.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from barkwright.brood.finding import Question, TreeBrood
from barkwright.brood.judge import judge_tree
from barkwright.costs.prices import Prices
from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Inventory, Tree
from barkwright.record import dataclass
from barkwright.schedule.best import best_plan
from barkwright.schedule.earlier import Earlier
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.schedule.watch import Watch
from barkwright.season.doubts import doubts_of
from barkwright.season.flight import coming_flight, flight_year
from barkwright.season.site import Season, season_of
from barkwright.season.year import FlightYear
from barkwright.stem.bucking import cut_tree
from barkwright.stem.pieces import TreeStem
from barkwright.study.advice import advise
from barkwright.study.change import Change
from barkwright.study.changed import Changed, changes_between
from barkwright.study.outcome import Tried, outcome_of, tried
from barkwright.study.risk import Risk, risk_of
from barkwright.study.side_by_side import side_by_side
from barkwright.study.sides import Sides
from barkwright.treatment.bench import Bench
from barkwright.treatment.felling import Felling, felling_of
from barkwright.treatment.finished import Outcome, outcomes_of, room_left, settled
from barkwright.treatment.ways import Way


@dataclass(frozen=True, slots=True)
class Tally:
    """Trees cut into pieces on paper, in the inventory's order."""

    inventory: Inventory
    on: date
    stems: tuple[TreeStem, ...]

    @property
    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """What the stem models had to assume or estimate."""
        return tuple(note for stem in self.stems for note in stem.notes)


@dataclass(frozen=True, slots=True)
class FlightPlan:
    """The tally, and what lives in each piece and when it flies."""

    tally: Tally
    season: Season
    broods: tuple[TreeBrood, ...]  # once the work that is done is counted
    outcomes: dict[str, Outcome]  # of the work that is done, by piece id
    flights: tuple[FlightYear, ...]  # the flights that some piece must beat, by year; at least the coming one

    @property
    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """The tally's notes, and what flight dates and brood rest on that nobody said."""
        notes = [*self.tally.diagnostics, *self.season.notes, *doubts_of(self.season)]
        notes.extend(note for brood in self.broods for note in brood.notes)
        return tuple(notes)

    @property
    def horizon(self) -> date:
        """The last day that any brood here leaves work to do: the half of the latest flight to beat."""
        return max(flight.half for flight in self.flights)


@dataclass(frozen=True, slots=True)
class WayPlan:
    """The flight, and the bench on which every way is judged; nothing is chosen."""

    flight: FlightPlan
    bench: Bench


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole path: what is there, what may be done, what is decided, and when."""

    flight: FlightPlan
    bench: Bench
    fellings: dict[str, Felling]  # by tree id
    ways: dict[str, tuple[Way, ...]]  # by piece id
    work: SiteWork
    schedule: Schedule
    risk: Risk | None  # how sure the schedule is; None where it stops nothing before a flight
    broken: tuple[str, ...]  # what the checker holds against the schedule; empty unless the program is at fault
    questions: tuple[Question, ...]  # danger first, then brood, ways, money
    tries: tuple[Tried, ...] = ()  # changes that were asked for
    changes: tuple[Tried, ...] = ()  # changes that the order proposes by itself
    changed: tuple[Changed, ...] = ()  # what differs from an order that was given out before
    since: date | None = None  # the date of that order

    @property
    def inventory(self) -> Inventory:
        """The inventory the plan was made from."""
        return self.flight.tally.inventory

    @property
    def on(self) -> date:
        """The date the plan was made for."""
        return self.flight.tally.on

    @property
    def season(self) -> Season:
        """The place's year."""
        return self.flight.season

    @property
    def stems(self) -> tuple[TreeStem, ...]:
        """Trees cut up, in the inventory's order."""
        return self.flight.tally.stems

    @property
    def broods(self) -> tuple[TreeBrood, ...]:
        """Brood per tree, in the inventory's order."""
        return self.flight.broods

    @property
    def outcomes(self) -> dict[str, Outcome]:
        """What recorded work has come to, by piece id."""
        return self.flight.outcomes

    @property
    def flights(self) -> tuple[FlightYear, ...]:
        """The flights to beat, by year."""
        return self.flight.flights

    @property
    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """Every note of every stage, in the order of the path."""
        return self.flight.diagnostics

    @property
    def misses(self) -> bool:
        """Does any infested bark miss its date or have no way? (exit code 4)"""
        return bool(self.schedule.unmet)


def plan_tally(inventory: Inventory, on: date) -> Tally:
    """Cut every tree into pieces."""
    return Tally(inventory, on, tuple(cut_tree(tree, inventory) for tree in inventory.trees))


def plan_flight(inventory: Inventory, on: date) -> FlightPlan:
    """Judge the brood of every piece and date the flights it must beat."""
    tally = plan_tally(inventory, on)
    season = season_of(inventory.site, on, inventory.local)
    done = outcomes_of(inventory, season, tally.stems)
    judged = (judge_tree(tree, stem, season, on) for tree, stem in zip(inventory.trees, tally.stems, strict=True))
    broods = tuple(settled(brood, done, SETTINGS["partial_share"]) for brood in judged)
    years = {piece.flight_to_beat for brood in broods for piece in brood.pieces if piece.flight_to_beat is not None}
    years.add(coming_flight(season, on))
    return FlightPlan(tally, season, broods, done, tuple(flight_year(season, year) for year in sorted(years)))


def plan_ways(inventory: Inventory, on: date) -> WayPlan:
    """Up to the rulebook: what may be done with each piece, without choosing."""
    flight = plan_flight(inventory, on)
    begun = {piece: one.begun for piece, one in flight.outcomes.items() if one.over or one.begun is not None}
    return WayPlan(flight, Bench(inventory, flight.season, on, flight.horizon + timedelta(days=1), begun=begun))


def plan_sides(plan: Plan, trees: Sequence[str], piece: str | None = None) -> Sides:
    """The courses for some trees of a plan, or for one piece of one tree, side by side."""
    return side_by_side(plan.work, plan.schedule, trees, piece)


def plan_order(
    inventory: Inventory,
    on: date,
    watch: Watch | None = None,
    changes: Sequence[Change] = (),
    earlier: Earlier | None = None,
) -> Plan:
    """Walk the whole path: ways, choices, days; then the same with each of the changes that are asked for.

    earlier : the order that was given out last; planning again changes little of it
    """
    way_plan = plan_ways(inventory, on)
    flight, bench = way_plan.flight, way_plan.bench
    inventory = room_left(inventory, flight.outcomes, flight.tally.stems)
    fellings: dict[str, Felling] = {}
    ways: dict[str, tuple[Way, ...]] = {}
    trees: list[TreeWork] = []
    for tree, stem, brood in zip(inventory.trees, flight.tally.stems, flight.broods, strict=True):
        felling = felling_of(tree, stem, brood, inventory, flight.season, on)
        fellings[tree.id] = felling
        for piece, found in zip(stem.pieces, brood.pieces, strict=True):
            ways[piece.id] = bench.ways(tree, piece, found)
        trees.append(_tree_work(tree, stem, brood, felling, ways))
    work = SiteWork(inventory, on, flight.season, bench, Prices(inventory), tuple(trees), earlier)
    schedule = best_plan(work, watch)
    risk = risk_of(schedule, work)
    now = outcome_of(work, schedule, lambda _work, _schedule: _probability(risk))
    schedule, proposed = advise(work, schedule, now, _sure, watch)
    return Plan(
        flight=flight,
        bench=bench,
        fellings=fellings,
        ways=ways,
        work=work,
        schedule=schedule,
        risk=risk,
        broken=schedule.broken,
        questions=_questions(flight.broods, fellings),
        tries=tuple(tried(work, now, change, _sure, watch) for change in changes),
        changes=proposed,
    )


def since_earlier(plan: Plan) -> Plan:
    """The plan with what it changes of the order that it was made after, and why; as it is where there is none."""
    earlier = plan.work.earlier
    if earlier is None:
        return plan
    done = {piece for piece, one in plan.outcomes.items() if one.over or one.end == "done"}
    done |= {tree.id for tree in plan.inventory.trees if tree.cut_up is not None}
    return replace(plan, changed=changes_between(earlier, plan.work, plan.schedule, done), since=earlier.on)


def _sure(work: SiteWork, schedule: Schedule) -> float | None:
    return _probability(risk_of(schedule, work))


def _probability(risk: Risk | None) -> float | None:
    return None if risk is None else risk.probability


def _tree_work(
    tree: Tree, stem: TreeStem, brood: TreeBrood, felling: Felling, ways: dict[str, tuple[Way, ...]]
) -> TreeWork:
    return TreeWork(tree, stem, brood, felling, tuple(ways[piece.id] for piece in stem.pieces))


def _questions(broods: tuple[TreeBrood, ...], fellings: dict[str, Felling]) -> tuple[Question, ...]:
    asked = [question for brood in broods for question in brood.questions]
    asked.extend(question for felling in fellings.values() for question in felling.questions)
    return tuple(sorted(asked, key=lambda question: question.rank))
