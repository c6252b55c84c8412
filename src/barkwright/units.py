"""Units: exact conversion factors, reading of numbers with units, and the one helper that rounds half up."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Literal

from barkwright.record import dataclass

CM_PER_IN = 2.54  # exact, international yard and pound agreement 1959
FT_PER_M = 1 / 0.3048
FT3_PER_YD3 = 27.0
FT3_PER_M3 = FT_PER_M**3
M2_PER_FT2 = 0.3048**2
KM_PER_MILE = 1.609344
LB_PER_TONNE = 1000 / 0.45359237
FT3_PER_CORD = 128.0  # stacked, NIST Handbook 130

Dimension = Literal[
    "length", "volume", "stacked wood", "weight", "share", "time", "voltage", "flow", "force", "basal area"
]

_IN3 = Fraction("0.0254") ** 3
_LB = Fraction("0.45359237")
# unit -> (dimension, size in the base unit of the dimension); all exact.
# Base: m, m3, cord, kg, %, h, kV, L/min, kN, m2/ha.
UNITS: dict[str, tuple[Dimension, Fraction]] = {
    "in": ("length", Fraction("0.0254")),
    "ft": ("length", Fraction("0.3048")),
    "yd": ("length", Fraction("0.9144")),
    "mi": ("length", Fraction("1609.344")),
    "mm": ("length", Fraction("0.001")),
    "cm": ("length", Fraction("0.01")),
    "m": ("length", Fraction(1)),
    "km": ("length", Fraction(1000)),
    "ft3": ("volume", 1728 * _IN3),
    "yd3": ("volume", 46656 * _IN3),
    "m3": ("volume", Fraction(1)),
    "cord": ("stacked wood", Fraction(1)),
    "lb": ("weight", _LB),
    "ton": ("weight", 2000 * _LB),  # short ton
    "kg": ("weight", Fraction(1)),
    "t": ("weight", Fraction(1000)),
    "%": ("share", Fraction(1)),
    "h": ("time", Fraction(1)),
    "min": ("time", Fraction(1, 60)),
    "kV": ("voltage", Fraction(1)),
    "V": ("voltage", Fraction(1, 1000)),
    "gal/min": ("flow", 231 * _IN3 * 1000),  # US gallon
    "L/min": ("flow", Fraction(1)),
    "kN": ("force", Fraction(1)),
    "tonf": ("force", 2000 * _LB * Fraction("9.80665") / 1000),
    "ft2/ac": ("basal area", Fraction(10000, 43560)),  # 43560 ft2 in an acre
    "m2/ha": ("basal area", Fraction(1)),
}
_SPELLINGS = {
    "in": "inch inches in. \" ″ ” '' ins",
    "ft": "foot feet ft. ' ′ ’",
    "yd": "yard yards yds",
    "mi": "mile miles",
    "mm": "millimeter millimeters millimetre millimetres",
    "cm": "centimeter centimeters centimetre centimetres",
    "m": "meter meters metre metres",
    "km": "kilometer kilometers kilometre kilometres",
    "ft3": "ft³ ft^3 cuft cu.ft. cubicfeet cubicfoot",
    "yd3": "yd³ yd^3 cuyd cu.yd. cuyds cubicyard cubicyards yards3",
    "m3": "m³ m^3 cubicmeter cubicmeters cubicmetre cubicmetres",
    "cord": "cords cd",
    "lb": "lbs pound pounds",
    "ton": "tons shortton shorttons",
    "kg": "kilogram kilograms kgs",
    "t": "tonne tonnes metricton metrictons",
    "%": "percent pct",
    "h": "hr hrs hour hours",
    "min": "minute minutes mins",
    "kV": "kilovolt kilovolts",
    "V": "volt volts",
    "gal/min": "gpm",
    "L/min": "lpm",
    "ft2/ac": "ft2/acre ft²/ac ft²/acre ft^2/ac sqft/ac sqft/acre sq.ft./ac sq.ft./acre",
    "m2/ha": "m²/ha m^2/ha sqm/ha",
}
_NAMES = {unit.casefold(): unit for unit in UNITS} | {
    spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings.split()
}
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_NUMBER = r"(?:\d+\s*[-\s]\s*\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+(?:\.\d*)?(?:[eE][-+]?\d\d?)?|\.\d+)"
_TERM = re.compile(
    rf"\s*([-+]?{_NUMBER})\s*([^\d\s.+-][^\d]*?(?:(?<=[dtmDTM])(?:3|2\s*/\s*[a-zA-Z]+))?|)\s*(?=$|[-+]?[\d.])"
)


@dataclass(frozen=True, slots=True)
class Amount:
    """A number as somebody wrote it, with its unit; unit None where none was written."""

    number: Fraction
    unit: str | None


class NoAmountError(ValueError):
    """Text that is no number with a unit; the message says why, in the words of a diagnostic."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


def half_up(value: float | Decimal, digits: int = 0) -> Decimal:
    """Round half away from zero, to `digits` decimals; what prints is what a person would round by hand."""
    return Decimal(str(value)).quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP)


def convert(number: Fraction | float, unit: str, to: str) -> float:
    """`number` in `unit`, in unit `to`, to nine decimals, so that 12.7 cm and 5 in are the same float.

    Raises ValueError when the two measure different things.
    """
    dimension, size = UNITS[unit]
    wanted, per = UNITS[to]
    if dimension != wanted:
        raise ValueError(f"{unit} measures {dimension}, {to} measures {wanted}")
    exact = number if isinstance(number, Fraction) else Fraction(repr(number))
    return round(float(exact * size / per), 9)


def parse_amount(text: str) -> Amount:
    """The amount in text like 16.5 in, 42 cm, 12' 6", 3-1/2 in, 6 yd3. Raises NoAmountError."""
    plain = text.strip().replace("\xa0", " ").replace("⁄", "/")
    for glyph, spelt in _FRACTIONS.items():
        plain = re.sub(rf"(?<=\d)\s*{glyph}", f" {spelt}", plain).replace(glyph, spelt)
    if len(plain) > 60:
        raise NoAmountError("is too long for a number", "write a number and a unit, like 16.5 in or 42 cm")
    _refuse_number(plain)
    terms = _terms(plain)
    first = terms[0]
    if len(terms) == 1:
        return first
    if [term.unit for term in terms] == ["ft", "in"] and 0 <= terms[1].number < 12:
        sign = -1 if plain.startswith("-") else 1
        return Amount(first.number + sign * terms[1].number / 12, "ft")
    raise NoAmountError("is not one number with one unit", "write it like 12.5 ft or 12' 6\"")


def _refuse_number(plain: str) -> None:
    if re.search(r"\d,\d{3}(?!\d)", plain):
        raise NoAmountError("has a comma in the number", f"write {plain.replace(',', '')}")
    if re.search(r"\d,\d", plain):
        raise NoAmountError("has a decimal comma", f"write {plain.replace(',', '.')}")
    if re.match(r"[-+]?0\d", plain):
        raise NoAmountError("starts with a zero", f"write {plain.lstrip('+-0') or '0'}")
    if re.search(r"\d:\d\d", plain):
        raise NoAmountError("looks like a clock", "write hours as a decimal, like 6.5")
    if re.search(r"\d_\d", plain):
        raise NoAmountError("has an underscore in the number", f"write {plain.replace('_', '')}")


def _terms(plain: str) -> list[Amount]:
    terms = []
    at = 0
    while at < len(plain):
        found = _TERM.match(plain, at)
        if not found:
            raise NoAmountError("is not a number with a unit", "write a number and a unit, like 16.5 in or 42 cm")
        name = re.sub(r"\s+", "", found.group(2)).casefold()
        unit = _NAMES.get(name) if name else None
        if name and unit is None:
            raise NoAmountError(f"has an unknown unit '{found.group(2).strip()}'", f"units: {', '.join(UNITS)}")
        terms.append(Amount(_number(found.group(1)), unit))
        at = found.end()
    if not terms:
        raise NoAmountError("is empty", "write a number and a unit, like 16.5 in or 42 cm")
    return terms


def _number(text: str) -> Fraction:
    sign = -1 if text.startswith("-") else 1
    body = text.lstrip("+-").strip()
    if "/" not in body:
        return sign * Fraction(body)
    *whole, top, bottom = (int(part) for part in re.findall(r"\d+", body))
    if bottom == 0:
        raise NoAmountError("divides by zero", "write the fraction anew")
    return sign * (Fraction(top, bottom) + sum(whole))
