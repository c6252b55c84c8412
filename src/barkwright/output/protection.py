"""What is worn for which task, and the paragraphs behind the rules of work that a briefing names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import cache
from typing import TYPE_CHECKING

from barkwright.datafile import load
from barkwright.output.advice import Basis, tags_of
from barkwright.record import dataclass
from barkwright.sources import Knowledge, cite

if TYPE_CHECKING:
    from barkwright.output.view import View

MARKS: dict[Knowledge, str] = {"read": "", "secondary": "*", "memory": "**"}
CODE = "29 CFR "


@dataclass(frozen=True, slots=True)
class Rule:
    """A paragraph and how well it is known; `letter` where its letters are known less well than the rule."""

    paragraph: str
    known: Knowledge
    sources: tuple[str, ...]
    letter: Knowledge | None = None
    row: str | None = None  # of the published table

    @property
    def shown(self) -> str:
        """The paragraph with the mark of how it is known."""
        return self.paragraph + MARKS[self.letter or self.known]


@dataclass(frozen=True, slots=True)
class Worn:
    """Something to wear; `short` names it beside its paragraph."""

    what: str
    short: str
    paragraph: str | None = None
    known: Knowledge | None = None
    sources: tuple[str, ...] = ()
    row: str | None = None


@dataclass(frozen=True, slots=True)
class Task:
    """A kind of work, the tags of a plan that it belongs to, and what is worn for it."""

    id: str
    title: str
    when: tuple[str, ...]
    wear: tuple[str, ...]
    basis: Basis = "published"


@dataclass(frozen=True, slots=True)
class Protection:
    """The whole file, data/output/protection.yaml."""

    checked_on: date
    worn: dict[str, Worn]
    tasks: tuple[Task, ...]
    rules: dict[str, Rule]


@cache
def book() -> Protection:
    """All of it, read once."""
    return load("output/protection.yaml", Protection)


def tasks_of(view: View) -> tuple[Task, ...]:
    """The tasks on this order for which something is worn."""
    tags = tags_of(view)
    return tuple(task for task in book().tasks if any(tag in tags for tag in task.when))


def rule(view: View, name: str) -> str:
    """The paragraph of a rule in brackets, its publication noted for the list; nothing but the note on a small site."""
    found = book().rules[name]
    view.cited.extend(cite(source) for source in found.sources)
    view.bases[f"rule-{name}"] = "from memory" if found.known == "memory" else "published"
    return "" if view.small else f" ({found.shown})"


def note(view: View, task: Task) -> None:
    """Put what a task's protection rests on on the lists at the end of the page."""
    view.cited.extend(cite(source) for name in task.wear for source in book().worn[name].sources)
    view.bases[f"wear-{task.id}"] = task.basis


def paragraphs(names: Sequence[str]) -> str:
    """The paragraphs of things worn, with marks, the common part said once: 1910.266(d)(1)(iv) legs, (v) boots."""
    return "; ".join(f"{head}{', '.join(parts)}" for head, parts in _by_section(names))


def _by_section(names: Sequence[str]) -> Iterator[tuple[str, list[str]]]:
    sections: dict[str, list[str]] = {}
    for worn in sorted((book().worn[name] for name in names), key=lambda one: one.paragraph or ""):
        if worn.paragraph is None or worn.known is None:
            continue
        head, bracket, last = worn.paragraph.removeprefix(CODE).rpartition("(")
        letter = f"({last}" if bracket else ""
        sections.setdefault(head or last, []).append(f"{letter}{MARKS[worn.known]} {worn.short}")
    yield from sections.items()
