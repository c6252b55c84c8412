"""Work rates and sizes: the shipped ones, and the user's own that replace them by id."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from difflib import get_close_matches
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal

from barkwright import datafile
from barkwright.diagnostics import Diagnostic
from barkwright.record import dataclass
from barkwright.sources import Basis, Citation, cite
from barkwright.spread import Spread
from barkwright.yamldoc import Document, read_document

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

    A local file holds `rates: {id: {low, likely, high}}` and `settings: {id: {value}}`; other parts of it, such as
    rules, are left to their own readers. Faults become diagnostics; a faulty entry leaves the shipped one in place.
    """
    shipped = datafile.load("work/rates.yaml", _RatesFile)
    sizes = datafile.load("work/settings.yaml", _SettingsFile)
    rates, settings = dict(shipped.rates), dict(sizes.settings)
    found: list[Diagnostic] = []
    for path in local:
        try:
            text = Path(path).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError):
            continue  # the rulebook's reader reports files that cannot be read
        document, _faults = read_document(text, path)  # faults of form are reported there, too
        if document is not None and isinstance(document.data, dict):
            _merge(document, "rates", rates, found)
            _merge(document, "settings", settings, found)
    return RateBook(rates, settings, sizes.chipper_power, shipped.checked_on, tuple(found))


def _merge(document: Document, part: str, known: dict[str, Any], found: list[Diagnostic]) -> None:
    entries = document.data.get(part) or {}
    if not isinstance(entries, dict):
        found.append(Diagnostic("error", "bad-value", f"{part} is a list of ids with figures", document.place((part,))))
        return
    for name, given in entries.items():
        fault = _fault(known, part, name, given)
        if fault:
            code, message, hint = fault
            found.append(
                Diagnostic("error", code, message, document.key_place((part, name)), value=str(name), hint=hint)
            )
            continue
        fields = {key: float(value) for key, value in given.items() if key in ("low", "likely", "high", "value")}
        known[name] = replace(known[name], **fields, basis="ours", source=None, note=given.get("note"), local=True)


def _fault(known: Mapping[str, Any], part: str, name: str, given: Any) -> tuple[Any, str, str] | None:
    if name not in known:
        near = get_close_matches(name, known, 1, 0.5)
        return (
            "unknown-key",
            f"no {part[:-1]} has this id",
            f"did you mean {near[0]}?" if near else "see the shipped list",
        )
    needed = ("low", "likely", "high") if part == "rates" else ("value",)
    if not isinstance(given, dict) or any(key not in given for key in needed):
        return "missing-key", f"a {part[:-1]} needs {', '.join(needed)}", f"unit: {known[name].unit}"
    extra = sorted(set(given) - {*needed, "unit", "note"})
    if extra:
        return "unknown-key", f"unknown key {extra[0]}", f"known: {', '.join((*needed, 'unit', 'note'))}"
    if given.get("unit", known[name].unit) != known[name].unit:
        return "bad-value", f"the unit is {given['unit']}, expected {known[name].unit}", "convert the figures"
    figures = [given[key] for key in needed]
    if any(isinstance(figure, bool) or not isinstance(figure, int | float) or figure <= 0 for figure in figures):
        return "bad-value", "the figures must be numbers above zero", f"unit: {known[name].unit}"
    if figures != sorted(figures):
        return "bad-value", "the figures must run low, likely, high", f"unit: {known[name].unit}"
    return None
