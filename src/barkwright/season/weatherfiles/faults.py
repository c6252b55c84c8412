"""Faults of single rows, with their places: a handful of each kind is shown, the rest is counted."""

from __future__ import annotations

from collections import Counter
from dataclasses import field

from barkwright.diagnostics import Diagnostic, Place
from barkwright.record import dataclass
from barkwright.season.weatherfiles.limits import limits


@dataclass(slots=True)
class Faults:
    """What is wrong with the rows of one file."""

    file: str
    rows: int = 0
    counts: Counter[str] = field(default_factory=Counter)
    lines: set[int] = field(default_factory=set)
    shown: list[Diagnostic] = field(default_factory=list)

    def add(self, kind: str, line: int, column: int, message: str, value: str = "", hint: str | None = None) -> None:
        """One more fault of a kind; `kind` reads after "and 3 more rows with"."""
        self.counts[kind] += 1
        self.lines.add(line)
        if self.counts[kind] <= limits().shown_per_kind:
            where = Place(self.file, line, column)
            self.shown.append(Diagnostic("warning", "weather-row", message, where, value=value[:80] or None, hint=hint))

    @property
    def mostly(self) -> bool:
        """Are most of the rows at fault?"""
        return len(self.lines) > limits().most_faulty_share * self.rows

    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """The faults shown, and for each kind how many more there are."""
        most = limits().shown_per_kind
        more = [
            Diagnostic("warning", "weather-row", f"and {n - most:,} more with {kind}", Place(self.file, 1, 1))
            for kind, n in sorted(self.counts.items())
            if n > most
        ]
        return (*self.shown, *more)
