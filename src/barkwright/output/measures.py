"""Sizes, areas, volumes and weights in the reader's units.

Inside, wood is in inches, feet and pounds; here, and nowhere before, it becomes what the reader asked for.
"""

from __future__ import annotations

import math
import re

from barkwright.output.words import number
from barkwright.record import dataclass
from barkwright.units import CM_PER_IN, FT3_PER_CORD, FT_PER_M, half_up

KG_PER_LB = 0.45359237  # exact, international yard and pound agreement 1959
M3_PER_FT3 = 0.3048**3  # exact
M3_PER_CORD = FT3_PER_CORD * M3_PER_FT3
M3_PER_YD3 = 27 * M3_PER_FT3
_AMOUNT = re.compile(
    r"(?<![\w.,/-])(?P<low>\d+(?:,\d{3})*(?:\.\d+)?)(?:(?P<to> to | by |-)(?P<high>\d+(?:,\d{3})*(?:\.\d+)?))? "
    r"(?P<unit>cu ft|cu yd|sq ft|cords?|inch(?:es)?|in|feet|foot|ft|pounds?|lb|miles?|yd3|ft2|ft3)\b"
    r"(?! (?:(?:the|a|an)\b|[A-Z]))"
)
_SIGN = re.compile(r"(?<=\d )(ft2|ft3|yd3)\b")
_SPOKEN = {"ft2": "sq ft", "ft3": "cu ft", "yd3": "cu yd"}
_METRIC = {
    unit: conversion
    for units, conversion in {
        ("in", "inch", "inches"): (CM_PER_IN, "cm", 0),
        ("ft", "foot", "feet"): (1 / FT_PER_M, "m", 1),
        ("sq ft", "ft2"): (0.3048**2, "m2", 1),
        ("cu ft", "ft3"): (M3_PER_FT3, "m3", 2),
        ("cu yd", "yd3"): (M3_PER_YD3, "m3", 1),
        ("cord", "cords"): (M3_PER_CORD, "m3 stacked", 1),
        ("lb", "pound", "pounds"): (KG_PER_LB, "kg", 0),
        ("mile", "miles"): (1.609344, "km", 1),
    }.items()
    for unit in units
}
_WHOLE_FROM = {"m": 5.0, "km": 10.0}  # a whole number of feet or miles says no tenths of these; ours


@dataclass(frozen=True, slots=True)
class Units:
    """The reader's units. Arguments are in the program's own units, named by the method."""

    metric: bool = False

    def inches(self, value: float) -> str:
        """A diameter or other small length [in]."""
        return f"{half_up(value * CM_PER_IN)} cm" if self.metric else f"{half_up(value, 1)} in"

    def ends(self, butt_in: float, top_in: float) -> str:
        """Both ends of a log, outside bark [in]."""
        if self.metric:
            return f"{half_up(butt_in * CM_PER_IN)} to {half_up(top_in * CM_PER_IN)} cm"
        return f"{half_up(butt_in, 1)} to {half_up(top_in, 1)} in"

    def feet(self, value: float, digits: int = 0) -> str:
        """A height, length or distance [ft]."""
        return f"{half_up(value / FT_PER_M, 1)} m" if self.metric else f"{half_up(value, digits):,} ft"

    def square_feet(self, value: float) -> str:
        """An area [ft2]."""
        return f"{number(value * 0.3048**2, 1)} m2" if self.metric else f"{number(value)} sq ft"

    def cubic_feet(self, value: float) -> str:
        """Solid volume [ft3]."""
        return f"{number(value * M3_PER_FT3, 2)} m3" if self.metric else f"{number(value, 1)} cu ft"

    def cords(self, value: float) -> str:
        """Stacked wood [cord of 128 ft3]."""
        if self.metric:
            return f"{number(value * M3_PER_CORD, 1)} m3 stacked"
        text = number(value, 1 if value >= 1 else 2)
        return f"{text} cord{'s' if value > 1 else ''}"

    def yards(self, value: float) -> str:
        """Loose or bank volume [yd3]."""
        return f"{number(value * M3_PER_YD3, 1)} m3" if self.metric else f"{number(value, 1)} cu yd"

    def pounds(self, value: float) -> str:
        """A weight [lb], to two figures upward when it may have to be lifted."""
        shown = value * KG_PER_LB if self.metric else value
        step = 10 if shown >= 100 else 5 if shown >= 20 else 1
        return f"{math.ceil(round(shown / step, 9)) * step:,} {'kg' if self.metric else 'lb'}"

    def sentence(self, text: str) -> str:
        """A sentence written in inches and feet, as it is or with its amounts turned metric."""
        if self.metric:
            return _AMOUNT.sub(self._convert, text)
        if "2" not in text and "3" not in text:
            return text
        return _SIGN.sub(lambda found: _SPOKEN[found[1]], text)

    def _convert(self, found: re.Match[str]) -> str:
        factor, unit, digits = _METRIC[found["unit"]]
        if unit == "m3" and float((found["high"] or found["low"]).replace(",", "")) * factor < 0.1:
            factor, unit, digits = factor * 1000, "litres", 0  # a few hundredths of a cubic metre say nothing
        value = float(found["low"].replace(",", "")) * factor
        if "." not in found[0] and value >= _WHOLE_FROM.get(unit, math.inf):
            digits = 0
        low = number(value, digits)
        if found["high"] is None:
            return f"{low} {unit}"
        return f"{low}{found['to']}{number(float(found['high'].replace(',', '')) * factor, digits)} {unit}"
