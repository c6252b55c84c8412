"""Which kind of spruce a cell names: in words, in Latin or as a code."""

from __future__ import annotations

import difflib
import re
from functools import cache

from barkwright.datafile import load
from barkwright.intake.grid import bare
from barkwright.record import dataclass

NAME_IT = "add --species white, or name it in the sheet"
WHICH = f"the kind of spruce must be known: {NAME_IT}"


@dataclass(frozen=True, slots=True)
class Codes:
    """data/intake/codes.yaml."""

    checked_on: str
    basis: str
    spruce: dict[str, str]
    spruce_names: dict[str, tuple[str, ...]]
    unclear: tuple[str, ...]
    local: tuple[str, ...]
    other: dict[str, str]
    other_words: tuple[str, ...]
    agents: dict[str, str]


@dataclass(frozen=True, slots=True)
class Kind:
    """What a cell says: the kind of spruce, or why there is none; and what had to be taken for granted."""

    species: str | None
    reason: str = ""
    taken: str = ""
    unnamed: bool = False  # it may be a spruce: --species can say which


@cache
def kind_of(code: str, name: str) -> Kind:
    """The kind of spruce that a code, a name or both say."""
    codes = spruce_codes()
    code = re.sub(r"\.0+$", "", code.strip())
    text = bare(name)
    plain = re.sub(r"\.0+$", "", name.strip())
    known = codes.spruce.get(code) or _names().get(text) or codes.spruce.get(plain)
    if known:
        return Kind(known)
    if not text and not code:
        return Kind(None, f"no species is given: {NAME_IT}", unnamed=True)
    said = name or codes.other.get(code) or f"species code {code}"
    if plain in codes.other or (not name and code in codes.other):
        said = codes.other.get(plain) or codes.other[code]
        return Kind(
            None,
            f"{said} is no spruce" if "Brewer" not in said else f"{said} is a kind that this program does not know",
        )
    if text in map(bare, codes.local):
        return Kind("norway", taken=f"'{name}' is taken for Norway spruce")
    if text in codes.unclear or code in codes.unclear:
        said = said if name.strip("0123456789. ") else "spruce, kind not named"
        return Kind(None, f"{said}: {WHICH}", unnamed=True)
    return _like(said, text)


def names_spruce(cell: str) -> bool:
    """Is a cell, by itself, the name of a tree? Numbers and letters that may mean anything are not."""
    text = bare(cell)
    if len(text) < 4 or text.isdigit():
        return False
    return (
        text in _names()
        or text in spruce_codes().local
        or any(one in spruce_codes().other_words for one in text.split())
    )


def _like(said: str, text: str) -> Kind:
    parts = text.split()
    other = any(part in spruce_codes().other_words for part in parts)
    if not other:
        within = {
            right
            for name, right in _names().items()
            if len(name) > 6 and name in text and re.search(rf"\b{re.escape(name)}\b", text)
        }
        if len(within) == 1:
            return Kind(within.pop())
        long = [name for name in _names() if len(name) > 4 and name[1] != " " and _alike(name, text)]
        near = difflib.get_close_matches(text, long, 1, 0.86)  # w spruce is not like b spruce
        if near and len(text) > 4:
            kind = _names()[near[0]]
            return Kind(kind, taken=f"'{said}' is taken for {kind} spruce")
        if any(
            part in ("spruce", "picea", "epinette", "fichte", "gran", "kuusi") or part.endswith(("fichte", "kuusi"))
            for part in parts
        ):
            return Kind(None, f"{said}: {WHICH}", unnamed=True)
    if other or not re.search(r"[^\W\d_]{3}", said):
        return Kind(None, f"{said} is no spruce")
    return Kind(None, f"{said} is no spruce that is known here")


def _alike(name: str, text: str) -> bool:
    """Could a comparison of letters come to 0.86? Asked first, for sheets of many names that nobody knows."""
    short, long = sorted((len(name), len(text)))
    return short > 0.75 * long and len(_letters(name).symmetric_difference(text)) <= 0.28 * (short + long)


@cache
def _letters(name: str) -> frozenset[str]:
    return frozenset(name)


@cache
def _names() -> dict[str, str]:
    return {bare(one): right for right, said in spruce_codes().spruce_names.items() for one in said}


@cache
def spruce_codes() -> Codes:
    """The names and codes of trees."""
    return load("intake/codes.yaml", Codes)
