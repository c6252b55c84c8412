"""Answers kept until the inventory is written: their text, and the way back."""

from __future__ import annotations

import json
from dataclasses import replace

from barkwright.intake.interview import Interview, steps
from barkwright.intake.replying import reply

FORMAT = "barkwright-draft"
MOST_LETTERS = 1_000_000  # longest draft that is read; ours


class NoDraftError(ValueError):
    """Text that is no draft of this command; the message says why."""


def draft_text(interview: Interview) -> str:
    """The answers so far as a text that can be kept."""
    record = {
        FORMAT: 1, "command": interview.command, "units": interview.units, "answers": dict(interview.answers)
    }  # fmt: skip
    return json.dumps(record, indent=1) + "\n"


def with_draft(interview: Interview, text: str) -> tuple[Interview, int]:
    """The interview with the answers of a draft, each read again, and how many are refused now. Raises NoDraftError."""
    units, saved = _record(interview, text)
    after, tried, refused = replace(interview, units=units), set[str](), 0
    while (step := next((one for one in steps(after) if one.key not in tried), None)) is not None:
        tried.add(step.key)
        if step.key in saved:
            turn = reply(replace(after, at=step.key), saved[step.key])
            after = after if turn.refused else turn.interview
            refused += turn.refused
    return replace(after, at=None), refused


def _record(interview: Interview, text: str) -> tuple[str, dict[str, str]]:
    try:
        record = json.loads(text) if len(text) <= MOST_LETTERS else None
    except (ValueError, RecursionError):
        record = None
    if not isinstance(record, dict) or record.get(FORMAT) != 1:
        raise NoDraftError("it is no draft of this program")
    if record.get("command") != interview.command:
        raise NoDraftError("it is a draft of another command")
    answers, units = record.get("answers"), record.get("units")
    if units not in ("imperial", "metric") or not isinstance(answers, dict):
        raise NoDraftError("it is damaged")
    return units, {str(key): value for key, value in answers.items() if isinstance(value, str)}
