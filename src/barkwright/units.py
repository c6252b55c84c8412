"""Units: exact conversion factors, and the one helper that rounds half up."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

CM_PER_IN = 2.54  # exact, international yard and pound agreement 1959
FT_PER_M = 1 / 0.3048
FT3_PER_YD3 = 27.0
FT3_PER_CORD = 128.0  # stacked, NIST Handbook 130


def half_up(value: float | Decimal, digits: int = 0) -> Decimal:
    """Round half away from zero, to `digits` decimals; what prints is what a person would round by hand."""
    return Decimal(str(value)).quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP)
