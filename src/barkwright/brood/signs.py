"""Which attack years the signs allow: crown and exit holes by months since the attack."""

from __future__ import annotations

import math
from datetime import date

from barkwright import datafile
from barkwright.brood.look import live_brood, posture, seen_on
from barkwright.brood.table import OLD
from barkwright.inventory.model import Tree
from barkwright.record import dataclass
from barkwright.season.flight import coming_flight, flight_year
from barkwright.season.site import Season


@dataclass(frozen=True, slots=True)
class Months:
    """Months since the attack at which a sign is seen; None means no limit [months]."""

    cite: str
    first: float | None = None
    last: float | None = None


@dataclass(frozen=True, slots=True)
class Signs:
    """The whole file, data/brood/signs.yaml."""

    checked_on: date
    days_per_month: float
    crown: dict[str, Months]
    exit_holes: dict[str, Months]


@dataclass(frozen=True, slots=True)
class AttackYears:
    """The years in which the tree may have been attacked, the latest first, and what was taken from the user's word.

    The earliest year in `years` may stand for itself and all years before it.
    """

    years: tuple[int, ...]
    known: bool  # the user gave the year and nothing contradicts it
    contradiction: str | None  # why the year given and the signs do not fit together


def attack_years(tree: Tree, season: Season, on: date) -> AttackYears:
    """Every attack year that the user's word and the signs leave open; where they contradict each other, both."""
    allowed = _allowed(tree, season, on)
    if tree.attacked == "unknown":
        return AttackYears(allowed, known=False, contradiction=None)
    if tree.attacked == "never":
        if not signs_of_attack(tree):
            return AttackYears((), known=True, contradiction=None)
        return AttackYears(allowed, known=False, contradiction="it is written down as never attacked, yet shows attack")
    given = tree.attacked
    newest = _newest(season, on)
    if given > newest:
        why = f"the flight of {given} has not begun yet"
        return AttackYears(_latest_first({given, *allowed}), known=False, contradiction=why)
    if max(given, min(_all_years(season, on))) in allowed:
        return AttackYears((given,), known=True, contradiction=None)
    return AttackYears(_latest_first({given, *allowed}), known=False, contradiction=_words(tree, season, on, given))


def signs_of_attack(tree: Tree) -> bool:
    """Does anything on record show that beetles attacked this tree, whatever year was given?"""
    found = tree.found
    if tree.attack in ("mass", "strip", "pitched-out"):
        return True
    if found is None or found.insect in ("engraver", "other"):
        return False
    return found.insect == "spruce-beetle" or live_brood(found) or found.exit_holes in ("some", "many")


def _allowed(tree: Tree, season: Season, on: date) -> tuple[int, ...]:
    """Years that every sign allows; where no year suits all signs, those that at least one allows; never none."""
    years = _all_years(season, on)
    each = [_years_of(sign, tree, season, on) for _, sign in _signs(tree, on)]
    if not each:
        return years
    return _latest_first(set.intersection(*each) or set.union(*each) or set(years))


def _years_of(sign: Months, tree: Tree, season: Season, on: date) -> set[int]:
    years = _all_years(season, on)
    seen = seen_on(tree, on)
    return {year for year in years if _overlaps(season, year, seen, sign, open_ended=year == min(years))}


def _signs(tree: Tree, on: date) -> list[tuple[str, Months]]:
    found = tree.found
    if found is None:
        return []
    book = datafile.load("brood/signs.yaml", Signs)
    signs: list[tuple[str, Months]] = []
    stood = posture(tree, seen_on(tree, on)) == "standing"
    if found.crown is not None and stood and tree.attack not in ("strip", "pitched-out"):
        signs.append((found.crown, book.crown[found.crown]))
    if found.exit_holes in book.exit_holes:
        signs.append((found.exit_holes, book.exit_holes[found.exit_holes]))
    return signs


def _overlaps(season: Season, year: int, seen: date, sign: Months, open_ended: bool) -> bool:
    flight = flight_year(season, year)
    per_month = datafile.load("brood/signs.yaml", Signs).days_per_month
    least = (seen - flight.end).days / per_month
    most = math.inf if open_ended else (seen - flight.onset).days / per_month
    return (sign.first is None or most >= sign.first) and (sign.last is None or least <= sign.last)


def _newest(season: Season, on: date) -> int:
    """The latest year in which an attack can have happened by that day."""
    coming = coming_flight(season, on)
    return coming if on >= flight_year(season, coming).onset else coming - 1


def _all_years(season: Season, on: date) -> tuple[int, ...]:
    return tuple(range(_newest(season, on), coming_flight(season, on) - OLD - 1, -1))


def _latest_first(years: set[int]) -> tuple[int, ...]:
    return tuple(sorted(years, reverse=True))


def _words(tree: Tree, season: Season, on: date, given: int) -> str:
    """The first sign that does not fit the year given, in words."""
    bucket = max(given, min(_all_years(season, on)))
    for name, sign in _signs(tree, on):
        if bucket not in _years_of(sign, tree, season, on):
            return _MISFIT[name].format(given=given)
    return f"its signs do not fit an attack in {given}"


_MISFIT = {
    "green": "its crown is green, and a tree attacked in {given} should have faded by then",
    "yellow-green": "its crown is yellow-green, which does not fit an attack in {given}",
    "dropping": "its needles are dropping, which does not fit an attack in {given}",
    "bare": "its crown is bare, and a tree attacked in {given} should still hold needles",
    "many": "it has many exit holes, and the brood of {given} should not have left yet",
}
