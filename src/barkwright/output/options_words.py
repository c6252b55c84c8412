"""How the courses of the options sheet are said: money, dates, what is left over, plain readings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from barkwright.datafile import load
from barkwright.output.needs import all_needs, covered
from barkwright.output.view import View
from barkwright.output.words import listing
from barkwright.record import dataclass
from barkwright.sources import cite

if TYPE_CHECKING:
    from barkwright.study.sides import Side

STOPS = {"all": "all of it", "part": "part of it", "none": "nothing"}
WISHES = {
    "drawknife": "If you own nothing but a drawknife and a saw",
    "fuel": "If you want fuel",
    "boards": "If you want to keep the logs",
    "gone": "If you want it gone this month",
    "money": "If money is short",
    "hours": "If hands are short",
}


@dataclass(frozen=True, slots=True)
class Saying:
    """One sentence of data/output/options.yaml."""

    text: str
    basis: Literal["published", "common practice, no source", "ours"]
    sources: tuple[str, ...]


def saying(view: View, name: str) -> str:
    """A sentence of the sheet's data; its sources go on the list at the end."""
    found = load("output/options.yaml", dict[str, Saying])[name]
    view.cited.extend(cite(source) for source in found.sources)
    return view.units.sentence(found.text)


def wish_words(wishes: Sequence[str]) -> str:
    """Wishes that have one answer: If money is short, or if hands are short."""
    first, *rest = (WISHES[wish] for wish in wishes)
    return ", or ".join([first, *(one[0].lower() + one[1:] for one in rest)])


def answer_words(view: View, side: Side, borrowed: bool) -> str:
    """The course that answers a wish. borrowed : is it said that its tool is not on the list?"""
    text = name_words(side)
    if side.missing and borrowed:
        text += f"; it takes {missing_words(view, side)}, not on your list"
    if side.stops != "all":
        text += f"; it stops only {STOPS[side.stops]}"
    return f"{text}."


def name_words(side: Side) -> str:
    """A course by its name; that it leaves logs to another way belongs to it."""
    if any(one.wood.piece.kind == "log" for one in side.beside):
        return f"{side.course.title}, the rest as planned"
    return side.course.title


def settle_words(side: Side) -> str:
    """What has to be arranged before a course may be taken: ask the fire authority whether a permit is needed."""
    codes = dict.fromkeys(code for one in side.taken for code in one.window.needs)
    known = all_needs()
    said = [known[code].arrange for code in codes if code in known and code not in covered(codes)]
    return listing(said)


def missing_words(view: View, side: Side) -> str:
    """The tools that a course misses: a bark spud and a 19 in chipper."""
    return view.units.sentence(with_article(side.missing))


def with_article(names: tuple[str, ...]) -> str:
    """A bark spud and an excavator."""
    return listing([f"{'an' if name[0] in 'aeiou' else 'a'} {name}" for name in names])
