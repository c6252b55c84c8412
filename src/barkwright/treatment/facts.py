"""Facts: the values that rules ask about, taken from site, tree, piece and brood."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from functools import cache
from math import sqrt

from barkwright.brood.finding import PieceBrood
from barkwright.datafile import load
from barkwright.inventory.model import Destination, Equipment, Inventory, Tree
from barkwright.record import dataclass
from barkwright.stem.pieces import Piece
from barkwright.treatment.conditions import Value, facts

LIFTING = frozenset(("winch", "loader", "skid-steer", "tractor", "excavator", "backhoe"))
ROLLING = frozenset(("cant-hook", "log-arch"))


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit that facts are built with: one record of data/treatment/limits.yaml."""

    value: float | str
    unit: str
    what: str
    checked_on: date
    sources: tuple[str, ...] = ()
    basis: str | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Chipper:
    """The chipper that takes the thickest wood."""

    maker_in: float | None
    working_in: float
    feed: str  # hand winch loader unknown


@cache
def limits() -> Mapping[str, Limit]:
    """data/treatment/limits.yaml by name."""
    return load("treatment/limits.yaml", dict[str, Limit])


def limit(name: str) -> float:
    """A limit that is a number, in the unit that its name ends in."""
    return float(limits()[name].value)


def month_day(name: str, year: int) -> date:
    """A limit that is a day of the year, in `year`."""
    return date.fromisoformat(f"{year}-{limits()[name].value}")


def cure_days(piece: Piece) -> int:
    """Days that this wood lies before it burns well [days]; thicker wood takes longer. Common practice, no source."""
    small = piece.butt_dob_in <= limit("cure_small_in")
    return int(limit("cure_small_days" if small else "cure_large_days"))


def dry_from(split_on: date) -> date:
    """First day on which wood split and stacked on `split_on` has had a full drying season. Ours, see limits.yaml."""
    year = split_on.year if split_on <= month_day("drying_from", split_on.year) else split_on.year + 1
    return month_day("drying_to", year) + timedelta(days=1)


def chipper_of(inventory: Inventory) -> Chipper | None:
    """The chipper with the largest working capacity [in]; where none is given, the maker's figure times a share."""
    found = []
    for one in inventory.equipment:
        if one.kind == "chipper" and (one.working_capacity or one.capacity):
            working = one.working_capacity or float(one.capacity or 0) * limit("chipper_working_share")
            found.append(Chipper(one.capacity, working, one.feed or "unknown"))
    return max(found, key=lambda one: one.working_in, default=None)


def site_facts(inventory: Inventory) -> dict[str, Value | None]:
    """The facts of the site and what is there to work with."""
    site = inventory.site
    spruce = site.nearest_live_spruce_ft
    kinds = {one.kind for one in inventory.equipment}
    chipper = chipper_of(inventory)
    return {
        "site.live_spruce": spruce if isinstance(spruce, str) else "known",
        "site.live_spruce_ft": None if isinstance(spruce, str) else spruce,
        "site.slope_percent": site.slope_percent,
        "site.machine_access": answer(site.machine_access),
        "site.diggable": answer(site.ground.diggable),
        "site.services_located": answer(site.ground.services_located),
        "site.permit": site.burning.permit,
        "site.burn_windows_given": bool(site.burning.windows),
        "site.lifting_machine": bool(kinds & LIFTING),
        "site.rolling_tool": bool(kinds & ROLLING),
        "site.keep_sawlogs": inventory.wishes.keep_sawlogs,
        "site.crew_listed": bool(inventory.crew),
        "site.saw_people": float(sum(one.people for one in inventory.crew))
        if any("saw" in one.skills for one in inventory.crew)
        else 0.0,
        "site.machine_skill": any("machine" in one.skills for one in inventory.crew),
        "site.chipper_takes": None if chipper is None else shown_number(chipper.working_in, "in"),
        "site.chipper_maker": None
        if chipper is None or chipper.maker_in is None
        else shown_number(chipper.maker_in, "in"),
    }


def tree_facts(tree: Tree) -> dict[str, Value | None]:
    """The facts of one tree."""
    return {
        "tree.status": tree.status,
        "tree.green": tree.attacked == "never",
        "tree.insect": tree.found.insect if tree.found else "not-sure",
        "tree.bark_own": "standing" if tree.status == "standing" else tree.bark.condition,
    }


def piece_facts(tree: Tree, piece: Piece, chipper: Chipper | None) -> dict[str, Value | None]:
    """The facts of one piece, and how it meets the chipper."""
    found: dict[str, Value | None] = {
        "piece.kind": piece.kind,
        "piece.butt_dob_in": piece.butt_dob_in,
        "piece.top_dob_in": piece.top_dob_in,
        "piece.length_ft": piece.length_ft,
        "piece.lift_lb": piece.lift_lb,
        "piece.bark_left_percent": 100.0 if tree.status == "standing" else tree.bark.left_percent,
        "piece.saw_log": is_saw_log(piece),
        "piece.short_butt_ft": None,
        "piece.fits_chipper_ft": None,
        "piece.over_working_in": None,
        "piece.quarter_over_in": None,
        "piece.over_maker_in": None,
        "piece.short_butt_lb": None,
    }
    if chipper is not None:
        short = short_butt_ft(piece, chipper)
        found["piece.short_butt_ft"] = short
        found["piece.fits_chipper_ft"] = piece.length_ft - short
        found["piece.over_working_in"] = piece.butt_dob_in - chipper.working_in
        found["piece.quarter_over_in"] = piece.butt_dob_in / sqrt(2) - chipper.working_in
        found["piece.over_maker_in"] = None if chipper.maker_in is None else piece.butt_dob_in - chipper.maker_in
        found["piece.short_butt_lb"] = piece.lift_lb * (short / piece.length_ft if piece.length_ft else 0.0)
    return found


def brood_facts(brood: PieceBrood) -> dict[str, Value | None]:
    """The facts of what lives in one piece."""
    return {
        "brood.level": brood.brood,
        "brood.stage": "none" if brood.brood == "none" else brood.stage or "unknown",
        "brood.host": brood.host,
        "brood.at_stake": brood.brood != "none" or brood.host,
    }


def end_facts(end: Destination | None, onset: date | None) -> dict[str, Value | None]:
    """The facts of a destination; `onset` is the flight to beat, None where nothing flies."""
    if end is None:
        return {
            "way.end_place": "unknown", "way.end_miles": None, "way.end_spruce": "unknown", "way.end_spruce_mi": None,
            "way.end_processes": "unknown", "way.end_name": "an unknown place", "way.end_by": None,
        }  # fmt: skip
    spruce = end.live_spruce_within_miles
    by = end.processes_by
    late = by is not None and onset is not None and by >= onset
    return {
        "way.end_place": "known",
        "way.end_miles": end.miles,
        "way.end_spruce": spruce if isinstance(spruce, str) else "known",
        "way.end_spruce_mi": None if isinstance(spruce, str) else spruce,
        "way.end_processes": "unknown" if by is None else "too-late" if late else "before-onset",
        "way.end_name": end_name(end),
        "way.end_by": None if by is None else shown_date(by),
    }


def end_name(end: Destination) -> str:
    """A destination as one calls it: its name, or its kind."""
    return end.name or ("the destination" if end.kind == "other" else f"the {end.kind}")


def is_saw_log(piece: Piece) -> bool:
    """True for a log long and thick enough to be sawn; limits in limits.yaml."""
    return (
        piece.kind == "log"
        and piece.top_dob_in >= limit("sawlog_top_in")
        and piece.length_ft >= limit("sawlog_length_ft")
    )


def short_butt_ft(piece: Piece, chipper: Chipper) -> float:
    """Length of the piece that is too thick for the chipper all day [ft], 0 where all of it fits."""
    lengths = [
        one.short_butt_ft
        for one in piece.cut_points
        if one.equipment == "chipper" and one.capacity_in == chipper.working_in
    ]
    if lengths:
        return min(lengths)
    if piece.butt_dob_in <= chipper.working_in:
        return 0.0
    if piece.top_dob_in >= chipper.working_in or piece.butt_dob_in == piece.top_dob_in:
        return piece.length_ft
    return piece.length_ft * (piece.butt_dob_in - chipper.working_in) / (piece.butt_dob_in - piece.top_dob_in)


def answer(given: bool | None) -> str:
    """A yes-or-no answer as a word; None is `unknown`."""
    return "unknown" if given is None else "yes" if given else "no"


def shown_date(day: date) -> str:
    """A date as one says it: 4 May 2027."""
    return f"{day.day} {day:%B %Y}"


def shown_number(value: float, unit: str | None) -> str:
    """A number with its unit, one decimal where it needs one: 16.5 in."""
    text = f"{round(value, 1):,g}" if abs(value) < 1000 else f"{value:,.0f}"
    return f"{text} {unit}" if unit else text


def shown(name: str, value: Value | None) -> str:
    """The value of a fact as a sentence shows it."""
    if value is None:
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else shown_number(value, facts()[name].unit)


def here(one: Equipment, day: date) -> bool:
    """True when a machine or tool can be had on `day`."""
    return (one.first is None or one.first <= day) and (one.last is None or day <= one.last)
