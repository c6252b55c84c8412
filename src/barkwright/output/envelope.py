"""The JSON envelope that every command prints."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from importlib.metadata import version
from typing import Any

from barkwright.diagnostics import Diagnostic
from barkwright.output.json_types import DiagnosticRecord

FORMAT = 1


def envelope(command: str, on: date, found: Sequence[Diagnostic], result: Mapping[str, Any] | None) -> str:
    """The envelope as text: sorted keys, ISO dates, money as text, the same bytes for the same input."""
    whole = {
        "format": FORMAT,
        "program": {"name": "barkwright", "version": version("barkwright")},
        "command": command,
        "on": on,
        "diagnostics": [diagnostic_record(diagnostic) for diagnostic in found],
        "result": result,
    }
    text = json.dumps(whole, sort_keys=True, separators=(",", ":"), default=_plain, allow_nan=False, ensure_ascii=False)
    if not text.isprintable():  # what could steer a terminal is written as an escape, which reads as the same letter
        text = "".join(char if char.isprintable() else json.dumps(char)[1:-1] for char in text)
    return text + "\n"


def diagnostic_record(diagnostic: Diagnostic) -> DiagnosticRecord:
    """One diagnostic as plain data."""
    where = diagnostic.where
    return {
        "severity": diagnostic.severity,
        "code": diagnostic.code,
        "message": diagnostic.message,
        "file": where.file if where else None,
        "line": where.line if where else None,
        "column": where.column if where else None,
        "subject": diagnostic.subject,
        "value": diagnostic.value,
        "hint": diagnostic.hint,
    }


def _plain(value: object) -> str:
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return str(value)
    raise TypeError(f"{type(value).__name__} has no place in JSON")
