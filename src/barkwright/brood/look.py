"""What a look under the bark is worth on the plan's date, and when new adults must be expected."""

from __future__ import annotations

from datetime import date

from barkwright import datafile
from barkwright.brood.table import Look
from barkwright.inventory.model import Found, Looked, Tree
from barkwright.record import dataclass
from barkwright.season.flight import coming_flight, day_of, flight_year
from barkwright.season.site import Season


@dataclass(frozen=True, slots=True)
class Sides:
    """Something said apart for standing trees, for wood that lies, and for stumps."""

    standing: str
    down: str
    stump: str


@dataclass(frozen=True, slots=True)
class FullLook:
    """Sides that must all have been looked at before "only larvae" or "nothing" counts."""

    standing: tuple[Looked, ...]
    down: tuple[Looked, ...]
    stump: tuple[Looked, ...]
    strip: tuple[Looked, ...]


@dataclass(frozen=True, slots=True)
class LookBook:
    """The whole file, data/brood/look.yaml."""

    checked_on: date
    full_look: FullLook
    full_look_cite: tuple[str, ...]
    adults_from: str
    adults_from_cite: tuple[str, ...]
    settled_from: str
    pupae_are_slow_from: str
    move: tuple[str, str]
    move_cite: tuple[str, ...]
    host_flights: int
    where: Sides
    how: str
    higher: str
    too_early: str
    looks: dict[str, str]
    looks_cite: tuple[str, ...]


def look_book() -> LookBook:
    """Where and how to look under bark, and what is seen there."""
    return datafile.load("brood/look.yaml", LookBook)


def adults_from(flight: int) -> date:
    """First day on which new adults must be expected that fly in the year `flight`: they winter once before."""
    return day_of(look_book().adults_from, flight - 1)


def settled_from(flight: int) -> date:
    """First day on which white brood shows that it will not fly in the year `flight`."""
    return day_of(look_book().settled_from, flight - 1)


def seen_on(tree: Tree, on: date) -> date:
    """The day of the look: as written, or the plan's date where none is written."""
    written = tree.found.seen if tree.found else None
    return on if written is None or written > on else written


def posture(tree: Tree, day: date) -> str:
    """How the wood was on a day: "standing", "down" or "stump". Wood cut or thrown after that day was standing."""
    if tree.status == "stump":
        return "stump"
    if tree.status == "standing":
        return "standing"
    down = down_on(tree)
    return "standing" if down is not None and day < down else "down"


def down_on(tree: Tree) -> date | None:
    """The day the tree came down, where that is known."""
    return tree.felled_on or tree.down_since


def full_look(tree: Tree, found: Found, day: date) -> bool:
    """Were all the sides looked at that show early adults and wintering adults?"""
    return not sides_left(tree, found, day)


def sides_left(tree: Tree, found: Found, day: date) -> tuple[Looked, ...]:
    """The sides that nobody looked at, of those that a full look takes."""
    need: FullLook = look_book().full_look
    standing = need.strip if tree.attack == "strip" else need.standing
    sides = {"standing": standing, "down": need.down, "stump": need.stump}[posture(tree, day)]
    return tuple(side for side in sides if side not in found.looked)


def live_brood(found: Found | None) -> bool:
    """Was a live stage seen, whichever?"""
    return bool(found and found.stages and set(found.stages) - {"none"})


def look_of(tree: Tree, season: Season, on: date, attacked: int) -> Look:
    """What the look under this tree's bark is worth on the plan's date if it was attacked in that year.

    A look from before the attack, from before the last flight but one, or at the wrong sides is worth nothing.
    """
    found = tree.found
    if found is None or not found.stages:
        return "not-looked"
    seen = seen_on(tree, on)
    next_then, next_now = coming_flight(season, seen), coming_flight(season, on)
    if seen < flight_year(season, attacked).onset:
        return "not-looked"
    then = _at_the_time(tree, found, seen, next_then)
    if then == "nothing" and next_then > attacked and seen < adults_from(attacked + 1):
        return "not-looked"  # eggs and the first small larvae are easily missed
    if next_then == next_now:
        return then
    if next_then == next_now - 1 and attacked < next_then:
        if {"larvae", "pupae"} & set(found.stages):
            return "larvae-last-year"
        if then == "adults":
            return "adults-last-year"
        if then == "nothing":
            return "nothing-last-year"
    return "not-looked"


def _at_the_time(tree: Tree, found: Found, seen: date, next_flight: int) -> Look:
    stages = set(found.stages or ())
    if "adults" in stages:
        return "adults"
    full = full_look(tree, found, seen)
    if stages <= {"none"}:
        return "nothing" if full else "not-looked"
    if not full or seen < settled_from(next_flight):
        return "larvae-unsure"
    if "pupae" in stages and seen < day_of(look_book().pupae_are_slow_from, next_flight):
        return "pupae"
    return "larvae"
