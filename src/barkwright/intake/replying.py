"""What an answer does: it is read, checked by the inventory's own reading, and kept in the interview or refused."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from barkwright.intake.answers import answered_sheet, options_of
from barkwright.intake.interview import Interview, Step, current, empty_answer, steps, tree_count
from barkwright.intake.questions import Question
from barkwright.intake.reading import NoAnswerError, is_unknown, read_answer
from barkwright.intake.sheet import OPTIONS_FILE, Sheet, SpecError
from barkwright.inventory.reading import read_inventory
from barkwright.record import dataclass

_LATER = frozenset(("missing-key", "missing-value", "status-needs", "question"))  # said while more is still to be asked


@dataclass(frozen=True, slots=True)
class Turn:
    """What came of an answer: the interview after it and what to say; `refused` where the question stays open."""

    interview: Interview
    said: tuple[str, ...] = ()
    refused: bool = False


def reply(interview: Interview, text: str, asked: Step | None = None, check: bool = True) -> Turn:
    """What comes of a text as the answer to the question that is asked now, or to the one that is said to be.

    check : is the answer to be held against the others?
    """
    step = asked or current(interview)
    if step is None:
        return Turn(interview)
    plain = text.strip()
    if not plain:
        now = empty_answer(interview, step)
        if now is None:
            return Turn(interview, ("an answer is wanted here; don't know is one too",), True)
        if step.key in interview.answers:
            return Turn(replace(interview, at=None))
        plain = now
    try:
        value = read_answer(step.question, plain, interview.units, interview.on)
        warned = _checked(interview, step, value) if check else ()
    except NoAnswerError as fault:
        return Turn(interview, (str(fault),), True)
    after = replace(interview, answers={**interview.answers, step.key: value}, at=None)
    return Turn(after, (*_told(step.question, plain, value), *warned))


def fits(interview: Interview, tree: int) -> bool:
    """Do the answers about a tree and the site make an inventory that has no errors so far?"""
    return all(severity != "error" for _, severity in _findings(interview, tree))


def sheet_of(interview: Interview, only: int | None = None) -> Sheet:
    """The answers and the options given as an inventory with comments, of one tree where `only`. Raises SpecError."""
    site = {"name": "one tree" if interview.command == "tree" else "my trees", **_site_options(interview)}
    trees = [_tree_options(interview, tree) for tree in ([only] if only else range(1, tree_count(interview) + 1))]
    parts = interview.answers.get("place", "").split(", ")
    return answered_sheet(site, trees, interview.units, parts[2] if len(parts) == 3 else None)


def all_options(interview: Interview) -> dict[str, Any]:
    """The same as the options of `tree`, for the first tree."""
    return {**_site_options(interview), **_tree_options(interview, 1)}


def _site_options(interview: Interview) -> dict[str, Any]:
    said = [(s.question, interview.answers[s.key]) for s in _answered(interview, 1) if s.question.of == "site"]
    return {**interview.given, **options_of(said)}


def _tree_options(interview: Interview, tree: int) -> dict[str, Any]:
    said = [
        (s.question, interview.answers[s.key])
        for s in _answered(interview, tree)
        if s.question.of == "tree" and s.tree == tree
    ]
    options = options_of(said)
    near = (*interview.given.get("near", ()), *options.pop("near", ()))
    return {"status": "standing", "attacked": "unknown", **interview.given, **options, "near": near}


def _answered(interview: Interview, tree: int) -> Iterator[Step]:
    return (step for step in steps(interview, only=(tree,)) if step.key in interview.answers)


def _told(question: Question, text: str, value: str) -> tuple[str, ...]:
    if is_unknown(text):
        return tuple(filter(None, (question.told.get("unknown"),)))
    if value[:1].isdigit() and "measured" in question.told:
        return (question.told["measured"],)
    return tuple(question.told[word] for word in value.split(",") if word in question.told)


def _checked(interview: Interview, step: Step, value: str) -> tuple[str, ...]:
    """What the inventory's reading warns of with this answer and not without. Raises NoAnswerError for its errors."""
    without = {key: one for key, one in interview.answers.items() if key != step.key}
    before = dict(_findings(replace(interview, answers=without), step.tree))
    after = _findings(replace(interview, answers={**without, step.key: value}), step.tree)
    new = [(message, severity) for message, severity in after if message not in before]
    wrong = [message for message, severity in new if severity == "error"]
    if wrong:
        raise NoAnswerError(wrong[0])
    return tuple(message for message, severity in new if severity == "warning")


def _findings(interview: Interview, tree: int) -> list[tuple[str, str]]:
    try:
        text = sheet_of(interview, tree).text
    except SpecError as fault:
        return [(str(fault), "error")]
    _, found = read_inventory(text, OPTIONS_FILE, interview.on)
    return [
        (_bare(one.message) + (f" ({one.hint})" if one.hint else ""), one.severity)
        for one in found
        if one.code not in _LATER
    ]


def _bare(message: str) -> str:
    owner, colon, rest = message.partition(": ")
    return rest if colon and owner.split()[0] in ("tree", "site", "crew", "equipment", "calendar") else message
