"""Hours of each thing that a way has done, a function per word of the ways' vocabulary (`do`)."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from barkwright.inventory.model import Destination
from barkwright.stem.pieces import Piece
from barkwright.treatment.chipping import chip_minutes
from barkwright.treatment.crews import SAW_PEOPLE
from barkwright.treatment.lifting import LOAD_CONSTANT_LB
from barkwright.treatment.parts import Part
from barkwright.treatment.rates import Triple
from barkwright.treatment.shop import Shop, plus
from barkwright.units import LB_PER_TONNE, M2_PER_FT2

TOOL_WORDS = {
    "drawknife": "drawknife", "bark-spud": "spud", "saw-debarker": "debarker on the saw", "maul": "maul",
    "splitter": "splitter", "excavator": "excavator", "backhoe": "backhoe", "truck": "truck", "trailer": "trailer",
    "chip-truck": "chip truck",
}  # fmt: skip
SAW = ("saw",)


def said(amount: float) -> str:
    """An amount as a sentence shows it: whole from 10 up, one decimal below."""
    return f"{amount:.0f}" if amount >= 9.95 else f"{amount:.1f}"


class Job(NamedTuple):
    """A part of a piece to be worked on: where, with what, in which state."""

    shop: Shop
    piece: Piece
    part: Part
    tool: str | None
    bark: str  # slipping dormant frozen loosened dried
    cured: bool  # the wood waited to cure before this step
    end: Destination | None = None  # where it is hauled to


class Effort(NamedTuple):
    """On-site hours that everybody on the task is there for, the fewest people, and what it occupies."""

    what: str
    elapsed: Triple
    people: int = 1
    equipment: tuple[str, ...] = ()
    skills: tuple[str, ...] = ()


def _cut_free_butt(job: Job) -> Effort | None:
    part = job.part
    if part.length_ft >= job.piece.length_ft:
        return None  # the whole piece is too thick: there is nothing to cut it from
    hours = job.shop.saw_hours(job.shop.cut_minutes(1, part.top_dob_in))
    return Effort(
        f"cut off the thick butt, {part.length_ft:.1f} ft from its lower end", hours, SAW_PEOPLE, ("chain-saw",), SAW
    )


def _quarter(job: Job) -> Effort:
    shop, part = job.shop, job.part
    rip = shop.rate["rip-face"]
    face = 2 * part.mean_dob_in / 12 * part.length_ft
    lengths = max(1, math.ceil(part.length_ft / shop.size["short-length"]))
    minutes = plus((face / rip[2], face / rip[1], face / rip[0]), shop.cut_minutes(lengths - 1, part.mean_dob_in))
    return Effort(
        f"saw {part.length_ft:.1f} ft of thick butt lengthwise into quarters",
        shop.saw_hours(minutes),
        SAW_PEOPLE,
        ("chain-saw",),
        SAW,
    )


def _chip(job: Job) -> Effort:
    shop, part = job.shop, job.part
    share = shop.rate["chipper-share"]
    drag = shop.rate["chip-drag"]
    equipment: tuple[str, ...] = ("chipper",)
    cut_hours: Triple = (0.0, 0.0, 0.0)
    if job.piece.kind == "limbs":
        pieces = max(1, math.ceil(part.green_lb / shop.rate["limb-bundle"][1]))
        what = f"chip the limbs, about {part.green_lb:.0f} lb, butt ends first"
        drag = shop.rate["limb-drag"]
    else:
        pieces = max(1, math.ceil(part.lift_lb / (LOAD_CONSTANT_LB * shop.size["lift-people"]))) if shop.hand_fed else 1
        what = f"chip {part.length_ft:.1f} ft of wood"
        if pieces > 1 and not shop.saw_crew:
            pieces = 1
            what += ", too heavy to lift: have it cut short when the tree comes down"
        elif pieces > 1:
            equipment = ("chipper", "chain-saw")
            cut_hours = shop.saw_hours(shop.cut_minutes(pieces - 1, part.mean_dob_in))
            what += f", cut into {pieces} pieces that two people can lift"
    tonnes = part.green_lb / LB_PER_TONNE
    minutes = chip_minutes(tonnes, pieces, shop.chipper_kw)
    elapsed = plus(
        (minutes / 60 / share[2], minutes / 60 / share[1], minutes / 60 / share[0]),
        (pieces * drag[0] / 60, pieces * drag[1] / 60, pieces * drag[2] / 60),
        cut_hours,
    )
    machine = shop.machines.get("chipper")
    people = 1 if machine is not None and machine.with_operator else 2
    return Effort(what, elapsed, people, equipment, SAW if len(equipment) > 1 else ())


def _limb_flush(job: Job) -> Effort | None:
    shop, part = job.shop, job.part
    if job.piece.kind != "log":
        return None
    density, cut = shop.rate["stub-density"], shop.rate["stub-cut"]
    minutes = (
        part.length_ft * density[0] * cut[0],
        part.length_ft * density[1] * cut[1],
        part.length_ft * density[2] * cut[2],
    )
    if shop.saw_crew:
        return Effort(
            "saw the limb stubs flush with the wood", shop.saw_hours(minutes), SAW_PEOPLE, ("chain-saw",), SAW
        )
    slow, share = shop.rate["stub-axe-factor"], shop.hand_share
    hours = (
        minutes[0] * slow[0] / 60 / share[2],
        minutes[1] * slow[1] / 60 / share[1],
        minutes[2] * slow[2] / 60 / share[0],
    )
    return Effort("cut the limb stubs flush with the wood, with an axe", hours)


def peel_rate(shop: Shop, tool: str | None, bark: str) -> Triple:
    """Bark stripped per person and productive hour [m2], with a tool, in a bark condition."""
    if tool == "saw-debarker":
        hand, factor = (
            shop.rate["peel-dormant"],
            shop.rate["saw-debarker"],
        )  # bark condition matters little to the cutter
    else:
        hand = shop.rate[f"peel-{bark}"]
        if tool != "bark-spud":
            return hand
        factor = shop.rate["spud-easy" if bark in ("slipping", "loosened") else "spud-tight"]
    return hand[0] * factor[0], hand[1] * factor[1], hand[2] * factor[2]


def _strip(job: Job, speed: Triple, what: str) -> Effort:
    shop, part = job.shop, job.part
    m2 = part.bark_ft2 * M2_PER_FT2
    turn = shop.rate["turn-log"] if job.piece.kind == "log" else (0.0, 0.0, 0.0)
    powered = job.tool == "saw-debarker"
    share = shop.saw_share if powered else shop.hand_share
    hours = (
        (m2 / speed[2] + turn[0] / 60) / share[2],
        (m2 / speed[1] + turn[1] / 60) / share[1],
        (m2 / speed[0] + turn[2] / 60) / share[0],
    )
    if powered:
        return Effort(what, hours, SAW_PEOPLE, ("saw-debarker", "chain-saw"), SAW)
    return Effort(what, hours, 1, (job.tool,) if job.tool else ())


def _peel(job: Job) -> Effort:
    speed = peel_rate(job.shop, job.tool, job.bark)
    return _strip(
        job, speed, f"strip {said(job.part.bark_ft2)} ft2 of bark with the {TOOL_WORDS[job.tool or 'drawknife']}"
    )


def _peel_stump(job: Job) -> Effort:
    speed, slow = peel_rate(job.shop, job.tool, job.bark), job.shop.rate["stump-peel-factor"]
    tool = TOOL_WORDS[job.tool or "drawknife"]
    what = f"strip {said(job.part.bark_ft2)} ft2 of bark off the stump with the {tool}, down to the root collar"
    return _strip(job, (speed[0] * slow[0], speed[1] * slow[1], speed[2] * slow[2]), what)


def _score(job: Job) -> Effort:
    speed, fast = peel_rate(job.shop, "saw-debarker", job.bark), job.shop.rate["score-factor"]
    what = f"cut grooves all round through {said(job.part.bark_ft2)} ft2 of bark"
    return _strip(job, (speed[0] * fast[0], speed[1] * fast[1], speed[2] * fast[2]), what)


def _buck(job: Job, length_ft: float, words: str) -> Effort | None:
    lengths = math.ceil(job.part.length_ft / length_ft - 0.01)
    if lengths < 2:
        return None
    hours = job.shop.saw_hours(job.shop.cut_minutes(lengths - 1, job.part.mean_dob_in))
    return Effort(f"cut it into {lengths} {words}", hours, SAW_PEOPLE, ("chain-saw",), SAW)


def _buck_short(job: Job) -> Effort | None:
    length = job.shop.size["short-length"]
    return _buck(job, length, f"lengths of about {length:.0f} ft")


def _buck_fuel(job: Job) -> Effort | None:
    inches = job.shop.inventory.cutting.fuel_length_in
    return _buck(job, inches / 12, f"rounds of about {inches:.0f} in")


def _split(job: Job) -> Effort:
    hours = job.shop.hand_time(job.part.cords, "split-splitter" if job.tool == "splitter" else "split-maul")
    tool = job.tool or "maul"
    return Effort(f"split {job.part.cords:.2f} cords with the {TOOL_WORDS[tool]}", hours, 1, (tool,))


def _stack(job: Job) -> Effort:
    return Effort(
        f"stack {job.part.cords:.2f} cords loose, in one row, off the ground",
        job.shop.hand_time(job.part.cords, "stack"),
    )


def _stove(job: Job) -> Effort:
    return Effort(
        f"burn {job.part.cords:.2f} cords in the stove, carrying in only the day's wood",
        job.shop.hand_time(job.part.cords, "stove"),
    )


WOODWORK: Mapping[str, Callable[[Job], Effort | None]] = MappingProxyType(
    {
        "cut-free-butt": _cut_free_butt,
        "quarter": _quarter,
        "chip": _chip,
        "limb-flush": _limb_flush,
        "peel": _peel,
        "peel-stump": _peel_stump,
        "score": _score,
        "buck-short": _buck_short,
        "buck-fuel": _buck_fuel,
        "split": _split,
        "stack": _stack,
        "stove": _stove,
    }
)
"""Sawing, stripping, chipping, splitting; None where there is nothing to do."""


def operator(job: Job) -> tuple[str, ...]:
    """Skills that running the job's machine takes of the crew."""
    return job.shop.operator_skills(job.tool) if job.tool else ()
