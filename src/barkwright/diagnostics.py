"""Diagnostics: what is wrong or worth knowing, where it stands, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "warning", "note"]

Code = Literal[
    "assumption",
    "attack-contradiction",
    "bad-value",
    "control-character",
    "duplicate-id",
    "duplicate-key",
    "empty",
    "estimated",
    "fallback",
    "missing-key",
    "missing-value",
    "not-plain",
    "not-utf8",
    "not-yaml",
    "out-of-range",
    "outside-range",
    "question",
    "too-deep",
    "too-large",
    "unknown-key",
    "unreadable",
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
