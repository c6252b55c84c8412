"""Flight calendars of the user's own, laid over the shipped ones by id."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from barkwright.ownentry import YOURS, Entry, Taken, listed_entries
from barkwright.ownfiles import Own, own_files
from barkwright.record import dataclass
from barkwright.season.regions import Known, Region, Regions, regions
from barkwright.season.year import MONTHS

if TYPE_CHECKING:
    from barkwright.diagnostics import Diagnostic

_ID = re.compile(r"[a-z0-9][a-z0-9-]*")
_DAY = re.compile(r"(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])")
EARLIEST, LATEST = "03-01", "10-31"  # no flight of spruce beetle begins sooner or ends later; ours
LEAST_DAYS_MONTH = {"02": 28, "04": 30, "06": 30, "09": 30, "11": 30}
MOST_POINTS = 200  # towns of one region; ours
KEYS = ("id", "name", "words", "onset", "end", "points")


@dataclass(frozen=True, slots=True)
class OwnRegions:
    """All calendars that hold for a site, and what its own files say."""

    book: Regions
    own: tuple[Own, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()
    named: tuple[str, ...] = ()  # ids that the user's files use, sound or not


@cache
def region_book(local: tuple[str, ...] = ()) -> OwnRegions:
    """The shipped calendars with those in `local` (paths as they can be opened) added or in place by id.

    A faulty entry becomes a diagnostic and leaves the shipped calendar in place.
    """
    shipped = regions()
    if not local:
        return OwnRegions(shipped)
    found: list[Diagnostic] = []
    held = {region.id: region for region in shipped.regions}
    own: list[Own] = []
    named: list[str] = []
    taken = Taken()
    for document in own_files(local).documents:
        for name, entry in listed_entries(document, "regions", "region", found):
            named.append(name)
            old = next((region for region in shipped.regions if region.id == name), None)
            region = _region(name, entry, old)
            if region is not None and taken.free(name, entry, "id"):
                held[name] = region
                own.append(_own(region, old, entry))
    book = replace(shipped, regions=tuple(sorted(held.values(), key=lambda region: region.id)))
    return OwnRegions(book, tuple(own), tuple(found), tuple(named))


def _region(name: str, entry: Entry, old: Region | None) -> Region | None:
    entry.only(KEYS)
    if entry.sound:
        entry.needs("name", "words", "onset", "end")
    if name and not _ID.fullmatch(name):
        entry.fault("bad-id", "id", f"the id '{name}' has other letters", "small letters, digits and dashes")
    title, words = entry.text("name"), entry.text("words")
    onset, end = _day(entry, "onset"), _day(entry, "end")
    if onset and end and end <= onset:
        entry.fault("span-reversed", "end", f"the end {end} is not after the onset {onset}", "write month-day")
    points = _points(entry)
    source = entry.rests_on()
    if not entry.sound or title is None or words is None or onset is None or end is None:
        return None
    if not points and old is not None:
        points = old.points
    known: Known = "read"
    if source in ("from memory", "common practice, no source"):
        known = source  # type: ignore[assignment]
    elif source == YOURS:
        known = "from memory"
    return Region(name, title, words, onset, end, known, points, local=True, source=source)


def _day(entry: Entry, key: str) -> str | None:
    text = entry.text(key)
    if text is None:
        return None
    if not _DAY.fullmatch(text) or int(text[3:]) > LEAST_DAYS_MONTH.get(text[:2], 31):
        entry.fault("bad-date", key, f"{key} '{text}' is no day that every year has", "write month-day, like 05-21")
        return None
    if not EARLIEST <= text <= LATEST:
        entry.fault("out-of-range", key, f"{key} {text} is no day of a flight", f"{EARLIEST} to {LATEST}")
        return None
    return text


def _points(entry: Entry) -> tuple[tuple[float, float], ...]:
    if not entry.has("points"):
        return ()
    written = entry.document.node((*entry.at, "points")).data
    if not isinstance(written, list) or len(written) > MOST_POINTS:
        hint = f"write [[53.92, -122.75], ...], at most {MOST_POINTS} towns"
        entry.fault("odd-shape", "points", "points is no list of towns", hint)
        return ()
    found: list[tuple[float, float]] = []
    for number, pair in enumerate(written):
        at = ("points", number)
        if not _is_pair(pair):
            entry.fault("bad-value", at, "a town is a latitude and a longitude", "write [53.92, -122.75]")
        elif abs(pair[0]) > 90 and abs(pair[1]) <= 90:
            message = "latitude and longitude look swapped"
            entry.fault("coordinates-swapped", at, message, f"write [{pair[1]:g}, {pair[0]:g}]")
        elif abs(pair[0]) > 90 or abs(pair[1]) > 180:
            entry.fault("out-of-range", at, "there is no such place", "degrees north, then degrees east")
        else:
            found.append((float(pair[0]), float(pair[1])))
    return tuple(found)


def _is_pair(pair: object) -> bool:
    return (
        isinstance(pair, list)
        and len(pair) == 2
        and all(isinstance(one, int | float) and not isinstance(one, bool) and abs(one) < 1e6 for one in pair)
    )


def _own(region: Region, old: Region | None, entry: Entry) -> Own:
    was = None if old is None else _said(old)
    known = None if old is None else (old.cite or old.known)
    source = region.source or YOURS
    return Own("regions", region.id, region.name, source, entry.where, _said(region), was, known)


def _said(region: Region) -> str:
    return f"the beetles fly from {_in_words(region.onset)} to {_in_words(region.end)} ({region.words})"


def _in_words(month_day: str) -> str:
    return f"{int(month_day[3:])} {MONTHS[int(month_day[:2]) - 1]}"
