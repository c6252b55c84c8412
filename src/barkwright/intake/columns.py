"""What the name of a column says: its meaning, its unit, and how sure that is."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from functools import cache

from barkwright.datafile import load
from barkwright.intake.grid import bare
from barkwright.record import dataclass

LENGTHS = ("across", "along", "girth", "near")  # kinds whose cells have a unit of length
UNUSED = "-"
DOWN = ("down", "fallen")  # names of a column that is answered by yes and no; they say nothing within another name


@dataclass(frozen=True, slots=True)
class Meaning:
    """One thing that a column can say about a tree."""

    kind: str
    says: str
    words: tuple[str, ...]
    many: bool = False


@dataclass(frozen=True, slots=True)
class Dictionary:
    """data/intake/columns.yaml."""

    checked_on: str
    basis: str
    meanings: dict[str, Meaning]
    units: dict[str, tuple[str, ...]]
    strange: tuple[str, ...]
    totals: tuple[str, ...]
    missing: tuple[str, ...]
    ignored: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Named:
    """What a name says. `sure` is 2 for a name in the dictionary, 1 for one like it."""

    meaning: str
    unit: str | None
    sure: int


_BREAST = re.compile(r"(?<![\d.,])(?:1[.,]3\d?|4[.,]5|130|137)\s*(?:m|ft|cm|feet|')?(?![\w.,])", re.IGNORECASE)
_BREAST_STUCK = re.compile(r"^(dbh|d|dap|bhd)[ _]?(?:1[.,]?3\d?|130)(?!\d)", re.IGNORECASE)
_INSIDE = re.compile(r"[(\[{<]([^)\]}>]*)[)\]}>]")


def named(name: str, close: bool = True) -> Named | None:
    """What the name of a column says about it, or None; with `close` also where it is only like a known one."""
    found = _named(name, close)
    if found is None or found.unit is None or found.meaning == UNUSED:
        return found
    kind = dictionary().meanings[found.meaning].kind
    fits = found.unit == "%" if kind == "share" else kind in LENGTHS and found.unit != "%"
    return found if fits else Named(found.meaning, None, found.sure)


@cache
def _named(name: str, close: bool) -> Named | None:
    if len(name) > 120 or not name:
        return None
    plain, unit = split_unit(name)
    for text in dict.fromkeys((bare(name), plain)):
        if text in _words():
            return Named(_words()[text], None if text == bare(name) and text != plain else unit, 2)
    if plain in dictionary().ignored:
        return Named(UNUSED, None, 2)
    inner = _stuck_unit(plain) if unit is None else None
    if inner:
        return Named(_words()[inner[0]], inner[1], 2)
    numbered = re.sub(r"\s*\d+$", "", plain)
    if numbered in _words() and dictionary().meanings[_words()[numbered]].many:
        return Named(_words()[numbered], unit, 2)
    if not close:
        return None
    long = (word for word in _words() if len(word) > 3 and word not in DOWN and word in plain)
    within = [word for word in long if re.search(rf"\b{re.escape(word)}\b", plain)]
    if within:
        return Named(_words()[max(within, key=len)], unit, 1)
    if len(plain) > 4:
        near = difflib.get_close_matches(plain, [word for word in _words() if len(word) > 4], 1, 0.84)
        if near:
            return Named(_words()[near[0]], unit, 1)
    return None


def split_unit(name: str) -> tuple[str, str | None]:
    """The name for comparing, without a unit in brackets or at its end; and the unit."""
    text = _BREAST_STUCK.sub(r"\1 ", name)
    text = _BREAST.sub(" ", text) if re.search(r"[^\W\d_]{3}", _BREAST.sub(" ", text)) or text != name else text
    for inside in _INSIDE.findall(text):
        unit = unit_word(inside)
        if unit:
            return bare(_INSIDE.sub(" ", text)), unit
    plain = bare(_INSIDE.sub(" ", text))
    words = plain.split()
    if len(words) > 1 and unit_word(words[-1]):
        rest = words[:-1]
        if len(rest) > 1 and rest[-1] in ("in", "en", "i"):
            rest = rest[:-1]
        return " ".join(rest), unit_word(words[-1])
    quoted = re.fullmatch(r"(.*[^\W\d_])\s*(\"|'|'')", plain)
    if quoted:
        return quoted[1], "ft" if quoted[2] == "'" else "in"
    return plain, None


def unit_word(text: str) -> str | None:
    """The unit that a word names, or None."""
    return _units().get(bare(text) or text.strip())


def asks_down(name: str) -> bool:
    """Is it the name of a column that says by yes and no whether a tree is down?"""
    return bare(name) in DOWN


def is_strange(name: str) -> bool:
    """Is the name of a column in a language of people who measure in cm and m?"""
    return split_unit(name)[0] in dictionary().strange


def parse_map(text: str, names: Mapping[str, str]) -> tuple[str, str, str | None]:
    """The column, meaning and unit of `column=meaning[:unit]`. Raises ValueError with the reason.

    `names` are the columns of the sheet by their bare names.
    """
    column, sign, said = text.rpartition("=")
    if not sign or not column.strip():
        raise ValueError(f"'{text}' is not column=meaning or column=meaning:unit, like 'Omkrets=girth:cm' or 'X=-'")
    wanted = names.get(bare(column)) or names.get(column.strip())
    if wanted is None:
        near = difflib.get_close_matches(bare(column), list(names), 1, 0.6)
        hint = f"; did you mean '{names[near[0]]}'?" if near else ""
        raise ValueError(f"the sheet has no column '{column.strip()}'{hint}")
    meaning, _, unit = said.strip().partition(":")
    known = dictionary().meanings
    meaning = meaning.strip()
    if meaning in (UNUSED, ""):
        return wanted, UNUSED, None
    if unit_word(meaning) and meaning not in known and not unit:
        return wanted, "", unit_word(meaning)
    if meaning not in known:
        meaning = _words().get(bare(meaning), meaning)
    if meaning not in known:
        usual = ", ".join(one for one in known if one[0] not in ".+" and known[one].kind != "code")
        raise ValueError(f"'{meaning}' is no meaning of a column; it can be - (not used), {usual}")
    if unit and (unit_word(unit) is None or known[meaning].kind not in LENGTHS or unit_word(unit) == "%"):
        wants = "units are cm, mm, m, dm, in and ft" if known[meaning].kind in LENGTHS else f"'{meaning}' has no unit"
        raise ValueError(f"'{unit}' does not fit '{meaning}': {wants}")
    return wanted, meaning, unit_word(unit) if unit else None


@cache
def dictionary() -> Dictionary:
    """The words of columns."""
    return load("intake/columns.yaml", Dictionary)


@cache
def _words() -> dict[str, str]:
    """Bare word -> meaning."""
    known: dict[str, str] = {}
    for meaning, one in dictionary().meanings.items():
        for word in (*one.words, _name(meaning)):
            known.setdefault(bare(word), meaning)
    return known


def _name(meaning: str) -> str:
    return meaning.lstrip(".+").replace("_", " ") if meaning[0] in ".+" else meaning.replace("_", " ")


@cache
def _units() -> dict[str, str]:
    return {
        form: unit
        for unit, words in dictionary().units.items()
        for word in words
        for form in (word, bare(word))
        if form
    }


def _stuck_unit(plain: str) -> tuple[str, str] | None:
    """DBHcm: a known word with a unit at its end and nothing between."""
    for unit in ("cm", "mm", "in", "ft", "m"):
        word = plain.removesuffix(unit)
        if word != plain and word in _words() and len(word) > 2:
            return word, unit
    return None
