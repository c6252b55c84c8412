"""Profiles: what the days are like for all pieces that share brood, bark and history; and the dates that bind a way."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Inventory, Tree
from barkwright.record import dataclass
from barkwright.season.year import FlightYear, Spell, in_words
from barkwright.stem.pieces import Piece
from barkwright.treatment.conditions import Value
from barkwright.treatment.facts import tree_facts
from barkwright.treatment.limits import LIMITS, cure_days

if TYPE_CHECKING:
    from barkwright.treatment.drying import Drying

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Profile:
    """What decides the days of a piece, apart from its size. Equal profiles have equal days."""

    level: str
    stage: str
    host: bool
    flight: int | None
    adults_from: date | None
    cured_on: date
    status: str
    green: bool
    insect: str
    bark: str
    old_bark: bool  # attacked long enough ago that the bark no longer slips with the sap


def profile_of(tree: Tree, piece: Piece, brood: PieceBrood, on: date, horizon: date) -> Profile:
    """The profile of a piece; dates before the plan or past its horizon are the same for all."""
    own = tree_facts(tree)
    adults = brood.adults_from
    if adults is not None:
        adults = None if adults > horizon else max(adults, on)
    cut = tree.felled_on or tree.down_since or on
    cured = min(max(cut + timedelta(days=cure_days(piece)), on), horizon + DAY)
    old = isinstance(tree.attacked, int) and tree.attacked < on.year - 1
    stage = "none" if brood.brood == "none" else brood.stage or "unknown"
    return Profile(
        brood.brood, stage, brood.host, brood.flight_to_beat, adults, cured, tree.status, bool(own["tree.green"]),
        str(own["tree.insect"]), str(own["tree.bark_own"]), old,
    )  # fmt: skip


def breaks(
    profile: Profile, flight: FlightYear | None, inventory: Inventory, spells: Iterable[Spell], drying: Drying | None
) -> set[date]:
    """First days of the spans in which the day's facts stay the same for this profile; `drying`: where it is asked."""
    found = {one.first for one in spells}
    for window in inventory.site.burning.windows:
        found |= {window.first, window.last + DAY}
    found.add(profile.cured_on)
    if profile.adults_from is not None:
        found.add(profile.adults_from)
    if flight is not None:
        found |= {flight.onset, flight.half + DAY}
    if drying is not None:
        found |= drying.breaks(flight.onset if flight else None)
    for year in sorted({one.year for one in found}):
        found |= {LIMITS.day("engravers_from", year), LIMITS.day("engravers_to", year) + DAY}
    return found


def day_facts(
    profile: Profile, flight: FlightYear | None, inventory: Inventory, spell: Spell, day: date
) -> dict[str, Value | None]:
    """The facts of one day for a profile; `spell` is the one that the day lies in."""
    adults = profile.level != "none" and (
        profile.stage in ("adults", "unknown") or (profile.adults_from is not None and profile.adults_from <= day)
    )
    engravers = LIMITS.day("engravers_from", day.year) <= day <= LIMITS.day("engravers_to", day.year)
    return {
        "day.bark": bark_on(profile, spell),
        "day.deep_winter": spell.bark == "frozen",
        "day.flying": spell.flying,
        "day.chips_draw": spell.chips_draw,
        "day.engravers": engravers,
        "day.adults": adults,
        "day.adults_coming": not adults and profile.adults_from is not None and profile.adults_from > day,
        "day.to_flight": _to_flight(flight, day),
        "day.burn_open": _burning(inventory, day),
        "day.cured": day >= profile.cured_on,
        "day.onset": None if flight is None else in_words(flight.onset),
        "day.half": None if flight is None else in_words(flight.half),
        "day.adults_from": None if profile.adults_from is None else in_words(profile.adults_from),
        "day.cured_on": in_words(profile.cured_on),
    }


def ground_facts(spell: Spell) -> dict[str, Value | None]:
    """The facts of one day about frost in the ground."""
    return {"day.ground_frozen": spell.ground_frozen, "day.frost_deep": spell.frost_deep}


def dry_facts(profile: Profile, flight: FlightYear | None, day: date, drying: Drying) -> dict[str, Value | None]:
    """The facts of one day about the drying of split wood."""
    in_stove = drying.in_stove(day)
    return {
        "day.dry_by_flight": "likely" if flight is None else drying.by_flight(day, flight.onset),
        "day.fuel_dry": "uncertain" if in_stove == "unlikely" and profile.bark == "dried" else in_stove,
        "day.dry_on": drying.words,
        "day.dry_basis": drying.name,
    }


def bark_on(profile: Profile, spell: Spell) -> str:
    """How the bark comes off: the season's word for living or fresh stems, the user's own look for down wood.

    Sap moves only in trees attacked lately, and no longer in down wood unless its bark was seen to slip. Ours.
    """
    if profile.bark in ("loosened", "dried"):
        return profile.bark
    if spell.bark == "frozen":
        return "frozen"
    if profile.bark == "slipping" or (spell.bark == "slipping" and profile.bark == "standing" and not profile.old_bark):
        return "slipping"
    return "dormant"


def _to_flight(flight: FlightYear | None, day: date) -> str:
    if flight is None:
        return "none"
    return "before" if day < flight.onset else "onset-to-half" if day <= flight.half else "after-half"


def _burning(inventory: Inventory, day: date) -> str:
    windows = inventory.site.burning.windows
    if not windows:
        return "unknown"
    return "open" if any(one.first <= day <= one.last for one in windows) else "closed"
