"""Answers kept until the inventory is written: their text, and the way back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace

from barkwright.intake.interview import Interview, steps, tree_count
from barkwright.intake.replying import fits, reply

FORMAT = "barkwright-draft"
MOST_LETTERS = 1_000_000  # longest draft that is read; ours
MOST_REFUSED = 20  # of its answers; ours


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
    after, refused, tree = replace(interview, units=units), 0, 1
    while tree <= tree_count(after):
        before = after
        after, wrong = _taken(before, saved, tree, check=False)
        if not fits(after, tree):  # which of them does not fit is found one by one
            after, wrong = _taken(before, saved, tree, check=True)
        refused, tree = refused + wrong, tree + 1
        if refused > MOST_REFUSED:
            raise NoDraftError("too many of its answers do not fit")
    return replace(after, at=None), refused


def _taken(interview: Interview, saved: Mapping[str, str], tree: int, check: bool) -> tuple[Interview, int]:
    """The interview with the saved answers about a tree, with the first one also the site; how many are refused."""
    after, tried, refused = interview, set(interview.answers), 0
    while (step := next((one for one in steps(after, only=(tree,)) if one.key not in tried), None)) is not None:
        tried.add(step.key)
        if step.key in saved and (tree == 1 or step.question.of == "tree"):
            turn = reply(after, saved[step.key], step, check)
            after = after if turn.refused else turn.interview
            refused += turn.refused
    return after, refused


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
