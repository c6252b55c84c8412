"""Limits that rules and days are held against."""

from __future__ import annotations

from barkwright.figures import Figures
from barkwright.stem.pieces import Piece

LIMITS = Figures("treatment/limits.yaml")


def cure_days(piece: Piece) -> int:
    """Days that this wood lies before it burns well [days]; thicker wood takes longer. Common practice, no source."""
    small = piece.butt_dob_in <= LIMITS["cure_small_in"]
    return int(LIMITS["cure_small_days" if small else "cure_large_days"])
