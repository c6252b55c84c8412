"""The questions that are asked at a terminal: data/intake/questions.yaml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date
from typing import Literal

from barkwright.datafile import load
from barkwright.record import dataclass

Command = Literal["tree", "new"]
Kind = Literal[
    "distance", "across", "stem", "height", "choice", "choices", "number", "money", "day", "year", "place", "text",
    "tools", "logs",
]  # fmt: skip

UNKNOWN = "unknown"  # the answer "don't know", of every question


@dataclass(frozen=True, slots=True)
class Question:
    """One question; the fields are explained at the head of the file."""

    id: str
    options: tuple[str, ...]
    of: Literal["tree", "site"]
    commands: tuple[Command, ...]
    key: str
    kind: Kind
    topic: str
    label: str
    ask: str
    means: str
    example: str
    how: str = ""
    more: str = ""
    choices: dict[str, str] = field(default_factory=dict)
    says: dict[str, str] = field(default_factory=dict)
    bare: bool = False  # the choices need no list
    empty: str | None = None
    unknown: str | None = None
    told: dict[str, str] = field(default_factory=dict)
    when: dict[str, tuple[str, ...]] = field(default_factory=dict)
    repeats: bool = False
    beside: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class QuestionBook:
    """The whole file."""

    checked_on: date
    basis: str
    questions: tuple[Question, ...]


def question_book() -> QuestionBook:
    """All questions, in the order in which they are asked."""
    return load("intake/questions.yaml", QuestionBook)


def is_asked(question: Question, answers: Mapping[str, str]) -> bool:
    """Do the answers so far, by id of the question, leave this one to be asked?"""
    return all(_fits(answers.get(earlier), wanted) for earlier, wanted in question.when.items())


def _fits(answer: str | None, wanted: tuple[str, ...]) -> bool:
    if answer is None or f"-{answer}" in wanted:
        return False
    kind = UNKNOWN if answer == UNKNOWN else "known"
    return answer in wanted or kind in wanted or ("measured" in wanted and answer[:1].isdigit())
