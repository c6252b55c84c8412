"""Board feet of a saw log, by the International 1/4-inch rule."""

from __future__ import annotations

import math

KERF = 0.905  # 1/8-inch rule to 1/4-inch rule [usfs-volume]
TAPER_IN = 0.5  # per section of 4 ft
SECTION_FT = 4
SMALLEST_IN = 4


def section_bf(diameter_in: float) -> float:
    """Board feet of a section of 4 ft from its small-end diameter inside bark [in], unrounded.

    Source: [usfs-volume] .905 (.22 D2 - .71 D).
    """
    return KERF * (0.22 * diameter_in**2 - 0.71 * diameter_in)


def international_bf(small_end_dib_in: float, length_ft: float) -> int:
    """Board feet of a log, to 5; taper is half an inch in 4 ft, what is left over counts at the small end.

    small_end_dib_in : inside bark [in], rounded to the whole inch; length_ft : whole feet count [ft].
    Valid from 4 in.  Source: [usfs-volume] International 1/4-inch.
    """
    diameter = math.floor(small_end_dib_in + 0.5)
    length = math.floor(length_ft + 1e-6)
    if diameter < SMALLEST_IN or length < SECTION_FT:
        return 0
    left = length % SECTION_FT / SECTION_FT * section_bf(diameter)
    whole = sum(section_bf(diameter + TAPER_IN * number) for number in range(length // SECTION_FT))
    return max(5, 5 * math.floor((whole + left) / 5 + 0.5))
