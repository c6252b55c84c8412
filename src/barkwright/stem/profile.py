"""The shape of one stem: diameter at every height, its inverse, and what lies between two heights."""

from __future__ import annotations

import math

from barkwright.record import dataclass
from barkwright.stem import nsvb, stump
from barkwright.stem.stump import BREAST_HEIGHT_FT
from barkwright.stem.tables import Row, coefficient_row, factor


@dataclass(frozen=True, slots=True)
class Profile:
    """One stem as the equations draw it, from the ground to its tip or break.

    Above breast height: [westfall2024] eq. 7, times one factor that makes it pass through the measured diameter at
    breast height. Below: [raile1982], which meets it there; under the flare floor the diameter is held. So the
    diameter falls all the way up. Volumes are the report's own, not those of the drawn shape.
    """

    dbh_in: float
    height_ft: float  # unbroken
    end_ft: float  # tip, or the break
    wood_ft3: float  # S1, unbroken
    bark_ft3: float  # S2, unbroken
    bark_lb: float  # S6, dry, unbroken
    outer_ft3: float  # S3: only for the taper
    outer: Row  # S4
    inner: Row  # S5
    anchor: float  # measured dbh over the dbh of eq. 7
    inside: float  # dib over dob
    flare_b: float
    floor_ft: float

    def dob_in(self, height_ft: float) -> float:
        """Diameter outside bark at a height above ground [ft], 0 to the tip. [in]"""
        if height_ft < BREAST_HEIGHT_FT:
            return stump.stump_dob_in(self.dbh_in, max(height_ft, self.floor_ft), self.flare_b)
        return self.anchor * nsvb.diameter_in(
            height_ft, self.height_ft, self.outer_ft3, self.outer.alpha, self.outer.beta
        )

    def height_of_ft(self, dob_in: float) -> float:
        """Height above ground at which the stem has tapered to a diameter outside bark [in]; to 1e-9 ft.

        0 when it is thinner everywhere, the break when it is thicker there.
        """
        if dob_in >= self.dbh_in:
            height = stump.height_of_stump_dob_ft(dob_in, self.dbh_in, self.flare_b)
            return min(height, self.end_ft) if height >= self.floor_ft else 0.0
        height = nsvb.height_to_top_ft(
            dob_in / self.anchor, self.height_ft, self.outer_ft3, self.outer.alpha, self.outer.beta
        )
        return min(max(height, BREAST_HEIGHT_FT), self.end_ft)

    def share(self, from_ft: float, to_ft: float) -> float:
        """Share of the unbroken tree's wood, and of its bark, between two heights [ft]: the S5 ratio for both."""
        alpha, beta, total = self.inner.alpha, self.inner.beta, self.height_ft
        return nsvb.share_below(to_ft, total, alpha, beta) - nsvb.share_below(from_ft, total, alpha, beta)

    def bark_area_ft2(self, from_ft: float, to_ft: float) -> float:
        """Outer surface between two heights [ft]: circumference summed over the length. [ft2]"""
        low_end, high_start = min(to_ft, BREAST_HEIGHT_FT), max(from_ft, BREAST_HEIGHT_FT)
        summed = 0.0  # in x ft
        if from_ft < low_end:
            summed += self._flare_sum(low_end) - self._flare_sum(from_ft)
        if high_start < to_ft:
            middle = self.dob_in((high_start + to_ft) / 2)
            summed += (self.dob_in(high_start) + 4 * middle + self.dob_in(to_ft)) / 6 * (to_ft - high_start)
        return math.pi / 12 * summed

    def _flare_sum(self, height_ft: float) -> float:
        floor = self.floor_ft
        if height_ft <= floor:
            return self.dob_in(floor) * height_ft
        grown = math.log((height_ft + 1) / (floor + 1)) * (BREAST_HEIGHT_FT + 1) - (height_ft - floor)
        return self.dob_in(floor) * floor + self.dbh_in * (height_ft - floor + self.flare_b * grown)


def profile(spcd: int, division: str | None, dbh_in: float, height_ft: float, end_ft: float | None = None) -> Profile:
    """The profile of a tree.

    spcd : int                Federal species code, 90 to 98.
    division : str | None     Ecodivision; None: the species row.
    dbh_in : float            Diameter outside bark at breast height. [in]
    height_ft : float         Total height, unbroken, over 4.5. [ft]
    end_ft : float | None     Height of a break. [ft]
    Raises ValueError for a tree not taller than breast height.
    """
    if height_ft <= BREAST_HEIGHT_FT:
        raise ValueError(
            f"a tree with a diameter at breast height is taller than {BREAST_HEIGHT_FT} ft, not {height_ft}"
        )
    outer_ft3 = coefficient_row("S3", spcd, division).total(dbh_in, height_ft)
    outer = coefficient_row("S4", spcd, division)
    wood_ft3 = coefficient_row("S1", spcd, division).total(dbh_in, height_ft)
    bark_ft3 = coefficient_row("S2", spcd, division).total(dbh_in, height_ft)
    drawn_in = nsvb.diameter_in(BREAST_HEIGHT_FT, height_ft, outer_ft3, outer.alpha, outer.beta)
    return Profile(
        dbh_in=dbh_in,
        height_ft=height_ft,
        end_ft=height_ft if end_ft is None else min(end_ft, height_ft),
        wood_ft3=wood_ft3,
        bark_ft3=bark_ft3,
        bark_lb=coefficient_row("S6", spcd, division).total(dbh_in, height_ft),
        outer_ft3=outer_ft3,
        outer=outer,
        inner=coefficient_row("S5", spcd, division),
        anchor=dbh_in / drawn_in,
        inside=math.sqrt(wood_ft3 / (wood_ft3 + bark_ft3)),
        flare_b=factor("stump-flare-b"),
        floor_ft=factor("flare-floor"),
    )
