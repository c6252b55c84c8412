"""What may be tried, in plain words: from a phrase to the change that it asks for."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable
from datetime import date
from typing import cast, get_args

from barkwright.inventory.model import Inventory, Method
from barkwright.inventory.nearest import nearest_word
from barkwright.study.change import Change, UnfitChangeError
from barkwright.study.machine_phrase import machine_named, rent_of
from barkwright.study.means import dropped, more_days, more_people, more_weekends, rented
from barkwright.study.wishes import allowed, budgeted, forbidden, started

PHRASES = (
    "rent chipper 12 in", "rent chipper 12 in at 310 a day, 90 delivery", "drop chipper", "without chipper",
    "one more person", "2 more people with NAME", "one more day", "2 more days with NAME", "one more weekend",
    "allow burn", "forbid burn", "start 2027-01-15", "budget 2000", "no budget",
)  # fmt: skip
LETTERS = 300  # longest phrase; ours
NUMBERS = {"a": 1, "an": 1, "another": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5}
_COUNT = r"(?P<count>an?|another|one|two|three|four|five|\d+)(?: more| extra)?"
_MORE = _COUNT + r" (?P<what>{}|{})(?: more)?(?: (?:with|for) (?P<crew>.+))?"
_HANDS = {"person": more_people, "day": more_days, "weekend": more_weekends}
Reader = Callable[[Inventory, date, re.Match[str]], Change]


def read_phrase(text: str, inventory: Inventory, on: date) -> Change:
    """The change that a phrase asks for.

    Error: UnfitChangeError where the phrase is not understood, or asks for what cannot be on this site.
    """
    words = " ".join(text.split()).rstrip(".")
    if len(words) > LETTERS:
        raise UnfitChangeError(f"'{text}' is longer than {LETTERS} letters", "ask for one thing in a few words")
    for pattern, reader in GRAMMAR:
        found = re.fullmatch(pattern, words, re.IGNORECASE)
        if found is not None:
            return reader(inventory, on, found)
    near = difflib.get_close_matches(words.lower(), PHRASES, 1, 0.5)
    lead = f"did you mean '{near[0]}'? " if near else ""
    raise UnfitChangeError(f"'{text}' is not understood", f"{lead}what may be tried: {'; '.join(PHRASES)}")


def _rent(inventory: Inventory, on: date, found: re.Match[str]) -> Change:
    fields, phrase = rent_of(found["what"])
    return rented(inventory, on, fields, phrase)


def _drop(inventory: Inventory, on: date, found: re.Match[str]) -> Change:
    kind, rest = machine_named(found["what"])
    if rest:
        raise UnfitChangeError(
            f"'{rest}' in '{found.group()}' is not understood", "name the kind alone: 'drop chipper'"
        )
    return dropped(inventory, kind)


def _more(inventory: Inventory, on: date, found: re.Match[str]) -> Change:
    count = NUMBERS.get(found["count"].lower()) or int(found["count"])
    what = found["what"].lower()
    word = next((one for one in _HANDS if what.startswith(one)), "person")
    if not 1 <= count <= 200:
        raise UnfitChangeError(f"'{found.group()}' asks for {count} more", "ask for 1 to 200 more")
    return _HANDS[word](inventory, on, count, _crew(inventory, found["crew"]))


def _crew(inventory: Inventory, name: str | None) -> int:
    """Place of the crew that is named, or of the largest."""
    names = [crew.name for crew in inventory.crew]
    if not names:
        raise UnfitChangeError("nobody is written down under crew", "name the hands that can do the work under crew")
    if name is None:
        return max(range(len(names)), key=lambda place: (inventory.crew[place].people, -place))
    low = [one.lower() for one in names]
    if name.lower() in low:
        return low.index(name.lower())
    near = difflib.get_close_matches(name.lower(), low, 1, 0.5)
    hint = f"did you mean '{names[low.index(near[0])]}'?" if near else f"crews here: {', '.join(names)}"
    raise UnfitChangeError(f"there is no crew '{name}'", hint)


def _method(inventory: Inventory, on: date, found: re.Match[str]) -> Change:
    known = get_args(Method)
    word = found["method"].lower()
    if word not in known:
        near = nearest_word(word, known)
        hint = f"did you mean '{near}'?" if near else f"methods: {', '.join(known)}"
        raise UnfitChangeError(f"there is no method '{word}'", hint)
    make = allowed if found["do"].lower() == "allow" else forbidden
    return make(inventory, cast(Method, word))


def _start(inventory: Inventory, on: date, found: re.Match[str]) -> Change:
    if found["day"].lower() in ("now", "today"):
        return started(inventory, on, on)
    try:
        return started(inventory, on, date.fromisoformat(found["day"]))
    except ValueError as fault:
        if isinstance(fault, UnfitChangeError):
            raise
        raise UnfitChangeError(f"'{found['day']}' is not a date", f"write it as 'start {on}'") from None


def _budget(inventory: Inventory, on: date, found: re.Match[str]) -> Change:
    return budgeted(inventory, on, found["money"].replace(",", ""))


def _no_budget(inventory: Inventory, on: date, found: re.Match[str]) -> Change:
    return budgeted(inventory, on, None)


GRAMMAR: tuple[tuple[str, Reader], ...] = (
    (r"(?:no|without a?) ?budget|no limit on money", _no_budget),
    (r"(?:a )?budget (?:of )?(?:[A-Z]{3} |\$)?(?P<money>\d+(?:,\d{3})*(?:\.\d+)?)", _budget),
    (r"start (?:on )?(?P<day>\d\S*|now|today)", _start),
    (r"(?P<do>allow|forbid|avoid) (?:to )?(?P<method>[a-z-]+)", _method),
    (_MORE.format("weekend", "weekends"), _more),
    (_MORE.format("day", "days"), _more),
    (_MORE.format("person", "people|hands?"), _more),
    (r"(?:rent|hire) (?:an? |another )?(?P<what>.+)", _rent),
    (r"(?:drop|without|no)(?: the| an?)? (?P<what>.+)", _drop),
)
