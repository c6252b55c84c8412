"""Board feet of a saw log, by the International 1/4-inch rule and by Scribner Decimal C."""

from __future__ import annotations

import math
from functools import cache

from barkwright.datafile import rows

KERF = 0.905  # 1/8-inch rule to 1/4-inch rule [usfs-volume]
TAPER_IN = 0.5  # per section of 4 ft
SECTION_FT = 4
SMALLEST_IN = 4
SHORT_FT = 15  # Scribner factors of the thinner logs are others above it
SCRIBNER_LARGEST_IN, SCRIBNER_LONGEST_FT = 40, 20


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


def scribner_bf(small_end_dib_in: float, length_ft: float) -> int:
    """Board feet of a log by Scribner Decimal C, in tens.

    small_end_dib_in : inside bark [in], rounded to the whole inch; length_ft : whole feet count [ft].
    Returns: board feet; 0 for a log below 4 in or 4 ft.
    Valid: 4 to 40 in, up to 20 ft.
    Error: ValueError above 40 in or 20 ft: longer logs are scaled in segments.
    Source: [usfs-volume] int((L F + 5) / 10) with the listed exceptions of one ten more or less.
    Differs: an old reprint gives 5 bf for 6 in by 8 ft; the rule in force gives 10.
    """
    diameter = math.floor(small_end_dib_in + 0.5)
    length = math.floor(length_ft + 1e-6)
    if diameter < SMALLEST_IN or length < SECTION_FT:
        return 0
    if diameter > SCRIBNER_LARGEST_IN or length > SCRIBNER_LONGEST_FT:
        raise ValueError(f"Scribner Decimal C is held up to 40 in and 20 ft, not {diameter} in by {length} ft")
    factor = _factors()[diameter][length > SHORT_FT]
    tens = math.floor((length * factor + 5) / 10 + 1e-9) + _exceptions().get((diameter, length), 0)
    return 10 * tens


@cache
def _factors() -> dict[int, tuple[float, float]]:
    table = rows("treatment/scribner_factors.csv")
    return {int(row["dib_in"]): (float(row["to_15_ft"]), float(row["to_31_ft"])) for row in table}


@cache
def _exceptions() -> dict[tuple[int, int], int]:
    table = rows("treatment/scribner_exceptions.csv")
    return {(int(row["dib_in"]), int(row["length_ft"])): int(row["more"]) for row in table}
