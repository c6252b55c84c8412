"""Sentences that differ only in their amounts, said once."""

from __future__ import annotations

import re
from collections.abc import Sequence

from barkwright.output.words import number
from barkwright.units import half_up

_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
_BLANK = "\1"


def shape(text: str) -> str:
    """The text with its amounts blanked out: two texts of one shape differ only in their amounts."""
    return _NUMBER.sub(_BLANK, text)


def merged(texts: Sequence[str]) -> str | None:
    """One sentence for texts that differ only in their amounts, with ranges; None if they differ in more.

    Amounts come out as a crew needs them: whole from ten up, otherwise to one decimal.
    """
    shapes = {shape(text) for text in texts}
    if len(shapes) != 1:
        return None
    out = shapes.pop()
    for found in zip(*(_NUMBER.findall(text) for text in texts), strict=True):
        values = [float(value.replace(",", "")) for value in found]
        low, high = min(values), max(values)
        out = out.replace(_BLANK, _brief(low, found[0]) if low == high else f"{_brief(low)} to {_brief(high)}", 1)
    return out


def _brief(value: float, written: str = ".") -> str:
    if "." not in written:
        return written
    return (
        number(value) if value >= 10 else f"{half_up(value, 1 if value >= 1 else 2):f}".rstrip("0").rstrip(".") or "0"
    )
