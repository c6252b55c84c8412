"""A machine in plain words: kind, size, and what its hire costs."""

from __future__ import annotations

import re
from typing import cast, get_args

from barkwright.inventory.model import Kind
from barkwright.inventory.nearest import nearest_word
from barkwright.study.change import UnfitChangeError

HOW = "write it as 'rent chipper 12 in at 310 a day, 90 delivery'"
RENTS = {
    "hour": "rent_per_hour", "half day": "rent_per_half_day", "day": "rent_per_day", "week": "rent_per_week",
    "month": "rent_per_month",
}  # fmt: skip
_NUMBER = r"\d+(?:,\d{3})*(?:\.\d+)?"
_MONEY = rf"(?:[A-Z]{{3}} |\$)?(?P<money>{_NUMBER})"
_UNIT = r"(?:[a-z]+\d?(?:/[a-z]+)?|\"|')"
_NO_UNIT = r"(?!(?:at|for|and|with|takes|feed|fed)\b)"
_PARTS = tuple(
    (name, re.compile(pattern, re.IGNORECASE))
    for name, pattern in (
        ("rent", rf"(?:at |for )?{_MONEY} ?(?:an? |per |/ ?)(?P<per>hour|half[ -]day|day|week|month)\b"),
        ("delivery", rf"{_MONEY} (?:for )?delivery|delivery (?:at |of |for )?(?P<after>{_NUMBER})"),
        ("feed", r"(?:feed |fed by )(?P<feed>hand|winch|loader)\b|(?P<fed>hand|winch|loader)[ -]fed\b"),
        ("with_operator", r"with (?:an )?operator\b"),
        ("working_capacity", rf"takes (?P<size>\d[\d.]* ?(?:{_NO_UNIT}{_UNIT})?)"),
        ("capacity", rf"(?P<size>\d[\d.]* ?(?:{_NO_UNIT}{_UNIT})?)"),
    )
)  # fmt: skip


def machine_named(text: str) -> tuple[Kind, str]:
    """The kind of machine that a text begins with, and the rest of the text."""
    words = text.split(" ")
    for count in (3, 2, 1):
        kind = "-".join(words[:count]).lower().rstrip(",")
        if kind in get_args(Kind):
            return cast(Kind, kind), " ".join(words[count:])
    near = nearest_word(words[0], get_args(Kind))
    hint = f"did you mean '{near}'?" if near else f"kinds: {', '.join(get_args(Kind))}"
    raise UnfitChangeError(f"there is no machine '{words[0]}'", hint)


def rent_of(text: str) -> tuple[dict[str, object], str]:
    """The keys of a machine that is to be rented, as they would stand in the site's file; and the phrase, tidied."""
    kind, rest = machine_named(text)
    fields: dict[str, object] = {"kind": kind}
    left = rest.strip()
    while left:
        name, found = next(((n, m) for n, p in _PARTS if (m := p.match(left)) is not None), ("", None))
        if found is None:
            raise UnfitChangeError(f"'{left}' in 'rent {text}' is not understood", HOW)
        key, value = _field(name, found)
        if key in fields:
            raise UnfitChangeError(f"'rent {text}' gives {key.replace('_', ' ')} twice", HOW)
        fields[key] = value
        left = re.sub(r"^(?:,|;| and\b|\s)+", "", left[found.end() :])
    if kind == "chipper" and not {"capacity", "working_capacity"} & fields.keys():
        raise UnfitChangeError("a chipper needs its size: the thickest wood it takes", HOW)
    return fields, f"rent {kind.replace('-', ' ')} {rest}".strip()


def _field(name: str, found: re.Match[str]) -> tuple[str, object]:
    if name == "rent":
        return RENTS[found["per"].lower().replace("-", " ")], _number(found["money"])
    if name == "delivery":
        return name, _number(found["money"] or found["after"])
    if name == "feed":
        return name, (found["feed"] or found["fed"]).lower()
    return name, True if name == "with_operator" else found["size"].strip()


def _number(text: str) -> int | float:
    plain = text.replace(",", "")
    return float(plain) if "." in plain else int(plain)
