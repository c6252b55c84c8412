"""How near a power line people and machines may come."""

from __future__ import annotations

import math
from typing import Literal

LineKind = Literal["service-drop", "distribution", "transmission", "communication", "unknown"]
LOW_KV = 50.0  # ours: what a line along a street or to a house is taken as where nobody gave its voltage
LIFTING_GEAR_FT = ((50, 10), (200, 15), (350, 20), (500, 25), (750, 35), (1000, 45))  # [osha1926-1408] Table A: kV, ft


def people_approach_ft(kilovolts: float) -> float:
    """Nearest approach [ft] of anyone who is not line-qualified: 10 ft to 50 kV, 4 in more for each 10 kV above.

    kilovolts : line voltage to ground [kV], 0 or more.  Differs: every started 10 kV counts, our choice, the safer one.
    Source: [osha1910-269] line-clearance definition.
    """
    return 10 + 4 / 12 * math.ceil(max(0.0, kilovolts - 50) / 10)


def machine_approach_ft(kilovolts: float) -> float:
    """Nearest approach [ft] of lifting gear, excavators and trucks.  kilovolts : up to 1000 [kV].

    Beyond 1000 kV the last row holds, or the distance of people where that is larger.  Source: [osha1926-1408] Table A.
    """
    row = next((feet for up_to, feet in LIFTING_GEAR_FT if kilovolts <= up_to), LIFTING_GEAR_FT[-1][1])
    return max(float(row), people_approach_ft(kilovolts))


def taken_kilovolts(kind: LineKind, kilovolts: float | None) -> float:
    """Voltage that a line is taken as [kV]: as given; else 50 kV for lines along streets and to houses, the most
    that the table of machines holds for a transmission line or one that nobody named.  Ours, the safer one.
    """
    if kilovolts is not None:
        return kilovolts
    return float(LIFTING_GEAR_FT[-1][0]) if kind in ("transmission", "unknown") else LOW_KV
