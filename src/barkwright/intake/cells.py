"""What one cell of a field sheet says: a size, a word, a year, a day."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date
from functools import cache
from typing import Literal

from barkwright.datafile import load
from barkwright.intake.columns import dictionary
from barkwright.intake.grid import bare
from barkwright.record import dataclass
from barkwright.units import NoAmountError, parse_amount

Comma = Literal["decimal", "thousands", "unclear"]
DayOrder = Literal["day first", "month first", "unclear"]
_DAY = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ].*)?")
_OTHER_DAY = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})")
_ABOUT = re.compile(r"^(?:~|≈|ca\.?|approx\.?|about|c\.|env\.?|circa|n\.)\s*(?=\d)", re.IGNORECASE)
_YEAR = re.compile(r"(?:19|20)\d\d")


@dataclass(frozen=True, slots=True)
class Words:
    """data/intake/words.yaml: for each key of the inventory its words, and what is written for them."""

    checked_on: str
    basis: str
    status: dict[str, tuple[str, ...]]
    attack: dict[str, tuple[str, ...]]
    insect: dict[str, tuple[str, ...]]
    stages: dict[str, tuple[str, ...]]
    looked: dict[str, tuple[str, ...]]
    exit_holes: dict[str, tuple[str, ...]]
    crown: dict[str, tuple[str, ...]]
    hazards: dict[str, tuple[str, ...]]
    bark_condition: dict[str, tuple[str, ...]]
    answers: dict[str, tuple[str, ...]]
    years: dict[str, tuple[str, ...]]
    near: dict[str, tuple[str, ...]]


class Unread(ValueError):  # noqa: N818 - an answer, not an error
    """A cell that says nothing that can be used; the message says why."""


def is_missing(cell: str) -> bool:
    """Does a cell say that there is nothing in it?"""
    return not cell or cell.casefold() in _missing() or f"{cell.casefold().removesuffix('.0')}" in _missing()


def size(cell: str, comma: Comma = "unclear") -> tuple[str, str | None]:
    """The number in a cell, as an inventory writes it, and the unit if one stands beside it. Raises Unread."""
    text = _ABOUT.sub("", cell.replace("\xa0", " ")).strip()
    if re.fullmatch(r"\d{4}-\d\d-\d\d( .*)?", text):
        raise Unread(f"'{cell}' is a date: a spreadsheet program may have made it of a number")
    if re.search(r"\d,\d", text):
        if comma == "unclear" and re.fullmatch(r"\d{1,3}(,\d{3})+(?!\d).*", text):
            raise Unread(f"'{cell}' can be read in two ways: write it without the comma")
        text = text.replace(",", "") if comma == "thousands" else text.replace(",", ".")
    text = re.sub(r"^0+(?=\d)", "", text)
    try:
        amount = parse_amount(text)
    except NoAmountError as fault:
        raise Unread(f"'{cell}' {fault.message}") from None
    plain = re.fullmatch(r"[\d.]+", text)
    number = f"{float(amount.number):.6g}" if not plain or "." in text else text
    return ("0" if float(number) == 0 else number), amount.unit


def stems(cell: str) -> tuple[str, ...]:
    """The cells of several stems written in one: 12+9, 12 & 9."""
    parts = [part.strip() for part in re.split(r"[+&]|\s/\s", cell)]
    return tuple(parts) if len(parts) > 1 and all(re.match(r"[\d.,]+", part) for part in parts) else (cell,)


def commas_of(cells: Iterable[str]) -> Comma:
    """What a comma in the numbers of a column means."""
    after = [part for cell in cells for part in re.findall(r"\d,(\d+)", cell)]
    if not after:
        return "unclear"
    return "unclear" if all(len(part) == 3 for part in after) else "decimal"


def word(cell: str, table: dict[str, tuple[str, ...]]) -> str | None:
    """The inventory's word for a cell, or None."""
    return _bare_words(id(table), tuple(table.items())).get(bare(cell) or cell)


def word_list(cell: str, table: dict[str, tuple[str, ...]]) -> tuple[str, ...] | None:
    """The inventory's words for a cell with several in it; None if one of them is not known."""
    whole = word(cell, table)
    if whole:
        return (whole,)
    parts = [part for part in re.split(r"[,;/&|]|\+(?=\s*\w)|\s(?:and|et|und|y|och|og|ja)\s", cell) if part.strip()]
    found = [word(part, table) for part in parts]
    if not parts or None in found:
        found = [word(part, table) for part in cell.split()]
    if not found or None in found:
        return None
    return tuple(dict.fromkeys(one for one in found if one))


def yes(cell: str) -> bool | None:
    """Yes, no, or neither."""
    text = bare(cell)
    table = words().answers
    if text in table["yes"] or cell.strip() in table["yes"]:
        return True
    return False if text in table["no"] or is_missing(cell) else None


def year(cell: str) -> str | None:
    """A year, unknown or never; None for anything else."""
    number = re.fullmatch(r"(\d{4})(?:\.0)?", cell.strip())
    if number:
        return number[1]
    known = word(cell, words().years)
    if known:
        return known
    dated = _YEAR.findall(cell)
    return dated[0] if len(dated) == 1 and re.fullmatch(r"[\d./\s-]+", cell) else None


def day(cell: str, order: DayOrder) -> date | None:
    """A day; None where it is none, or where day and month cannot be told apart."""
    iso, other = _DAY.fullmatch(cell), _OTHER_DAY.fullmatch(cell)
    try:
        if iso:
            return date(int(iso[1]), int(iso[2]), int(iso[3]))
        if other is None or (order == "unclear" and other[1] != other[3]):
            return None
        first, second = int(other[1]), int(other[3])
        return date(
            int(other[4]), first if order == "month first" else second, second if order == "month first" else first
        )
    except ValueError:
        return None


def day_order(cells: Sequence[str]) -> DayOrder:
    """Whether the days of a column begin with the day or the month."""
    found = [one for cell in cells if (one := _OTHER_DAY.fullmatch(cell))]
    if any(int(one[1]) > 12 for one in found):
        return "day first"
    if any(int(one[3]) > 12 for one in found):
        return "month first"
    return "day first" if found and all(one[2] == "." for one in found) else "unclear"


@cache
def words() -> Words:
    """The words of cells."""
    return load("intake/words.yaml", Words)


@cache
def _missing() -> frozenset[str]:
    return frozenset(one.casefold() for one in dictionary().missing)


@cache
def _bare_words(_: int, table: tuple[tuple[str, tuple[str, ...]], ...]) -> dict[str, str]:
    known: dict[str, str] = {}
    for right, said in table:
        for one in (right, *said):
            known.setdefault(bare(one) or one, right)
    return known
