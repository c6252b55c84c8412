"""Part of a piece: the thick butt a chipper refuses, the rest that it takes, or the whole."""

from __future__ import annotations

from typing import NamedTuple

from barkwright.stem.pieces import Piece
from barkwright.treatment.chippers import Chipper, short_butt_ft
from barkwright.treatment.ways import Part as PartName


class Part(NamedTuple):
    """Sizes of a part of a piece. Units end each name."""

    length_ft: float
    butt_dob_in: float
    top_dob_in: float
    wood_ft3: float
    bark_ft3: float
    bark_ft2: float
    green_lb: float
    lift_lb: float
    cords: float
    chips_yd3: float

    @property
    def mean_dob_in(self) -> float:
        """Mean of both end diameters outside bark [in]."""
        return (self.butt_dob_in + self.top_dob_in) / 2


def part_of(piece: Piece, name: PartName, chipper: Chipper | None) -> Part:
    """The named part; volumes and weights by the frustum's share, areas by the cone's. Bark: the whole piece's."""
    short = 0.0 if name in ("whole", "bark") or chipper is None else short_butt_ft(piece, chipper)
    if name in ("whole", "bark") or (name == "butt" and short >= piece.length_ft) or (name == "thin" and short <= 0):
        return Part(
            piece.length_ft, piece.butt_dob_in, piece.top_dob_in, piece.wood_ft3, piece.bark_ft3, piece.bark_ft2,
            piece.green_lb, piece.lift_lb, piece.cords, piece.chips_yd3,
        )  # fmt: skip
    butt, top, length = piece.butt_dob_in, piece.top_dob_in, piece.length_ft
    cut = butt + (top - butt) * min(short, length) / length
    wood = short * (butt * butt + butt * cut + cut * cut) / (length * (butt * butt + butt * top + top * top))
    skin = short * (butt + cut) / (length * (butt + top))
    ends = (short, butt, cut)
    if name == "thin":
        wood, skin, ends = 1 - wood, 1 - skin, (length - short, cut, top)
    return Part(
        *ends, piece.wood_ft3 * wood, piece.bark_ft3 * skin, piece.bark_ft2 * skin, piece.green_lb * wood,
        piece.lift_lb * wood, piece.cords * wood, piece.chips_yd3 * wood,
    )  # fmt: skip
