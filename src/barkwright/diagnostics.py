"""Diagnostics: what is wrong or worth knowing, where it stands, and what to do about it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from barkwright.record import dataclass

Severity = Literal["error", "warning", "note"]

Code = Literal[
    "assumption",
    "attack-before-flight",
    "attack-contradiction",
    "attack-in-future",
    "avoid-and-prefer",
    "bad-choice",
    "bad-condition",
    "bad-date",
    "bad-id",
    "bad-number",
    "bad-path",
    "bad-table",
    "bad-value",
    "bad-version",
    "below-breast-height",
    "capacity-reversed",
    "control-character",
    "coordinates-swapped",
    "down-before-attack",
    "down-in-future",
    "duplicate-id",
    "duplicate-key",
    "duplicate-name",
    "empty",
    "entry-in-future",
    "estimated",
    "expired",
    "fallback",
    "girth-and-dbh",
    "interrupted",
    "left-out",
    "local",
    "logs-and-dbh",
    "logs-over-height",
    "lost-journal",
    "margin-and-markup",
    "missing-key",
    "missing-value",
    "never-attacked",
    "never-fires",
    "no-capacity",
    "no-days",
    "no-price",
    "not-plain",
    "not-utf8",
    "not-yaml",
    "odd-place",
    "odd-shape",
    "other-cutting",
    "out-of-range",
    "outside-range",
    "permit-not-answered",
    "placeholder",
    "proxy",
    "question",
    "rate-and-unpaid",
    "rules-contradict",
    "seen-in-future",
    "span-reversed",
    "stages-contradict",
    "status-forbids",
    "status-needs",
    "too-deep",
    "too-large",
    "top-over-butt",
    "uncited",
    "unknown-fact",
    "unknown-key",
    "unknown-name",
    "unknown-source",
    "unknown-tree",
    "unreadable",
    "weather-dates",
    "weather-doubt",
    "weather-duplicate",
    "weather-file",
    "weather-gap",
    "weather-read",
    "weather-row",
    "weather-station",
    "weather-thin",
    "weather-units",
    "weather-which",
    "wrong-look",
    "wrong-unit",
]


@dataclass(frozen=True, slots=True)
class Place:
    """Where something is written: file, line and column, both counted from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One thing to tell the user. Message in lower case, without a final stop; the hint says what to do."""

    severity: Severity
    code: Code
    message: str
    where: Place | None = None
    subject: str | None = None  # tree or piece id, where there is no place
    value: str | None = None  # as written
    hint: str | None = None

    def __str__(self) -> str:
        """One line in GNU style: file:line:column: severity: message [code]."""
        place = f"{self.where}: " if self.where else f"{self.subject}: " if self.subject else ""
        return f"{place}{self.severity}: {self.message} [{self.code}]"


def first(found: Sequence[Diagnostic], most: int = 20) -> tuple[tuple[Diagnostic, ...], int]:
    """At most `most` diagnostics in their order, errors kept before others; and how many are left out."""
    if len(found) <= most:
        return tuple(found), 0
    order = {"error": 0, "warning": 1, "note": 2}
    kept = sorted(range(len(found)), key=lambda n: (order[found[n].severity], n))[:most]
    return tuple(found[n] for n in sorted(kept)), len(found) - most
