"""Other people's equations for the same trees, as cross-checks. Each is proven on its own published values first."""

from __future__ import annotations

import csv
import math
from pathlib import Path

PUBLISHED = Path(__file__).parents[2] / "shared" / "published"


def table(name: str) -> list[dict[str, str]]:
    lines = (PUBLISHED / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


ZONES = {
    row["BEC"]: {key: float(row[key]) for key in row if key != "BEC"} for row in table("bc-taper-coefficients.csv")
}


def kozak_dib_cm(zone: str, dbh_cm: float, height_m: float, at_m: float) -> float:
    """[bc-taper], form of Kozak 2002; 0 within 0.1 m of the tip."""
    if at_m > height_m - 0.1:
        return 0.0
    b = ZONES[zone]
    z, p = at_m / height_m, 1.3 / height_m
    q = 1 - z ** (1 / 3)
    x = q / (1 - p ** (1 / 3))
    power = (
        b["B4"] * z**4
        + b["B5"] / math.exp(dbh_cm / height_m)
        + b["B6"] * x**0.1
        + b["B7"] / dbh_cm
        + b["B8"] * height_m**q
        + b["B9"] * x
    )
    return b["ERR"] * b["B1"] * dbh_cm ** b["B2"] * height_m ** b["B3"] * x**power


def kozak_stem_m3(zone: str, dbh_cm: float, height_m: float) -> float:
    """[bc-taper], 0 to 0.3 m as a cylinder, then slices of 0.1 m between the mean of their end areas."""
    at_breast = kozak_dib_cm(zone, dbh_cm, height_m, 1.3)

    def area_m2(at_m: float) -> float:
        dib = kozak_dib_cm(zone, dbh_cm, height_m, at_m)
        return math.pi / 40000 * (max(dib, at_breast) if at_m < 1.3 else dib) ** 2

    total, at = 0.3 * area_m2(0.3), 0.3
    while at < height_m - 1e-9:
        top = min(at + 0.1, height_m)
        total += (area_m2(at) + area_m2(top)) / 2 * (top - at)
        at = top
    return total


def honer1967_white_ft3(dbh_in: float, height_ft: float) -> float:
    """Honer 1967, FMR-X-5: wood of the whole stem of white spruce."""
    return dbh_in**2 / (1.440 + 342.175 / height_ft)


def honer1983_white_m3(dbh_cm: float, height_m: float) -> float:
    """[honer1983], white spruce, whole stem."""
    return 0.0043891 * dbh_cm**2 * (1 - 0.04365 * 0.176) ** 2 / (1.44 + 0.3048 * 342.175 / height_m)


def gregory_haack_white_ft3(dbh_in: float, height_ft: float) -> float:
    """Gregory and Haack 1964, NOR-6: white spruce of the interior of Alaska, whole stem."""
    return -1.1843 + 0.205 * dbh_in + 0.01639 * height_ft + 0.00187 * dbh_in**2 * height_ft


def smalian_ft3(butt_in: float, top_in: float, length_ft: float) -> float:
    """[larsen-logs] the mean of the end areas times the length."""
    return math.pi / 576 * (butt_in**2 + top_in**2) / 2 * length_ft


def neiloid_ft3(butt_in: float, top_in: float, length_ft: float) -> float:
    """[larsen-logs] the log as a cut neiloid."""
    a, b = (math.pi / 576 * d * d for d in (butt_in, top_in))
    return length_ft * (a + (a * a * b) ** (1 / 3) + (a * b * b) ** (1 / 3) + b) / 4
