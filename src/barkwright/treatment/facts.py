"""Facts: the values that rules ask about, taken from site, tree, piece and brood."""

from __future__ import annotations

from datetime import date
from math import sqrt

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Destination, Inventory, Tree
from barkwright.season.year import in_words
from barkwright.stem.pieces import Piece
from barkwright.treatment.chippers import Chipper, chipper_of, short_butt_ft
from barkwright.treatment.conditions import Value
from barkwright.treatment.limits import LIMITS
from barkwright.treatment.shown import answer, shown_number

LIFTING = frozenset(("winch", "loader", "skid-steer", "tractor", "excavator", "backhoe"))
ROLLING = frozenset(("cant-hook", "log-arch"))


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
        "site.keep_firewood": inventory.wishes.keep_firewood,
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
        "way.end_by": None if by is None else in_words(by),
    }


def end_name(end: Destination) -> str:
    """A destination as one calls it: its name, or its kind."""
    return end.name or ("the destination" if end.kind == "other" else f"the {end.kind}")


def is_saw_log(piece: Piece) -> bool:
    """True for a log long and thick enough to be sawn; limits in limits.yaml."""
    return (
        piece.kind == "log"
        and piece.top_dob_in >= LIMITS["sawlog_top_in"]
        and piece.length_ft >= LIMITS["sawlog_length_ft"]
    )
