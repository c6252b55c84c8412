"""Where a place is: degrees as people copy or write them, or a town that stands for it."""

from __future__ import annotations

import difflib
import re
from datetime import date
from functools import cache

from barkwright.datafile import load
from barkwright.record import dataclass

_WORDS = re.compile(r"\b(?:latitude|longitude|lat|long|lon|lng|degrees?|deg|minutes?|min|seconds?|sec)\b[.:=]?", re.I)
_LETTERS = {"north": "N", "south": "S", "west": "W", "east": "E"}
_MARKS = re.compile(r"[°ºd'′’\"″”m:]")
_ONE = re.compile(r"([NSEW])?\s*([+-]?\d+(?:\.\d+)?)(?:\s+(\d+(?:\.\d+)?))?(?:\s+(\d+(?:\.\d+)?))?\s*([NSEW])?")


@dataclass(frozen=True, slots=True)
class Towns:
    """data/intake/towns.yaml: latitude and longitude [degrees north and east] by name."""

    checked_on: date
    basis: str
    towns: dict[str, tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in decimal degrees, north and east positive; `town` where a town stands for it."""

    latitude: float
    longitude: float
    town: str | None = None


class NoPlaceError(ValueError):
    """Text that is no place; the message says what was expected."""


@cache
def towns() -> dict[str, tuple[float, float]]:
    """The towns that are known."""
    return load("intake/towns.yaml", Towns).towns


def read_place(text: str) -> Spot:
    """The place in text like `54.0, -123.0`, `54 12 N, 123 5 30 W` or the name of a known town. Raises NoPlaceError."""
    if not re.search(r"\d", text):
        return _town(text)
    halves = _halves(_plain(text))
    if len(halves) != 2:
        raise NoPlaceError("write latitude and longitude with a comma between: 54.0, -123.0")
    (north, north_letter), (east, east_letter) = (_degrees(half) for half in halves)
    if north_letter in ("E", "W") and east_letter in ("N", "S"):
        north, east = east, north
    elif north_letter in ("E", "W") or east_letter in ("N", "S"):
        raise NoPlaceError("one number is to be N or S, the other E or W: 54 12 N, 123 5 W")
    return Spot(round(north, 5), round(east, 5))


def _town(text: str) -> Spot:
    by_name = {_bare(name): name for name in towns()}
    wanted = _bare(text)
    first = _bare(text.split(",")[0])  # a town with its state or province after it
    name = by_name.get(wanted) or by_name.get(first)
    if name is None:
        near = difflib.get_close_matches(first, by_name, 1, 0.75)
        guess = f"did you mean {by_name[near[0]]}? " if near else ""
        raise NoPlaceError(f"that town is not known here: {guess}write degrees like 54.0, -123.0, or ? for the towns")
    return Spot(*towns()[name], town=name)


def _bare(text: str) -> str:
    return re.sub(r"[^a-z]+", " ", text.casefold().replace("saint ", "st ").replace("'", "")).strip()


def _plain(text: str) -> str:
    plain = _WORDS.sub(" ", text)
    for word, letter in _LETTERS.items():
        plain = re.sub(rf"\b{word}\b", letter, plain, flags=re.I)
    plain = plain.replace("−", "-").replace("–", "-")
    plain = re.sub(r"(?<![A-Za-z])([nsew])(?![A-Za-z])", lambda found: found.group(1).upper(), plain)
    return _MARKS.sub(" ", plain).strip(" ()[]")


def _halves(plain: str) -> list[str]:
    parts = [part.strip() for part in re.split(r"[,;/]", plain) if part.strip()]
    if len(parts) != 1:
        return parts
    behind = re.fullmatch(r"([^NSEW]+[NSEW])\s*([^NSEW]+[NSEW])", plain)
    before = re.fullmatch(r"([NSEW][^NSEW]+)([NSEW][^NSEW]+)", plain)
    if found := behind or before:
        return [found.group(1).strip(), found.group(2).strip()]
    numbers = plain.split()
    middle, odd = divmod(len(numbers), 2)
    return parts if odd else [" ".join(numbers[:middle]), " ".join(numbers[middle:])]


def _degrees(half: str) -> tuple[float, str | None]:
    found = _ONE.fullmatch(half)
    if found is None or (found.group(1) and found.group(5)):
        raise NoPlaceError("write degrees like 54.0, -123.0, or 54 12 N, 123 5 W")
    letter = found.group(1) or found.group(5)
    degrees, minutes, seconds = (float(found.group(n) or 0) for n in (2, 3, 4))
    if minutes >= 60 or seconds >= 60:
        raise NoPlaceError("minutes and seconds go up to 59")
    if found.group(2).startswith("-") and letter:
        raise NoPlaceError("write either a minus or a letter, not both: -123.0, or 123.0 W")
    size = abs(degrees) + minutes / 60 + seconds / 3600
    return (-size if found.group(2).startswith("-") or letter in ("S", "W") else size), letter
