"""Do the attack, the signs and the dates of a tree agree?"""

from __future__ import annotations

from datetime import date

from barkwright.inventory.checks.limits import signs
from barkwright.inventory.model import Found, Tree
from barkwright.inventory.parts import Parts
from barkwright.inventory.report import Report
from barkwright.yamldoc import Loc

_DAYS_PER_MONTH = 365.25 / 12
_ON_TREES = {"sunny", "shaded", "upper"}
_ON_LOGS = {"top", "side", "bottom"}


def check_attack(parts: Parts, report: Report) -> None:
    """Attack year, signs and dates of every sound tree, against each other and the plan's date."""
    for at, tree in parts.trees:
        _days(at, tree, parts.on, report)
        if isinstance(tree.attacked, int):
            _year(at, tree, tree.attacked, parts.on, report)
            _lay_or_stood(at, tree, tree.attacked, report)
        elif tree.attacked == "never":
            _never(at, tree, report)
        if tree.found is not None:
            _stages((*at, "found"), tree.found, report)
            _looked((*at, "found"), tree, tree.found, report)
            if isinstance(tree.attacked, int) and tree.status == "standing":
                _crown((*at, "found"), tree, tree.found, tree.attacked, parts.on, report)


def _days(at: Loc, tree: Tree, on: date, report: Report) -> None:
    for key, day in (("felled_on", tree.felled_on), ("down_since", tree.down_since)):
        if day is not None and day > on:
            message = f"{key} {day} lies after {on}, the day this is planned for"
            report.error("down-in-future", (*at, key), message, "a tree still to be felled has status: standing")
    seen = tree.found.seen if tree.found else None
    if seen is not None and seen > on:
        message = f"seen {seen} lies after {on}, the day this is planned for"
        report.error("seen-in-future", (*at, "found", "seen"), message, "check the date")


def _year(at: Loc, tree: Tree, attacked: int, on: date, report: Report) -> None:
    here = (*at, "attacked")
    if attacked > on.year:
        message = f"attacked {attacked} lies in the future: this is planned for {on}"
        report.error("attack-in-future", here, message, "write the year the beetles bored in, or unknown")
    elif attacked == on.year and on < _season_day(attacked, "from"):
        message = f"attacked {attacked}: on {on} this year's beetles have not flown yet"
        report.warning("attack-before-flight", here, message, f"write {attacked - 1} if it was last summer, or unknown")
    seen = tree.found.seen if tree.found else None
    if seen is not None and seen.year < attacked <= on.year and tree.found is not None and tree.found.stages:
        message = f"seen {seen} is before the year of the attack, {attacked}"
        report.error("attack-contradiction", (*at, "found", "seen"), message, "correct one of them")


def _lay_or_stood(at: Loc, tree: Tree, attacked: int, report: Report) -> None:
    down = tree.felled_on or tree.down_since
    if down is None or tree.stood_at_attack == "unknown":
        return
    here = (*at, "stood_at_attack")
    if tree.stood_at_attack and down.year < attacked:
        message = f"it lay since {down}: it cannot have stood at the attack of {attacked}"
        report.error("down-before-attack", here, message, "write stood_at_attack: false, or correct a date")
    elif not tree.stood_at_attack and down.year > attacked:
        message = f"it went down on {down}: it stood at the attack of {attacked}"
        report.error("down-before-attack", here, message, "write stood_at_attack: true, or correct a date")


def _never(at: Loc, tree: Tree, report: Report) -> None:
    hint = "write the year of the attack, or attacked: unknown"
    if tree.attack != "not-sure":
        report.error("never-attacked", (*at, "attack"), f"attacked: never, yet attack: {tree.attack}", hint)
    found = tree.found
    if found is None or found.insect in ("engraver", "other"):
        return
    living = [stage for stage in found.stages or () if stage != "none"]
    if living:
        message = f"attacked: never, yet {' and '.join(living)} were seen under the bark"
        report.error("never-attacked", (*at, "found", "stages"), message, hint + "; for another insect name it")
    elif found.exit_holes in ("some", "many"):
        message = f"attacked: never, yet there are {found.exit_holes} exit holes"
        report.warning("never-attacked", (*at, "found", "exit_holes"), message, hint + "; for another insect name it")


def _stages(at: Loc, found: Found, report: Report) -> None:
    stages = found.stages
    if stages is None:
        if found.looked:
            hint = "add stages: what was seen there, or [none]"
            report.warning("question", (*at, "looked"), "it is said where one looked, not what was seen", hint)
    elif not stages:
        report.error("missing-value", (*at, "stages"), "'stages' is an empty list", "write [none] if nothing was there")
    elif "none" in stages and len(set(stages)) > 1:
        message = f"stages says none and {' and '.join(stage for stage in stages if stage != 'none')}"
        report.error("stages-contradict", (*at, "stages"), message, "none means that nothing alive was found")
    elif not found.looked:
        hint = "add looked: [base, sunny, shaded], as it was; only where one looked counts"
        report.warning("question", (*at, "stages"), "it is said what was seen, not where one looked", hint)


def _looked(at: Loc, tree: Tree, found: Found, report: Report) -> None:
    places = set(found.looked)
    down = tree.felled_on or tree.down_since
    if tree.status == "standing" and places & _ON_LOGS:
        wrong = _first(found, _ON_LOGS)
        message = f"'{found.looked[wrong]}' is a side of a down log; this tree stands"
        hint = "on a standing tree: base, sunny, shaded, upper"
        report.error("wrong-look", (*at, "looked", wrong), message, hint)
    elif tree.status != "standing" and places & _ON_TREES and not (down and found.seen and found.seen < down):
        wrong = _first(found, _ON_TREES)
        message = f"'{found.looked[wrong]}' is a side of a standing tree; this one is down"
        hint = "on a down log: top, side, bottom; for a look before it went down give the day in seen"
        report.warning("wrong-look", (*at, "looked", wrong), message, hint)


def _first(found: Found, places: set[str]) -> int:
    return next(number for number, place in enumerate(found.looked) if place in places)


def _crown(at: Loc, tree: Tree, found: Found, attacked: int, on: date, report: Report) -> None:
    seen = found.seen or on
    if found.crown is None or found.insect in ("engraver", "other") or attacked > seen.year:
        return
    earliest = max((seen - _season_day(attacked, "to")).days / _DAYS_PER_MONTH, 0.0)
    latest = max((seen - _season_day(attacked, "from")).days / _DAYS_PER_MONTH, 0.0)
    months = signs().crowns[found.crown]
    if earliest <= months.usual[1] and latest >= months.usual[0]:
        return
    if found.crown == "green" and tree.attack != "mass":
        return  # strips and pitched-out attacks leave crowns green for years
    when = f"{round(latest)} months" if latest < 24 else f"{latest / 12:.0f} years"
    message = f"a {found.crown} crown on {seen} does not go with an attack in {attacked}, {when} before"
    impossible = earliest > months.possible[1] or latest < months.possible[0]
    if impossible and tree.attack == "mass":
        hint = "correct the crown, the year or the attack, or write attacked: unknown"
        report.error("attack-contradiction", (*at, "crown"), message, hint)
    else:
        hint = "look again; if it is so, write attacked: unknown and the worst case is planned for"
        report.warning("attack-contradiction", (*at, "crown"), message, hint)


def _season_day(year: int, end: str) -> date:
    return date.fromisoformat(f"{year}-{signs().attack_season[end]}")
