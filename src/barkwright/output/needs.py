"""What must be arranged or answered before a chosen way may be used: from the codes that its rules name."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from barkwright.brood.finding import Question
from barkwright.datafile import load
from barkwright.record import dataclass

COVERS = {"burn-permit": "burn-days"}  # who is asked about the permit is asked about the days
RANK = 3  # questions about ways come after danger and brood


@dataclass(frozen=True, slots=True)
class Need:
    """One thing to arrange, and the question behind it where there is one."""

    arrange: str
    ask: str | None = None
    how: str = ""
    then: str = ""


def covered(codes: Iterable[str]) -> frozenset[str]:
    """The needs that others among them ask about as well: who is asked about the permit is asked for the days."""
    have = set(codes)
    return frozenset(part for one, part in COVERS.items() if one in have)


@cache
def all_needs() -> dict[str, Need]:
    """Every need by its code."""
    return {code: Need(**need) for code, need in load("output/needs.yaml", dict[str, dict[str, str]]).items()}


def need_questions(codes: Iterable[str], asked: Iterable[Question]) -> tuple[Question, ...]:
    """The questions behind the needs of a plan, those left out that a stage has asked already."""
    have = {question.code for question in asked}
    known = all_needs()
    found = []
    wanted = set(codes) - have
    for code in sorted(wanted - covered(codes)):
        need = known.get(code)
        if need is not None and need.ask is not None:
            found.append(Question("site", code, need.ask, need.how, need.then, RANK))
    return tuple(found)
