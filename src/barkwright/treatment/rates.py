"""Work rates and sizes: the shipped ones, and the user's own that replace them by id."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from difflib import get_close_matches
from functools import cache
from itertools import pairwise
from typing import Any, Literal

from barkwright import datafile
from barkwright.diagnostics import Diagnostic
from barkwright.ownentry import Entry, Taken, entries_by_id
from barkwright.ownfiles import Own, own_files
from barkwright.record import dataclass
from barkwright.sources import Basis, Citation, cite
from barkwright.spread import Spread
from barkwright.yamldoc import Document

LEAST, MOST = 1e-6, 1e6  # of a figure of the user's own

Unit = Literal[
    "share", "factor", "ft", "lb", "h/tree", "h/piece", "h/call", "h/cord", "min/limb", "min/log", "min/cut",
    "min/piece", "min/window", "limbs/tree", "stubs/ft", "ft2/min", "ft2/h", "m2/person-h", "loose yd3/person-h",
    "bank yd3/person-h", "loose yd3/h", "cycles/h", "person-h/cord", "person-h/pile", "green t/person-h", "m3/h",
]  # fmt: skip
Triple = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Rate:
    """How long something takes, or how much gets done in an hour; low, likely and high in `unit`."""

    title: str
    unit: Unit
    low: float
    likely: float
    high: float
    basis: Basis
    confidence: Literal["medium", "low", "very low"]
    source: str | None = None  # "key, locator"
    note: str | None = None
    local: bool = False
    own_source: str | None = None  # of a local one, in the user's words

    @property
    def spread(self) -> Spread:
        """Low, likely and high as a spread."""
        return Spread(self.low, self.likely, self.high)

    @property
    def citation(self) -> Citation | None:
        """Where the figure, or the idea of it, comes from."""
        return cite(self.source) if self.source else None


@dataclass(frozen=True, slots=True)
class Setting:
    """A size that hours and amounts are figured with."""

    title: str
    value: float
    unit: str
    basis: Basis
    source: str | None = None
    note: str | None = None
    local: bool = False
    own_source: str | None = None  # of a local one, in the user's words


@dataclass(frozen=True, slots=True)
class Equation:
    """A published equation that hours or amounts rest on."""

    title: str
    source: str  # "key, locator"


@dataclass(frozen=True, slots=True)
class PowerRow:
    """Engine power of chippers of one capacity."""

    capacity_in: float
    hp: float
    basis: Basis
    source: str | None = None


@dataclass(frozen=True, slots=True)
class _RatesFile:
    checked_on: date
    rates: dict[str, Rate]


@dataclass(frozen=True, slots=True)
class _EquationsFile:
    checked_on: date
    equations: dict[str, Equation]


@dataclass(frozen=True, slots=True)
class _SettingsFile:
    checked_on: date
    settings: dict[str, Setting]
    chipper_power: tuple[PowerRow, ...]


@dataclass(frozen=True, slots=True)
class RateBook:
    """All rates and settings by id, with what is wrong with the user's own files."""

    rates: Mapping[str, Rate]
    settings: Mapping[str, Setting]
    chipper_power: tuple[PowerRow, ...]
    checked_on: date
    diagnostics: tuple[Diagnostic, ...] = ()
    own: tuple[Own, ...] = ()

    def triple(self, rate: str) -> Triple:
        """Low, likely and high of a rate, in its own unit."""
        found = self.rates[rate]
        return found.low, found.likely, found.high

    def value(self, setting: str) -> float:
        """The value of a setting, in its own unit."""
        return self.settings[setting].value

    def horsepower(self, capacity_in: float) -> float:
        """Engine power [hp] of a chipper that takes pieces `capacity_in` wide [in]; past the ends, the end row's."""
        rows = self.chipper_power
        if capacity_in <= rows[0].capacity_in:
            return rows[0].hp
        for small, large in pairwise(rows):
            if capacity_in <= large.capacity_in:
                share = (capacity_in - small.capacity_in) / (large.capacity_in - small.capacity_in)
                return small.hp + share * (large.hp - small.hp)
        return rows[-1].hp


@cache
def equations() -> Mapping[str, Equation]:
    """The published equations by id."""
    return datafile.load("work/equations.yaml", _EquationsFile).equations


@cache
def rate_book(local: tuple[str, ...] = ()) -> RateBook:
    """The shipped rates, with entries replaced by id from the user's own files (paths as they can be opened).

    A local file holds `rates: {id: {low, likely, high}}` and `settings: {id: {value}}`, each with its source or basis;
    other parts of it, such as rules, are left to their own readers. Faults become diagnostics; a faulty entry leaves
    the shipped one in place.
    """
    shipped = datafile.load("work/rates.yaml", _RatesFile)
    sizes = datafile.load("work/settings.yaml", _SettingsFile)
    rates, settings = dict(shipped.rates), dict(sizes.settings)
    if not local:
        return RateBook(rates, settings, sizes.chipper_power, shipped.checked_on)
    found: list[Diagnostic] = []
    own: list[Own] = []
    taken = (Taken(), Taken())
    for document in own_files(local).documents:
        _merge(document, "rates", rates, taken[0], own, found)
        _merge(document, "settings", settings, taken[1], own, found)
    return RateBook(rates, settings, sizes.chipper_power, shipped.checked_on, tuple(found), tuple(own))


def _merge(
    document: Document, part: str, known: dict[str, Any], taken: Taken, own: list[Own], found: list[Diagnostic]
) -> None:
    needed = ("low", "likely", "high") if part == "rates" else ("value",)
    for name, entry in entries_by_id(document, part, part[:-1], found):
        if name not in known:
            close = get_close_matches(name, known, 1, 0.5)
            hint = f"did you mean {close[0]}?" if close else "see the shipped list: data/work"
            entry.fault("unknown-key", (), f"no {part[:-1]} has this id", hint, at_key=True)
            continue
        old = known[name]
        fields = _figures(entry, needed, old.unit)
        source = entry.rests_on()
        if not entry.sound or not taken.free(name, entry):
            continue
        note = entry.text("note")
        new = replace(old, **fields, basis="ours", source=None, note=note, local=True, own_source=source)
        known[name] = new
        own.append(Own(part, name, old.title, source, entry.where, _said(new), _said(old), old.source or old.basis))


def _figures(entry: Entry, needed: tuple[str, ...], unit: str) -> dict[str, float]:
    """The figures of an entry by key, told where they are missing, of the wrong unit or out of order."""
    entry.only((*needed, "unit"))
    if entry.sound:
        entry.needs(*needed)
    written = entry.text("unit")
    if written is not None and written != unit:
        entry.fault("wrong-unit", "unit", f"the unit is {written}, expected {unit}", "convert the figures")
    found = {key: value for key in needed if (value := entry.number(key, LEAST, MOST, unit)) is not None}
    figures = [found[key] for key in needed if key in found]
    if entry.sound and figures != sorted(figures):
        entry.fault("bad-value", needed[0], "the figures must run low, likely, high", f"unit: {unit}")
    if entry.sound and unit == "share" and figures[-1] > 1:
        entry.fault("out-of-range", needed[-1], "a share is at most 1", "0.6 is sixty in a hundred")
    return found


def _said(entry: Rate | Setting) -> str:
    figures = f"{entry.value:g}" if isinstance(entry, Setting) else f"{entry.low:g}, {entry.likely:g}, {entry.high:g}"
    return f"{figures} {entry.unit}"
