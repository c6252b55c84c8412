"""Which pieces of an infested tree hold brood: by thickness, by height, and by where adults winter."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Literal

from barkwright import datafile
from barkwright.brood.finding import BroodLevel, Stage
from barkwright.brood.look import down_on, look_book
from barkwright.inventory.model import Tree
from barkwright.record import dataclass
from barkwright.season.flight import day_of, flight_year
from barkwright.season.site import Season
from barkwright.sources import Basis, Grade, Reason, cite
from barkwright.stem.pieces import Piece

Winter = Literal["not yet", "moved", "in place", "both"]
LEVELS: tuple[BroodLevel, ...] = ("none", "possible", "likely")


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence for the client and what it rests on."""

    because: str
    grade: Grade
    basis: Basis = "published"
    cite: tuple[str, ...] = ()

    def reason(self, rule: str) -> Reason:
        """The same as a reason, by its name in the file."""
        return Reason(rule, self.because, self.grade, tuple(cite(text) for text in self.cite), self.basis)


@dataclass(frozen=True, slots=True)
class Sizes:
    """The whole file, data/brood/sizes.yaml. Diameters outside bark [in], heights above ground [ft]."""

    checked_on: date
    likely_in: float
    possible_in: float
    outbreak_in: float
    zone_ft: float
    base_ft: float
    reasons: dict[str, Sentence]


@dataclass(frozen=True, slots=True)
class Weights:
    """The whole file, data/brood/weights.yaml: shares of bark area that count as infested [0 to 1]."""

    checked_on: date
    basis: str
    likely: float
    possible: float
    none: float
    upper_in_adult_winter: float


@dataclass(frozen=True, slots=True)
class Within:
    """What is known of the brood within a tree as a whole, before its pieces are told apart; the level is not none."""

    level: BroodLevel
    bole: BroodLevel | None  # what the stem above the base holds, where that differs
    stood: bool | None  # at the attack; None unknown
    winter: Winter
    seen: tuple[str, ...]  # ids of the pieces in which live brood will have been seen: the base and the thickest


@dataclass(frozen=True, slots=True)
class Held:
    """What one piece of an infested tree holds."""

    brood: BroodLevel
    weight: float
    reasons: tuple[Reason, ...]


def sizes() -> Sizes:
    """Thickness and height classes."""
    return datafile.load("brood/sizes.yaml", Sizes)


def weights() -> Weights:
    """How much each class of brood counts."""
    return datafile.load("brood/weights.yaml", Weights)


@cache
def size_reason(name: str) -> Reason:
    """One of the sentences of data/brood/sizes.yaml, as a reason."""
    return sizes().reasons[name].reason(name)


def lower(one: BroodLevel, other: BroodLevel) -> BroodLevel:
    """The lesser of two brood levels."""
    return min(one, other, key=LEVELS.index)


def stood(tree: Tree, attacked: int, season: Season) -> bool | None:
    """Did the tree stand when it was attacked in that year? None when nobody can tell."""
    if tree.status == "standing":
        return True
    if isinstance(tree.stood_at_attack, bool):
        return tree.stood_at_attack
    down = down_on(tree)
    if down is not None:
        flight = flight_year(season, attacked)
        if down > flight.end:
            return True
        if down < flight.onset:
            return False
    return None


def winter_of(tree: Tree, stood_at_attack: bool | None, stage: Stage, flight: int, on: date) -> Winter:
    """Where the adults are that fly in the year `flight`: moved to the base, in place, or both; larvae "not yet"."""
    if stage != "adults":
        return "not yet"
    if stood_at_attack is None:
        return "both"
    if not stood_at_attack:
        return "in place"
    begins, ends = (day_of(day, flight - 1) for day in look_book().move)
    down = on if tree.status == "standing" else down_on(tree)
    if down is None:
        return "both"
    if down < begins:
        return "not yet" if tree.status == "standing" else "in place"
    return "both" if down < ends else "moved"


def is_base(piece: Piece, tree: Tree) -> bool:
    """Is the piece the base of its tree: the stump, or a log that begins low down? Not known for measured logs."""
    return piece.kind == "stump" or (piece.kind == "log" and tree.status != "logs" and piece.from_ft < sizes().base_ft)


def held_by(piece: Piece, tree: Tree, within: Within) -> Held:
    """Brood, weight and reasons of one piece of an infested tree."""
    share = weights()
    size, why = _by_size(piece, tree, within.stood)
    if piece.id in within.seen and size != "likely" and why != "bare" and piece.butt_dob_in >= sizes().outbreak_in:
        size, why = "likely", "seen-thin"
    brood = lower(within.level, size)
    if brood == "none":
        return Held("none", share.none, (size_reason(why),))
    reasons = [size_reason(why)]
    base = is_base(piece, tree)
    if within.bole is not None and not base:
        brood = lower(brood, within.bole)
    weight = share.likely if brood == "likely" else share.possible
    if within.winter == "moved" and tree.status != "logs":
        reasons.append(size_reason("base-winter" if base else "upper-winter"))
        weight *= 1.0 if base else share.upper_in_adult_winter
    elif within.winter == "in place":
        reasons.append(size_reason("in-place"))
    elif within.winter != "not yet":
        reasons.append(size_reason("base-not-known" if within.winter == "moved" else "both"))
    return Held(brood, weight, tuple(reasons))


def _by_size(piece: Piece, tree: Tree, standing: bool | None) -> tuple[BroodLevel, str]:
    """What wood of this thickness and height can hold, and the sentence that says why."""
    book = sizes()
    thick = piece.butt_dob_in
    if piece.kind == "limbs":
        return "none", "limbs"
    if piece.bark_ft2 <= 0.0:
        return "none", "bare"
    if thick < book.possible_in or (piece.kind == "top" and thick <= book.possible_in):
        return "none", "outbreak" if thick >= book.outbreak_in else "too-thin"
    if piece.kind == "stump":
        if standing is False and tree.status != "windthrown":
            return "possible", "stump-lay"
        return ("likely" if thick >= book.likely_in else "possible"), "stump"
    if thick < book.likely_in:
        return "possible", "thin"
    if tree.status == "logs" and standing is not False:
        return "likely", "unknown-height"
    if standing is False:
        return "likely", "whole-bole"
    if piece.from_ft >= book.zone_ft:
        return ("possible", "above-zone") if standing else ("likely", "unknown-lie")
    return "likely", "in-zone"
