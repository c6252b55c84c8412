"""What is still believed of a weather file, and how much of it is read."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright import datafile
from barkwright.record import dataclass

Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Possible:
    """Lowest and highest reading of a day that is believed."""

    temperature_c: Range
    precip_mm: Range
    snow_cm: Range
    wind_kmh: Range
    rh_pct: Range


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of `data/season/weather_limits.yaml`, which says what each is."""

    checked_on: date
    basis: Literal["ours"]
    most_files: int
    most_bytes: int
    most_bytes_in_all: int
    most_lines_in_all: int
    most_faulty_share: float
    shown_per_kind: int
    shown_dates: int
    possible: Possible
    jump_c: float
    odd_jump_c: float
    partial_range_c: float
    stuck_days: int
    reversed_share: float
    gap_days: int
    shown_gaps: int
    summer: tuple[str, str]
    thin_summer_share: float
    monthly_tmax_c: tuple[Range, ...]
    month_days: int
    daily_range_c: Range
    tenths_daily_range_c: float
    outside_share: float


def limits() -> Limits:
    """The limits, read once."""
    return datafile.load("season/weather_limits.yaml", Limits)
