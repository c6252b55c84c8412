"""Questions as they are printed: one entry for all the trees that share it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from barkwright.output.names import tree_names
from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.brood.finding import Question

DANGER = 1  # rank of questions about danger: of their distances the largest holds for all
FEW = 3  # so many trees are named inside the sentence; more stand before it
_SUBJECT = "\0"
_FEET = re.compile(r"\d+(?= ft\b)")


@dataclass(frozen=True, slots=True)
class Asked:
    """One question as it is printed, for all the trees that share it."""

    number: int
    subjects: tuple[str, ...]
    text: str
    how: str
    then: str
    rank: int
    code: str


def group_questions(questions: Iterable[Question]) -> tuple[Asked, ...]:
    """Questions in order of rank; those that differ only in their tree become one."""
    groups: dict[tuple[int, str, str, str, str], list[Question]] = {}
    for question in sorted(questions, key=lambda question: question.rank):
        texts = (question.text, question.how, question.then)
        shape = tuple(_blank(text, question) for text in texts)
        groups.setdefault((question.rank, question.code, *shape), []).append(question)  # type: ignore[arg-type]
    return tuple(_asked(number, same) for number, same in enumerate(groups.values(), 1))


def _generic(text: str, subject: str) -> str:
    return re.sub(rf"(?<![\w-]){re.escape(subject)}(?![\w-])", _SUBJECT, text)


def _blank(text: str, question: Question) -> str:
    text = _generic(text, question.subject)
    return _FEET.sub("#", text) if question.rank == DANGER else text


def _asked(number: int, same: Sequence[Question]) -> Asked:
    first = same[0]
    subjects = tuple(dict.fromkeys(question.subject for question in same))
    text, how, then = (
        _together([_generic(text, question.subject) for question, text in zip(same, texts, strict=True)], subjects)
        for texts in zip(*((question.text, question.how, question.then) for question in same), strict=True)
    )
    return Asked(number, subjects, text, how, then, first.rank, first.code)


def _together(texts: Sequence[str], subjects: Sequence[str]) -> str:
    """One sentence for all: the largest of each distance, and the names where they are few."""
    largest = [max(map(int, found)) for found in zip(*(_FEET.findall(text) for text in texts), strict=False)]
    text = texts[0]
    if len(set(texts)) > 1:
        amounts = iter(largest)
        text = _FEET.sub(lambda _: str(next(amounts)), text)
    if len(subjects) <= FEW:
        return text.replace(_SUBJECT, tree_names(subjects))
    text = re.sub(rf"(^|[.?!] ){_SUBJECT}", r"\1Each of them", text)
    return text.replace(_SUBJECT, "each of them")
