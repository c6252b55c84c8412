"""Sentences that differ only in their amounts, said once."""

from __future__ import annotations

import re
from collections.abc import Sequence

from barkwright.output.words import number
from barkwright.season.year import MONTHS
from barkwright.units import half_up

_NUMBER = re.compile(r"(?<![A-Za-z0-9.])\d[\d,]*(?:\.\d+)?")
_DATE = re.compile(rf"\d{{1,2}} (?:{'|'.join(MONTHS)}) \d{{4}}")
_BLANK = "\1"
# an amount before one of these words is a size or a limit, of which several make a range; all others are added up
_SIZE = re.compile(r" (?:in\b|ft from\b|windows\b|people\b|kV\b)| ft$")
_COUNTED = r"(?:heavy )?(?:piece|length|round|log|window|cord)"
_ONE = re.compile(rf"\b(?P<number>1|1\.0|0\.\d+) (?P<noun>{_COUNTED})s\b")
_MANY = re.compile(rf"\b1 (?P<noun>{_COUNTED})\b")


def brief(text: str) -> str:
    """The text with its amounts as a crew needs them: whole from ten up, otherwise to one decimal."""
    return _NUMBER.sub(lambda found: _brief(float(found[0].replace(",", "")), found[0]), text)


def shape(text: str) -> str:
    """The text with its amounts blanked out: two texts of one shape differ only in their amounts."""
    return _NUMBER.sub(_BLANK, text)


def dates(text: str) -> tuple[str, ...]:
    """The dates in a text, as they are written: 21 May 2027."""
    return tuple(_DATE.findall(text))


def merged(texts: Sequence[str]) -> str | None:
    """One sentence for texts that differ only in their amounts, with ranges; None if they differ in more, as in dates.

    An amount that all share stays as it is written: nobody rounds 99.9 % to 100.
    """
    shapes = {shape(text) for text in texts}
    if len(shapes) != 1 or len({dates(text) for text in texts}) != 1:
        return None
    out = shapes.pop()
    for found in zip(*(_NUMBER.findall(text) for text in texts), strict=True):
        values = [float(value.replace(",", "")) for value in found]
        low, high = min(values), max(values)
        out = out.replace(_BLANK, found[0] if low == high else f"{_brief(low)} to {_brief(high)}", 1)
    return out


def summed(texts: Sequence[str]) -> str | None:
    """One sentence for pieces of work that differ only in their amounts, with sums; sizes become ranges.

    The texts are in the program's own units, not yet in the reader's. None if they differ in more than amounts.
    """
    plural = [_MANY.sub(r"1 \g<noun>s", text) for text in texts]
    shapes = {shape(text) for text in plural}
    if len(shapes) != 1:
        return None
    first, *rest = shapes.pop().split(_BLANK)
    out = [first]
    for found, after in zip(zip(*(_NUMBER.findall(text) for text in plural), strict=True), rest, strict=True):
        values = [float(value.replace(",", "")) for value in found]
        if _SIZE.match(after):
            low, high = min(values), max(values)
            out.append(found[0] if low == high else f"{low:g} to {high:g}")
        else:
            out.append(f"{sum(values):,.{max(len(value.partition('.')[2]) for value in found)}f}")
        out.append(after)
    return _ONE.sub(r"\g<number> \g<noun>", "".join(out))


def _brief(value: float, written: str = ".") -> str:
    if "." not in written:
        return written
    return (
        number(value) if value >= 10 else f"{half_up(value, 1 if value >= 1 else 2):f}".rstrip("0").rstrip(".") or "0"
    )
