"""One sentence for several pieces: amounts in like sentences are added up, sizes become a range."""

from __future__ import annotations

import re
from collections.abc import Sequence

_NUMBER = re.compile(r"(?<![A-Za-z0-9./])\d+(?:\.\d+)?")


def template(text: str) -> str:
    """A sentence with its numbers taken out: sentences with the same template say the same thing."""
    return _NUMBER.sub("#", text)


def together(texts: Sequence[str]) -> str:
    """One sentence for sentences of one template."""
    if len(set(texts)) == 1 and not _NUMBER.search(texts[0]):
        return texts[0]
    found = [list(_NUMBER.finditer(text)) for text in texts]
    first, out, at = texts[0], [], 0
    for slot, match in enumerate(found[0]):
        out.append(first[at : match.start()])
        out.append(_one([numbers[slot].group() for numbers in found], first[match.end() :]))
        at = match.end()
    return "".join([*out, first[at:]])


def _one(numbers: Sequence[str], after: str) -> str:
    digits = max(len(number.partition(".")[2]) for number in numbers)
    if re.match(r" in\b| mi\b| miles\b| people\b|-in\b| ft from| ft\. | ft$", after):
        values = sorted({float(number) for number in numbers})
        low, high = f"{values[0]:.{digits}f}", f"{values[-1]:.{digits}f}"
        return low if low == high else f"{low} to {high}"
    return f"{sum(float(number) for number in numbers):.{digits}f}"
