"""Diagnostics: what is wrong or worth knowing, where it stands, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "warning", "note"]

Code = Literal[
    "assumption",
    "attack-before-flight",
    "attack-contradiction",
    "attack-in-future",
    "avoid-and-prefer",
    "bad-choice",
    "bad-date",
    "bad-id",
    "bad-number",
    "bad-path",
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
    "estimated",
    "expired",
    "fallback",
    "girth-and-dbh",
    "local",
    "logs-and-dbh",
    "logs-over-height",
    "missing-key",
    "missing-value",
    "never-attacked",
    "no-capacity",
    "no-days",
    "no-price",
    "not-plain",
    "not-utf8",
    "not-yaml",
    "odd-place",
    "odd-shape",
    "out-of-range",
    "outside-range",
    "permit-not-answered",
    "placeholder",
    "proxy",
    "question",
    "rate-and-unpaid",
    "seen-in-future",
    "span-reversed",
    "stages-contradict",
    "status-forbids",
    "status-needs",
    "too-deep",
    "too-large",
    "top-over-butt",
    "unknown-key",
    "unknown-name",
    "unknown-tree",
    "unreadable",
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
