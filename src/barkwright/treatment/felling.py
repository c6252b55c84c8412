"""Who takes a tree down, and what has to be asked and called first."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Literal

from barkwright.brood.finding import Question, TreeBrood
from barkwright.brood.hosts import draws_beetles
from barkwright.inventory.model import Inventory, Near, Skill, Tree
from barkwright.record import dataclass
from barkwright.season.flight import flight_year
from barkwright.season.site import Season
from barkwright.sources import Reason, cite
from barkwright.stem.pieces import TreeStem
from barkwright.treatment import outside
from barkwright.treatment.approach import machine_approach_ft, people_approach_ft
from barkwright.treatment.crews import can_saw, why_not
from barkwright.treatment.fellwork import fell_step, limb_and_buck_step
from barkwright.treatment.listing import listing
from barkwright.treatment.removal import CAUTIONS, How, OwnRemoval, hours_question, own_removal
from barkwright.treatment.shop import Shop, shop_of
from barkwright.treatment.ways import Step

Who = Literal["crew", "professional", "provisional", "not needed", "not allowed"]
DAY = timedelta(days=1)
NEIGHBOURS = ("building", "road", "neighbour")
DOWN_HAZARDS = frozenset(("hung-up", "split-stem"))  # of a tree that lies: wood under load


@dataclass(frozen=True, slots=True)
class Felling:
    """How one tree comes down, or how one that lies is cut up.

    `who` "provisional" means that nobody may fell it before the question is answered; `by` then says who would.
    A professional's hours are as entered in `removal`; without it the fell step has 0 hours and waits `lead_days`.
    A crew of the site that is a professional itself, `by` "crew" with `crews` named, has its entered hours too.
    """

    tree: str
    who: Who
    by: str  # "crew", "tree service", "line-clearance arborist"; "nobody" when not needed
    steps: tuple[Step, ...] = ()  # in order: fell (by `by`), limb and buck
    calls: tuple[Step, ...] = ()  # to be made before the first step
    questions: tuple[Question, ...] = ()
    reasons: tuple[Reason, ...] = ()
    cautions: tuple[str, ...] = ()  # codes of the cautions that belong to it
    needs_skills: tuple[Skill, ...] = ()
    earliest: date | None = None  # the user's own not_before, or the day of an appointment
    closed: tuple[tuple[date, date], ...] = ()  # days on which it is not to be felled
    lead_days: int = 0  # from the first call to the earliest felling
    reach_ft: float | None = None  # upper estimate of the height: what it can hit
    drop_zone_ft: float | None = None  # nobody nearer while it is felled
    crew_bucks: bool = False  # limb and buck is the site crew's own job
    crews: tuple[str, ...] = ()  # the only crews that may take it down; none: any with the skills
    how: How = "fell"  # how a crew takes it down


def felling_of(tree: Tree, stem: TreeStem, brood: TreeBrood, inventory: Inventory, season: Season, on: date) -> Felling:
    """How a tree comes down: by whom, after which questions and calls, in how many hours, with which cautions.

    Facts only: whether a brood tree can be finished before its flight is for the schedule to see.
    """
    if tree.status in ("logs", "stump"):
        return Felling(tree.id, "not needed", "nobody")
    at_stake = any(piece.brood != "none" or piece.host for piece in brood.pieces)
    if tree.status == "standing":
        if brood.may_stay_standing is not None and tree.removal is None:
            return Felling(
                tree.id, "not needed", "nobody", reasons=(_ours("may-stay-standing", brood.may_stay_standing),)
            )
        if not at_stake and tree.removal is None:
            return _not_needed(
                tree,
                _ours(
                    "no-brood-no-felling",
                    "Nothing that flies is expected in it, so it needs no felling because of beetles.",
                ),
            )
        return _standing(tree, stem, inventory, season, on)
    if not at_stake:
        return _not_needed(tree, _ours("no-brood-no-felling", "Nothing that flies is expected in it."))
    if tree.cut_up is not None:
        return _not_needed(tree, _ours("cut-up", "It is limbed and cut up, as the journal says."))
    return _down(tree, stem, inventory, on)


def _not_needed(tree: Tree, reason: Reason) -> Felling:
    reasons = [reason]
    if tree.hazards and tree.status == "standing":
        reasons.append(_ours("hazard-only", "It is marked as a hazard: have a qualified person look at it."))
    return Felling(tree.id, "not needed", "nobody", reasons=tuple(reasons))


def _standing(tree: Tree, stem: TreeStem, inventory: Inventory, season: Season, on: date) -> Felling:
    shop = shop_of(inventory)
    reach = reach_ft(tree, stem, shop.size["reach-unknown"])
    line, near, unchecked = _line_near(tree.near, reach, shop), _near(tree.near, reach), _unchecked(tree.near)
    reasons = [*_line_reasons(tree, line, reach), *_near_reasons(tree, near, reach), *_hazard_reasons(tree)]
    skilled = can_saw(inventory, "felling")
    plain = skilled and not reasons and tree.removal is None  # nothing near, nothing wrong with it
    own = None if plain else own_removal(tree, inventory, shop, line is not None, reach)
    reasons += _who_reasons(tree, inventory, own, bool(reasons))
    crew_fells = plain or own is not None
    by = "crew" if crew_fells else "line-clearance arborist" if line is not None else "tree service"
    saws: Skill | None = "saw" if can_saw(inventory, "saw") else "felling" if skilled else None
    whole = tree.removal is not None and tree.removal.by != "fell"  # it comes down in the lengths asked for
    crew_bucks = saws is not None and not whole and not (own is not None and own.how is None)
    calls, lead = outside.calls_for(tree, inventory, shop, line, by, on)
    questions = []
    if unchecked:
        questions.append(outside.near_question(tree, unchecked, reach, shop))
        places = listing([outside.PLACES[name] for name in unchecked], "or")
        reasons.insert(0, _ours("near-not-checked", f"Nobody has measured how far the {places} is from it."))
    missed = outside.missed_question(tree, inventory, on)
    if missed is not None:
        questions.insert(0, missed)
    if tree.removal is None and not plain:
        questions.append(outside.quote_question(tree, by) if own is None else hours_question(tree, own))
    lengths = None if crew_bucks else inventory.cutting.log_length_ft
    if own is not None:
        step = own.step(lengths)
    elif crew_fells:
        step = fell_step(tree, stem, shop, _yard(tree.near, reach, shop))
    else:
        step = outside.removal_step(tree, by, lead, lengths)
    closed = _closed(tree, season, on)
    bucking = (limb_and_buck_step(tree, stem, shop, saws),) if saws is not None and crew_bucks else ()
    return Felling(
        tree=tree.id,
        who="provisional" if unchecked else "crew" if crew_fells else "professional",
        by=by,
        steps=(replace(step, spans=_open(closed, on)), *bucking),
        calls=calls,
        questions=tuple(questions),
        reasons=tuple(reasons),
        cautions=_cautions(tree, on, line is not None, shop.size["dead-after"]) + (CAUTIONS[own.how] if own else ()),
        needs_skills=own.skills if own else ("felling",) if crew_fells else (),
        earliest=outside.earliest(tree, inventory, on),
        closed=closed,
        lead_days=lead,
        reach_ft=reach,
        drop_zone_ft=reach * shop.size["drop-zone-lengths"],
        crew_bucks=crew_bucks,
        crews=own.crews if own else (),
        how=(own.how if own else None) or "fell",
    )


def _who_reasons(tree: Tree, inventory: Inventory, own: OwnRemoval | None, others: bool) -> list[Reason]:
    """Why this crew or nobody here; `others`: something else makes it work for professionals already."""
    if own is not None:
        return [own.reason()]
    if not can_saw(inventory, "felling"):
        return [_ours("no-felling-crew", why_not(inventory, "felling"))]
    if tree.removal is not None and not others:
        return [_ours("removal-entered", "A professional has said how it comes down.")]
    return []


def _down(tree: Tree, stem: TreeStem, inventory: Inventory, on: date) -> Felling:
    """A tree that lies: on its root plate or under others only a trained sawyer, else anyone who saws in company."""
    shop = shop_of(inventory)
    rooted = tree.status == "windthrown"
    trained = rooted or bool({"jackstraw", "root-plate"} & set(tree.hazards))
    skill: Skill = "felling" if trained else "saw"
    loaded = sorted(DOWN_HAZARDS & set(tree.hazards))
    if skill == "saw" and not can_saw(inventory, "saw") and can_saw(inventory, "felling"):
        skill = "felling"
    able = can_saw(inventory, skill) and not loaded
    reasons = [*(_hazard_reasons(tree) if loaded else ())]
    if trained:
        what = "lies on its root plate, which can tip back" if rooted else "lies under load among others"
        reasons.append(_ours("trained-sawyer-only", f"It {what}: only a trained sawyer cuts it, never alone."))
    if not able and not loaded:
        reasons.append(_ours("no-saw-crew", why_not(inventory, skill)))
    codes = ["saw-work", *(["windthrow"] if rooted else ()), *(["jackstraw"] if "jackstraw" in tree.hazards else ())]
    if able:
        steps = (limb_and_buck_step(tree, stem, shop, skill),)
        return Felling(
            tree.id, "crew", "crew", steps, reasons=tuple(reasons), cautions=tuple(codes), needs_skills=(skill,),
            earliest=outside.earliest(tree, inventory, on), crew_bucks=True,
        )  # fmt: skip
    calls, lead = outside.calls_for(tree, inventory, shop, None, "tree service", on)
    removal = outside.removal_step(tree, "tree service", lead, inventory.cutting.log_length_ft)
    return Felling(
        tree.id, "professional", "tree service", (removal,), calls,
        () if tree.removal else (outside.quote_question(tree, "tree service"),), tuple(reasons), tuple(codes),
        earliest=outside.earliest(tree, inventory, on), lead_days=lead,
    )  # fmt: skip


def reach_ft(tree: Tree, stem: TreeStem, unknown_ft: float) -> float:
    """What a tree can hit when it falls [ft]: its height, upper estimate; a cautious figure where nothing is known."""
    if stem.height_ft is not None:
        return stem.height_ft.high
    tops = [piece.from_ft + piece.length_ft for piece in stem.pieces]
    return tree.height_ft or max(tops, default=0.0) or unknown_ft


def _line_near(near: Near, reach: float, shop: Shop) -> float | None:
    line = near.line
    return line if isinstance(line, float | int) and line <= reach + shop.size["line-margin"] else None


def _near(near: Near, reach: float) -> tuple[str, ...]:
    distances = {name: getattr(near, name) for name in NEIGHBOURS}
    return tuple(name for name, far in distances.items() if isinstance(far, float | int) and far <= reach)


def _unchecked(near: Near) -> tuple[str, ...]:
    return tuple(name for name in ("line", *NEIGHBOURS) if getattr(near, name) == "not-checked")


def _yard(near: Near, reach: float, shop: Shop) -> bool:
    """Is anything to be spared so near that felling is slower?"""
    far = [getattr(near, name) for name in ("line", *NEIGHBOURS)]
    return any(
        each != "out-of-reach" and (each == "not-checked" or each <= shop.size["yard-distance"] * reach) for each in far
    )


def _line_reasons(tree: Tree, line: float | None, reach: float) -> list[Reason]:
    if line is None:
        return []
    text = (
        f"A power line is {line:.0f} ft away and the tree may be {reach:.0f} ft tall: the utility is called first, "
        "and only a line-clearance arborist fells it."
    )
    kilovolts = tree.near.line_kv
    people = people_approach_ft(kilovolts or 0.0)
    at = "up to 50 kV" if kilovolts is None else f"of {kilovolts:g} kV"
    near = f"Nobody else, with tool or tree, comes nearer than {people:.0f} ft to a line {at}"
    near += "." if kilovolts is None else f", and no machine nearer than {machine_approach_ft(kilovolts):.0f} ft."
    return [
        Reason("line-within-reach", text, "C", (), "ours"),
        Reason(
            "line-distance",
            near,
            "C",
            (cite("osha1910-269, line-clearance definition"), cite("osha1926-1408, table A")),
        ),
    ]


def _near_reasons(tree: Tree, near: tuple[str, ...], reach: float) -> list[Reason]:
    found = []
    for name in near:
        far = f"{getattr(tree.near, name):.0f} ft away"
        text = f"The {outside.PLACES[name]}, {far}, is within its {reach:.0f} ft of reach."
        found.append(_ours(f"{name}-within-reach", text))
    return found


def _hazard_reasons(tree: Tree) -> list[Reason]:
    return [
        _ours(f"hazard-{hazard}", f"{outside.HAZARDS[hazard]}: a professional takes it on.") for hazard in tree.hazards
    ]


def _closed(tree: Tree, season: Season, on: date) -> tuple[tuple[date, date], ...]:
    if tree.attacked != "never" and not draws_beetles(tree, season, on):
        return ()
    flights = [flight_year(season, year) for year in (on.year, on.year + 1)]
    return tuple((flight.onset, flight.end) for flight in flights)


def _open(closed: tuple[tuple[date, date], ...], on: date) -> tuple[tuple[date, date], ...] | None:
    """The days around the closed spans, from `on`; None when none is closed."""
    if not closed:
        return None
    starts = [on, *(last + DAY for _, last in closed)]
    ends = [*(first - DAY for first, _ in closed), date(9999, 12, 31)]
    return tuple((first, last) for first, last in zip(starts, ends, strict=True) if max(first, on) <= last)


def _cautions(tree: Tree, on: date, line: bool, dead_years: float) -> tuple[str, ...]:
    codes = ["felling", "saw-work"]
    dead = isinstance(tree.attacked, int) and on.year - tree.attacked >= dead_years
    if dead or "dead-top" in tree.hazards or "decay" in tree.hazards or (tree.found and tree.found.crown == "bare"):
        codes.append("dead-tree")
    if line:
        codes.append("lines")
    return tuple(codes)


def _ours(rule: str, because: str) -> Reason:
    return Reason(rule, because, "C", (), "ours")
