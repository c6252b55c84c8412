"""What is wrong with a tree that makes it dangerous, in plain words, and the lines near it with their distances."""

from __future__ import annotations

import math
from functools import cache
from typing import TYPE_CHECKING

from barkwright.datafile import load
from barkwright.output.advice import Basis
from barkwright.output.words import listing
from barkwright.record import dataclass
from barkwright.sources import cite
from barkwright.treatment.approach import machine_approach_ft, people_approach_ft, taken_kilovolts
from barkwright.treatment.outside import PLACES
from barkwright.treatment.shop import shop_of
from barkwright.units import FT_PER_M

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree
    from barkwright.output.view import View

LINES = {
    "service-drop": "service drop to a house", "distribution": "distribution line", "transmission": "transmission line",
    "communication": "communication line", "unknown": "kind not given",
}  # fmt: skip
DEAD_CROWNS = ("dropping", "bare")


@dataclass(frozen=True, slots=True)
class TreeHazard:
    """One kind of hazard: a name for lists of trees, and what it means for the work."""

    name: str
    means: str
    basis: Basis
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LineNear:
    """A power line near a tree, the voltage it is taken as, and how near people and machines may come [ft]."""

    tree: str
    kind: str
    distance_ft: float
    given_kv: float | None
    taken_kv: float
    people_ft: float
    machines_ft: float


@cache
def known_hazards() -> dict[str, TreeHazard]:
    """Every kind of hazard by its code."""
    return load("output/hazards.yaml", dict[str, TreeHazard])


def hazards_of(view: View, tree: Tree) -> tuple[str, ...]:
    """Codes of what is dangerous about a tree: what the user wrote, and what its state says."""
    codes: list[str] = list(tree.hazards)
    if tree.status == "windthrown":
        codes.append("root-plate")
    if killed(view, tree):
        codes.append("beetle-killed")
    return tuple(dict.fromkeys(codes))


def killed(view: View, tree: Tree) -> bool:
    """Does it stand dead or dying, by its crown or by the years since the attack?"""
    crown = tree.found.crown if tree.found else None
    years = shop_of(view.plan.inventory).size["dead-after"]
    long_ago = isinstance(tree.attacked, int) and view.plan.on.year - tree.attacked >= years
    return tree.status == "standing" and (crown in DEAD_CROWNS or long_ago)


def say_hazards(view: View, tree: Tree) -> str:
    """What the hazards of a tree mean for the work; empty where it has none."""
    codes = hazards_of(view, tree)
    for code in codes:
        found = known_hazards()[code]
        view.cited.extend(cite(source) for source in found.sources)
        view.bases[f"tree-{code}"] = found.basis
    felling = view.plan.fellings.get(tree.id)
    handed = felling is not None and felling.who == "professional" and bool(tree.hazards)
    said = [known_hazards()[code].means for code in codes]
    return " ".join([*said, *(["A professional takes it on."] if handed else [])])


def lines_near(view: View) -> tuple[LineNear, ...]:
    """The lines whose distance somebody measured, by tree, where work is planned or the tree stands."""
    return tuple(line for tree in view.trees.values() if (line := line_near(view, tree)) is not None)


def line_near(view: View, tree: Tree) -> LineNear | None:
    """The line near one tree, if somebody measured how far it is and the tree stands or has work."""
    near = tree.near
    if not isinstance(near.line, float | int) or (tree.status != "standing" and tree.id not in view.jobs_of):
        return None
    taken = taken_kilovolts(near.line_kind, near.line_kv)
    return LineNear(
        tree.id, near.line_kind, float(near.line), near.line_kv, taken,
        people_approach_ft(taken), machine_approach_ft(taken),
    )  # fmt: skip


def line_words(line: LineNear) -> str:
    """What kind of line it is, and of what voltage: as given, or what it is taken as."""
    if line.given_kv is not None:
        return f"{LINES[line.kind]}, {line.given_kv:g} kV"
    taken = f"taken as up to {line.taken_kv:,.0f} kV, our choice"
    return f"{LINES[line.kind]}, voltage not given: ask the utility; {taken}"


def keep_off(view: View, line: LineNear, people: str = "", machines: str = "") -> str:
    """The two distances of a line, with their paragraphs: people and tools 10 ft (3.1 m), machines 15 ft (4.6 m)."""
    by_people, by_machines = both(view, line.people_ft, 1), both(view, line.machines_ft, 1)
    return f"people, tools and limbs {by_people}{people}, machines {by_machines}{machines}"


def both(view: View, feet: float, digits: int = 0) -> str:
    """A distance to keep in both units, the reader's first, never rounded down: 144 ft (44 m)."""
    in_feet, in_metres = (f"{_up(value, digits)} {unit}" for value, unit in ((feet, "ft"), (feet / FT_PER_M, "m")))
    return f"{in_metres} ({in_feet})" if view.units.metric else f"{in_feet} ({in_metres})"


def _up(value: float, digits: int) -> str:
    step = 10**digits
    return f"{math.ceil(round(value * step, 6)) / step:,g}"


def places_near(view: View, tree: Tree) -> str:
    """What was measured and stands out of its reach; the felling says what is within it."""
    felling = view.plan.fellings.get(tree.id)
    if felling is None or felling.reach_ft is None:
        return ""
    far = [
        f"{PLACES[name]} {view.units.feet(value)}"
        for name in PLACES
        if name != "line" and isinstance(value := getattr(tree.near, name), float | int) and value > felling.reach_ft
    ]
    return f"{listing(far)[0].upper()}{listing(far)[1:]} away, farther than it can fall." if far else ""
