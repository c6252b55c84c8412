"""What a tree comes apart into: logs from the butt up, stump, top and limbs, each with its size and weight."""

from __future__ import annotations

from typing import Literal

from barkwright.diagnostics import Diagnostic
from barkwright.record import dataclass
from barkwright.spread import Spread

PieceKind = Literal["log", "stump", "top", "limbs"]


@dataclass(frozen=True, slots=True)
class CutPoint:
    """Where a stem grows thinner than a machine takes all day; below it the wood is quartered or sent elsewhere."""

    equipment: str  # kind, as in the inventory
    capacity_in: float  # the working capacity [in], outside bark
    height_ft: float  # above ground, or above the butt end of a measured log [ft]
    short_butt_ft: float  # length of this piece that is too thick [ft]; 0 = all fits, length_ft = none fits


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a tree. Units end each name: inches, feet, ft2, ft3, pounds, cords, loose yd3."""

    id: str  # T3/1, T3/stump, T3/top, T3/limbs
    tree: str
    kind: PieceKind
    number: int  # logs from the butt, 1 = butt log; 0 for the others
    from_ft: float  # height of the lower end above ground [ft]; for measured logs, above the butt of the first log
    length_ft: float  # limbs: 0
    butt_dob_in: float  # limbs: 0
    top_dob_in: float
    butt_dib_in: float
    top_dib_in: float
    wood_ft3: float  # solid wood inside bark
    bark_ft3: float  # solid bark
    bark_ft2: float  # outer bark surface that can be stripped
    green_lb: float  # planning weight with bark (limbs: with foliage)
    lift_lb: float  # weight to lift or haul by: the safe high value
    foliage_lb: float  # dry; limbs only, 0 for bare crowns
    cords: float
    chips_yd3: float  # loose chips, bark chipped along
    measured: bool  # ends as the user measured them, not from the stem model
    cut_points: tuple[CutPoint, ...] = ()


@dataclass(frozen=True, slots=True)
class TreeStem:
    """One tree cut up on paper."""

    tree: str
    dbh_in: float | None
    height_ft: Spread | None  # a measured height has low = likely = high
    height_estimated: bool
    pieces: tuple[Piece, ...]  # stump, logs from the butt, top, limbs
    notes: tuple[Diagnostic, ...]  # outside-range, estimated and the like, subject = tree or piece id
    basis: tuple[str, ...]  # citations "key, locator" of the equations used, for `why`
    local: tuple[str, ...] = ()  # what of it rests on the user's own figures
