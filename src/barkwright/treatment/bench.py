"""The bench: every way of treating every piece, judged by the rulebook, with its windows in order of date.

What the site settles is settled once, what brood, bark and dates settle once per profile, and only the piece's own size
is asked anew; equal questions get the answer that was given before.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Destination, Inventory, Tree
from barkwright.record import dataclass
from barkwright.season.flight import flight_year
from barkwright.season.ground import ground_of
from barkwright.season.site import Season
from barkwright.season.spells import spells, without_ground
from barkwright.season.year import FlightYear, Spell
from barkwright.sources import Reason
from barkwright.stem.pieces import Piece
from barkwright.treatment.chippers import chipper_of
from barkwright.treatment.conditions import Value
from barkwright.treatment.facts import brood_facts, is_saw_log, piece_facts, site_facts, tree_facts
from barkwright.treatment.judging import Asked, Bits, Day, Plan, Rulings, asked_of, names_in, plan_of
from barkwright.treatment.local import rule_book
from barkwright.treatment.offers import Offer, offers_of
from barkwright.treatment.profile import DAY, Profile, breaks, day_facts, dry_facts, ground_facts, profile_of
from barkwright.treatment.rulebook import Rulebook
from barkwright.treatment.ways import End, Template, Then, Way

if TYPE_CHECKING:
    from barkwright.treatment.drying import Drying

GROUND = frozenset(("day.ground_frozen", "day.frost_deep", "day.ground_basis"))
DRYING = frozenset(("day.dry_by_flight", "day.fuel_dry", "day.dry_on", "day.dry_basis"))


@dataclass(frozen=True, slots=True)
class Begun:
    """Work on a piece that is under way: the ways that may go on from it, and the steps that are done."""

    ways: frozenset[str]
    done: frozenset[str]  # words of steps (`do`)


class Bench:
    """All ways of one site between the plan's date and its horizon, both included."""

    def __init__(
        self,
        inventory: Inventory,
        season: Season,
        on: date,
        horizon: date,
        book: Rulebook | None = None,
        begun: Mapping[str, Begun | None] | None = None,
    ) -> None:
        self.inventory = inventory
        self.season = season
        self.on = on
        self.horizon = max(on, horizon)
        self.book = book or rule_book(inventory.local)
        self.begun = begun or {}  # by piece id; None where nothing more is to be done
        self.chipper = chipper_of(inventory)
        self._offers = offers_of(inventory, self.book, site_facts(inventory), on, season.region.id)
        self._by_id = {one.id: one for one in self._offers}
        self.ground = ground_of(season)
        self._spells: tuple[Spell, ...] = spells(season, on, self.horizon)
        self._groundless = without_ground(self._spells)
        self._bits: Bits = self._number()
        self._asked: dict[str, tuple[Asked, ...]] = {one.id: asked_of(one, self._bits) for one in self._offers}
        self._rulings: Rulings = {}
        splits = {one.id for one in self.book.templates.values() if one.method == "split"}
        self._dry, self._dig = _about(self.book, DRYING) | splits, _about(self.book, GROUND)
        self._days: dict[tuple[Profile, bool, bool], tuple[Day, ...]] = {}
        self._plans: dict[tuple[str, Profile, bool, frozenset[str] | None], tuple[Plan, ...]] = {}

    @cached_property
    def drying(self) -> Drying:
        """How split wood dries here; loaded where a way asks for it."""
        from barkwright.treatment.drying import Drying

        return Drying(self.season, self.on)

    def ways(
        self,
        tree: Tree,
        piece: Piece,
        brood: PieceBrood,
        all_tools: bool = False,
        only: frozenset[str] | None = None,
    ) -> tuple[Way, ...]:
        """The ways of treating a piece, in the order of data/treatment/ways.yaml; of the templates `only`, if given.

        Ways whose tools are neither owned nor rentable are left out; `all_tools` lists them too, ruled out by that.
        """
        if piece.id in self.begun:
            begun = self.begun[piece.id]
            if begun is None:
                return ()
            only = begun.ways if only is None else only & begun.ways
        profile = profile_of(tree, piece, brood, self.on, self.horizon)
        values = piece_facts(tree, piece, self.chipper)
        bits = self._bits_of(values)
        keep = self.inventory.wishes.keep_sawlogs and is_saw_log(piece)
        found = []
        for plan in self._plans_of(piece.kind, profile, tree, brood, all_tools, only):
            if plan.need & bits != plan.need:
                continue
            offer = plan.offer
            template = offer.template
            then: Then = (
                "saw log" if keep and template.method == "debark" and template.then == "left on site" else template.then
            )
            windows = plan.windows(bits, values)
            found.append(
                Way(
                    offer.id,
                    piece.id,
                    template.method,
                    offer.title,
                    template.tools,
                    then,
                    plan.finish_by,
                    plan.too_late,
                    windows,
                )
            )
        return tuple(found)

    def result(
        self, tree: Tree, piece: Piece, brood: PieceBrood, way: str, day: date
    ) -> tuple[End, tuple[Reason, ...]]:
        """What a way comes to that was done on a day, and why it is no more; rules that forbid it are left aside."""
        profile = profile_of(tree, piece, brood, self.on, self.horizon)
        values = piece_facts(tree, piece, self.chipper)
        plans = self._plans_of(piece.kind, profile, tree, brood, True, frozenset((way,)))
        for plan in plans:
            if self._by_id[plan.offer.id].template.id == way:
                return plan.result(self._bits_of(values), values, day)
        return "done", ()

    def has_tools(self, template: str) -> bool:
        """Are the tools of a template among those of the site, its own or hired?"""
        return any(one.template.id == template and one.values["way.tools"] == "there" for one in self._offers)

    def template(self, way: str) -> Template:
        """The template of a way by the way's id. Raises KeyError for a way that this site does not know."""
        return self._by_id[way].template

    def destination(self, way: str) -> Destination | None:
        """Where a way hauls to; None if it does not, or to an unknown place. Raises KeyError like `template`."""
        return self._by_id[way].end

    def facts(self, tree: Tree, piece: Piece, brood: PieceBrood, way: str, day: date) -> dict[str, Value | None]:
        """Every fact that the rules see for a piece, a way and a day, by name. Raises KeyError like `template`."""
        profile = profile_of(tree, piece, brood, self.on, self.horizon)
        own = {**tree_facts(tree), **brood_facts(brood)}
        plan = self._plan(self._by_id[way], profile, own)
        if plan is None:
            raise KeyError(way)
        facts = next((span.facts for span, _ in plan.spans if span.first <= day <= span.last), plan.spans[-1][0].facts)
        return {**plan.facts, **piece_facts(tree, piece, self.chipper), **facts}

    def _number(self) -> Bits:
        asked = [c for one in self._offers for c in one.applies]
        asked += [c for one in self._offers for rule in one.rules for c in rule.when]
        piece = sorted({c for c in asked if c.fact.startswith("piece.")}, key=repr)
        return {condition: 1 << number for number, condition in enumerate(piece)}

    def _bits_of(self, values: dict[str, Value | None]) -> int:
        found = 0
        for condition, bit in self._bits.items():
            if condition.region.holds(values[condition.fact]):
                found |= bit
        return found

    def _plans_of(
        self,
        kind: str,
        profile: Profile,
        tree: Tree,
        brood: PieceBrood,
        all_tools: bool,
        only: frozenset[str] | None,
    ) -> tuple[Plan, ...]:
        key = (kind, profile, all_tools, only)
        found = self._plans.get(key)
        if found is None:
            own = {**tree_facts(tree), **brood_facts(brood)}
            plans = [
                self._plan(offer, profile, own)
                for offer in self._offers
                if kind in offer.template.pieces
                and (only is None or offer.template.id in only)
                and (all_tools or offer.values["way.tools"] == "there")
            ]
            found = self._plans[key] = tuple(one for one in plans if one is not None)
        return found

    def _plan(self, offer: Offer, profile: Profile, own: dict[str, Value | None]) -> Plan | None:
        dries, digs = offer.template.id in self._dry, offer.template.id in self._dig
        flight, days = self._flight(profile), self._days_of(profile, dries, digs)
        drying = self.drying if dries else None
        return plan_of(offer, profile, own, flight, drying, days, self._bits, self._asked[offer.id], self._rulings)

    def _flight(self, profile: Profile) -> FlightYear | None:
        at_stake = profile.level != "none" or profile.host
        return flight_year(self.season, profile.flight) if at_stake and profile.flight is not None else None

    def _days_of(self, profile: Profile, dries: bool, digs: bool) -> tuple[Day, ...]:
        key = profile, dries, digs
        found = self._days.get(key)
        if found is None:
            flight = self._flight(profile)
            drying = self.drying if dries else None
            held = self._spells if digs else self._groundless
            cuts = {
                one for one in breaks(profile, flight, self.inventory, held, drying) if self.on < one <= self.horizon
            }
            starts = sorted(cuts | {self.on})
            ends = [*(one - DAY for one in starts[1:]), self.horizon]
            found = self._days[key] = tuple(
                Day(first, last, self._facts_on(profile, flight, first, drying, digs))
                for first, last in zip(starts, ends, strict=True)
            )
        return found

    def _facts_on(
        self, profile: Profile, flight: FlightYear | None, day: date, drying: Drying | None, digs: bool
    ) -> dict[str, Value | None]:
        spell = next(one for one in self._spells if one.first <= day <= one.last)
        facts = day_facts(profile, flight, self.inventory, spell, day)
        if digs:
            facts |= {**ground_facts(spell), "day.ground_basis": self.ground.name}
        return facts if drying is None else facts | dry_facts(profile, flight, day, drying)


def _about(book: Rulebook, topic: frozenset[str]) -> frozenset[str]:
    """Templates that a rule asks, or tells, something of a topic; the days of the others are not cut by it."""
    found: set[str] = set()
    for rule in book.rules:
        if any(one.fact in topic for one in rule.when) or not topic.isdisjoint(names_in(rule.because)):
            found |= rule.templates
    return frozenset(found)
