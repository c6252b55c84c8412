"""Tools and machines as people list them, as the options --own and --rent take them."""

from __future__ import annotations

import re
from typing import get_args

from barkwright.intake.sheet import SpecError, equipment
from barkwright.inventory.model import Kind
from barkwright.inventory.nearest import nearest_word

_KINDS: tuple[str, ...] = get_args(Kind)
_NAMES = {
    "chainsaw": "chain-saw", "saw": "chain-saw", "draw knife": "drawknife", "spud": "bark-spud", "peavey": "cant-hook",
    "log splitter": "splitter", "wood chipper": "chipper", "wedge": "wedges", "skidsteer": "skid-steer",
    "bucket truck": "aerial-lift", "digger": "excavator", "axes": "axe", "pickup": "truck",
}  # fmt: skip
_PER = re.compile(r"\s*(?:/|\b(?:an?|per)\b)\s*(hour|half-day|half day|day|week|month)\b")
_DELIVERY = re.compile(r"\b(?:for\s+)?(\d+(?:\.\d+)?)\s+(?:for\s+)?delivery\b(?!\s+\d)")


def read_tools(text: str, owned: bool) -> tuple[tuple[str, ...], str | None]:
    """One text for each machine, as the options take it; and what is wrong, in words, if anything is."""
    found: list[str] = []
    for part in re.split(r"\s*;\s*|\s*\band\b\s*|\s*,\s*", text):
        if not part:
            continue
        kind, rest = _kind(part)
        if kind is None and found and re.match(r"[\d$]|delivery|takes|feed|count|from|to\b", part.casefold()):
            found[-1] += f" {_said(part)}"  # `chipper 9 in, 310 a day, delivery 90`
            continue
        if kind is None:
            near = nearest_word(re.sub(r"\s*\d.*", "", part), _KINDS)
            asked = f"did you mean {near.replace('-', ' ')}?" if near else "name tools like chain saw, drawknife, maul"
            return (), f"'{part}' is no tool that is known here: {asked}"
        found.append(f"{kind} {_said(rest)}".strip())
    try:
        for spec in found:
            equipment(spec, owned)
    except SpecError as fault:
        return (), str(fault)
    return tuple(dict.fromkeys(found)), None if found else "name a tool, or none"


def _kind(part: str) -> tuple[str | None, str]:
    """The kind that a text begins with, and the rest of it."""
    words = re.sub(r"^(?:an?|the|my|our|one)\s+", "", part.casefold()).split()
    for count in (3, 2, 1):
        name = " ".join(words[:count])
        for form in (name, name.replace(" ", "-"), name.removesuffix("s"), name.removesuffix("s").replace(" ", "-")):
            if form in _KINDS or form in _NAMES:
                return _NAMES.get(form, form), " ".join(words[count:])
    return None, part


def _said(text: str) -> str:
    """Prices as the options write them: 310/day, delivery 90."""
    plain = text.casefold().replace("$", "")
    plain = _PER.sub(lambda found: "/" + found.group(1).replace(" ", "-"), plain)
    plain = _DELIVERY.sub(r"delivery \1", plain)
    plain = re.sub(r'(?<=\d)\s*(?:"|-?inch(?:es)?\b)', " in", plain)
    return " ".join(re.sub(r"\b(?:at|for|with|costs?|cad|usd)\b", " ", plain).split())
