"""What must be arranged or answered before a chosen way may be used: from the codes that its rules name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from barkwright.brood.finding import Question
from barkwright.datafile import load

RANK = 3  # questions about ways come after danger and brood


@dataclass(frozen=True, slots=True)
class Need:
    """One thing to arrange, and the question behind it where there is one."""

    arrange: str
    ask: str | None = None
    how: str = ""
    then: str = ""


@cache
def all_needs() -> dict[str, Need]:
    """Every need by its code."""
    return {code: Need(**need) for code, need in load("output/needs.yaml", dict[str, dict[str, str]]).items()}


def need_questions(codes: Iterable[str], asked: Iterable[Question]) -> tuple[Question, ...]:
    """The questions behind the needs of a plan, those left out that a stage has asked already."""
    have = {question.code for question in asked}
    known = all_needs()
    found = []
    for code in sorted(set(codes) - have):
        need = known.get(code)
        if need is not None and need.ask is not None:
            found.append(Question("site", code, need.ask, need.how, need.then, RANK))
    return tuple(found)
