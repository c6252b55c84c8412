"""The questions one after the other: what is asked next, and what an answer does. Nothing here reads or prints."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from datetime import date
from typing import Any

from barkwright.intake.questions import Command, Question, is_asked, question_book
from barkwright.intake.sheet import pairs
from barkwright.record import dataclass

_LIKELY = {
    "status": "standing",
    "attacked": "2026",
    "found": "larvae",
    "line": "out-of-reach",
}  # to count what is to come
MOST_TREES = 200  # asked for one by one; ours


@dataclass(frozen=True, slots=True)
class Step:
    """A question as it is asked: of which tree."""

    question: Question
    tree: int

    @property
    def key(self) -> str:
        """Its name among the answers."""
        return f"T{self.tree}.{self.question.id}" if self.question.of == "tree" else self.question.id


@dataclass(frozen=True, slots=True)
class Interview:
    """What has been answered so far, and where one went back to."""

    command: Command
    on: date
    units: str = "imperial"
    given: Mapping[str, Any] = field(default_factory=dict)  # options of the command line, by name
    answers: Mapping[str, str] = field(default_factory=dict)  # by the key of their step
    at: str | None = None  # the step that was gone back to


def steps(interview: Interview, likely: bool = False, only: Sequence[int] | None = None) -> tuple[Step, ...]:
    """All that is asked, given the answers so far.

    likely : also what will probably be asked by and by; only : of these trees, and of the site
    """
    asked = [
        one for one in question_book().questions if interview.command in one.commands and not _is_given(one, interview)
    ]
    last = max((number for number, one in enumerate(asked) if one.of == "tree"), default=-1) + 1
    found: list[Step] = []
    for tree in only or range(1, tree_count(interview) + 1):
        known = {**(_LIKELY if likely else {}), **known_answers(interview, tree)}
        found += [
            Step(one, tree)
            for one in asked[:last]
            if (tree == 1 or one.of == "tree") and is_asked(one, known)
        ]  # fmt: skip
    return (*found, *(Step(one, 1) for one in asked[last:]))


def tree_count(interview: Interview) -> int:
    """How many trees there are, as far as the answers say."""
    count = 1
    while interview.command == "new" and interview.answers.get(f"T{count}.more") == "yes" and count < MOST_TREES:
        count += 1
    return count


def current(interview: Interview) -> Step | None:
    """The question to ask now: the one gone back to, else the first without an answer; None when all have one."""
    all_steps = steps(interview)
    back = next((step for step in all_steps if step.key == interview.at), None)
    return back or next((step for step in all_steps if step.key not in interview.answers), None)


def back(interview: Interview) -> Interview | None:
    """The interview at the question before; None where there is none."""
    all_steps = steps(interview)
    step = current(interview)
    here = next((number for number, one in enumerate(all_steps) if step and one.key == step.key), len(all_steps))
    return replace(interview, at=all_steps[here - 1].key) if here > 0 else None


def empty_answer(interview: Interview, step: Step) -> str | None:
    """What an empty line stands for here: the answer so far, that of the tree before, or the question's own."""
    if step.key in interview.answers:
        return interview.answers[step.key]
    before = interview.answers.get(Step(step.question, step.tree - 1).key)
    if step.question.repeats and step.tree > 1 and before is not None:
        return before
    return step.question.empty


def known_answers(interview: Interview, tree: int) -> dict[str, str]:
    """Answers and given options by the id of their question, for one tree."""
    known = {}
    for question in question_book().questions:
        value = interview.answers.get(Step(question, tree).key)
        if value is None and _is_given(question, interview):
            value = _given_value(question, interview)
        if value is not None:
            known[question.id] = value
    return known


def _is_given(question: Question, interview: Interview) -> bool:
    given = interview.given
    if question.key.startswith("near."):
        return any(key == question.key.removeprefix("near.") for key, _ in pairs(given.get("near", ()), "--near"))
    if question.key == "place":
        return "latitude" in given and "longitude" in given
    if question.key == "stem":
        return "girth" in given or "dbh" in given
    return question.key in given


def _given_value(question: Question, interview: Interview) -> str:
    if question.key.startswith("near."):
        return dict(pairs(interview.given["near"], "--near"))[question.key.removeprefix("near.")]
    return str(interview.given.get(question.key, ""))
