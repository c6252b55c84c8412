"""A plan indexed the way a page asks for it: pieces, broods, ways and jobs by name; questions grouped and numbered."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from functools import cached_property
from shlex import quote
from typing import TYPE_CHECKING

from barkwright.output.asking import Asked, group_questions
from barkwright.output.measures import Units
from barkwright.output.names import shown_name
from barkwright.output.needs import COVERS, need_questions

if TYPE_CHECKING:
    from barkwright.brood.finding import PieceBrood, Question, TreeBrood
    from barkwright.inventory.model import Tree
    from barkwright.plan import Plan
    from barkwright.schedule.jobs import Choice, Job, Unmet
    from barkwright.sources import Citation, Reason
    from barkwright.stem.pieces import Piece, TreeStem
    from barkwright.treatment.ways import Way, Window


BROOD_RANK = 2  # rank of questions about brood; those of danger come before them
SMALL_SITE = 3  # up to this many trees the order is laid out for one reader, in as few pages as it takes; ours
FROM_OPTIONS = "the options of this command"  # what `tree` was made from: there is no file to write an answer into
FROM_STDIN = "<stdin>"  # what was read from standard input has no name that could be typed again
_TOLD = re.compile(r" ?Write [^.]*`(\w+)`[^.]*\.")
_OPTIONS = {
    "removal": "Say it with --removal.",
    "burning": "Say it with --burn-permit and --burn-window.",
    "destinations": "Write it on this sheet; --save FILE gives you an inventory that can hold it.",
}


class View:
    """Look-ups over one plan. Builds each index once, when it is first asked for."""

    def __init__(self, plan: Plan, units: Units, made_from: str) -> None:
        self.plan = plan
        self.units = units
        self.made_from = made_from
        self.currency = plan.inventory.currency

    @property
    def small(self) -> bool:
        """Is it a site of so few trees that one person carries the whole sheet?"""
        return len(self.trees) <= SMALL_SITE

    @cached_property
    def trees(self) -> Mapping[str, Tree]:
        """Trees by id, in the order of the file."""
        return {tree.id: tree for tree in self.plan.inventory.trees}

    @cached_property
    def stems(self) -> Mapping[str, TreeStem]:
        """Stems by tree id."""
        return {stem.tree: stem for stem in self.plan.stems}

    @cached_property
    def pieces(self) -> Mapping[str, Piece]:
        """Pieces by id, from the butt up, tree after tree."""
        return {piece.id: piece for stem in self.plan.stems for piece in stem.pieces}

    @cached_property
    def tree_places(self) -> Mapping[str, int]:
        """Places of the trees in the file, by id."""
        return {tree: place for place, tree in enumerate(self.trees)}

    @cached_property
    def piece_places(self) -> Mapping[str, int]:
        """Places of the pieces from the butt up, tree after tree, by id."""
        return {piece: place for place, piece in enumerate(self.pieces)}

    @cached_property
    def broods(self) -> Mapping[str, PieceBrood]:
        """What lives in each piece, by piece id."""
        return {found.piece: found for brood in self.plan.broods for found in brood.pieces}

    @cached_property
    def tree_broods(self) -> Mapping[str, TreeBrood]:
        """What lives in each tree, by tree id."""
        return {brood.tree: brood for brood in self.plan.broods}

    @cached_property
    def choices(self) -> Mapping[str, Choice]:
        """What was decided, by piece id."""
        return {choice.piece: choice for choice in self.plan.schedule.choices}

    @cached_property
    def unmet(self) -> Mapping[str, Unmet]:
        """What misses its date or has no way, by piece id."""
        return {piece: unmet for unmet in self.plan.schedule.unmet for piece in unmet.pieces}

    @cached_property
    def jobs_of(self) -> Mapping[str, tuple[Job, ...]]:
        """Jobs by tree id, in order of date."""
        found: dict[str, list[Job]] = defaultdict(list)
        for job in sorted(self.plan.schedule.jobs, key=lambda job: (job.first, job.last, _job_number(job.id))):
            for tree in dict.fromkeys([job.tree, *(piece.rpartition("/")[0] for piece in job.pieces)]):
                found[tree].append(job)
        return {tree: tuple(jobs) for tree, jobs in found.items()}

    @cached_property
    def felled(self) -> frozenset[str]:
        """Ids of the trees that are felled in this plan."""
        return frozenset(job.tree for job in self.plan.schedule.jobs if job.work == "fell")

    def way(self, piece: str) -> Way | None:
        """The way chosen for a piece, if one was."""
        return self._ways.get(piece)

    @cached_property
    def _ways(self) -> Mapping[str, Way]:
        listed = self.plan.ways
        return {
            choice.piece: way
            for choice in self.plan.schedule.choices
            for way in listed.get(choice.piece, ())
            if way.id == choice.way
        }

    def window(self, piece: str) -> Window | None:
        """The window of the chosen way in which the piece is done."""
        way, choice = self.way(piece), self.choices.get(piece)
        if way is None or choice is None or choice.window is None:
            return None
        return way.windows[choice.window]

    def due_dates(self, year: int) -> frozenset[date]:
        """The dates by which wood that must beat a flight is to be done, as the cards give them."""
        dates = set()
        for piece, found in self.broods.items():
            way, choice = self.way(piece), self.choices.get(piece)
            last = (choice.latest if choice else None) or (way.finish_by if way else None)
            if found.flight_to_beat == year and last is not None:
                dates.add(last)
        return frozenset(dates)

    @cached_property
    def asked(self) -> tuple[Asked, ...]:
        """Questions in order of rank, one entry for all the trees that share it."""
        return group_questions(self.questions)

    @cached_property
    def needs(self) -> Mapping[str, tuple[str, ...]]:
        """What must be arranged before the chosen ways may be used: pieces by the code of the need."""
        found: dict[str, list[str]] = defaultdict(list)
        for piece in self.choices:
            window = self.window(piece)
            for code in window.needs if window is not None else ():
                found[code].append(piece)
        return {code: tuple(pieces) for code, pieces in sorted(found.items())}

    @cached_property
    def questions(self) -> tuple[Question, ...]:
        """The questions of the stages, and those behind what the chosen ways need."""
        more = need_questions(self.needs, self.plan.questions)
        asked = sorted((*self.plan.questions, *more), key=lambda question: question.rank)
        return tuple(_by_option(one) for one in asked) if self.made_from == FROM_OPTIONS else tuple(asked)

    @cached_property
    def _numbers(self) -> Mapping[tuple[str, str], int]:
        return {(asked.code, subject): asked.number for asked in self.asked for subject in asked.subjects}

    @cached_property
    def cited(self) -> list[Citation]:
        """Citations of what has been shown so far; sections add to it as they are made."""
        return []

    @cached_property
    def bases(self) -> dict[str, str]:
        """What each rule that was shown so far rests on."""
        return {}

    def say(self, reason: Reason) -> str:
        """A reason as the reader sees it; its sources go on the list at the end."""
        self.cited.extend(reason.citations)
        self.bases[reason.rule] = reason.basis
        return self.units.sentence(reason.because) + (" (Local rule.)" if reason.local else "")

    def open_numbers(self, tree: str) -> tuple[int, ...]:
        """Numbers of the printed questions of danger and of brood about one tree."""
        return tuple(asked.number for asked in self.asked if tree in asked.subjects and asked.rank <= BROOD_RANK)

    def question_numbers(self, job: Job) -> tuple[int, ...]:
        """Numbers of all the printed questions that a provisional job has to wait for."""
        number = self.question_number(job)
        if number is None:
            return ()
        trees = {job.tree, *(piece.rpartition("/")[0] for piece in job.pieces)}
        return tuple(sorted({number, *(other for tree in trees for other in self.open_numbers(tree))}))

    def question_number(self, job: Job) -> int | None:
        """Number of the printed question that a provisional job rests on."""
        if job.question is None:
            return None
        code = next((covers for covers, part in COVERS.items() if part == job.question), job.question)
        codes = (job.question, code)
        for subject in (job.tree, *job.pieces, *(p.rpartition("/")[0] for p in job.pieces), "site"):
            for one in codes:
                number = self._numbers.get((one, subject))
                if number is not None:
                    return number
        return next((asked.number for asked in self.asked if asked.code in codes), None)


def _by_option(question: Question) -> Question:
    """The question with the option that takes its answer, in place of a key of a file that is not there."""
    how = _TOLD.sub(lambda found: " " + _OPTIONS.get(found[1], "Write it on this sheet."), question.how)
    return replace(question, how=how.strip())


def _job_number(job: str) -> tuple[int, str]:
    digits = "".join(char for char in job if char.isdigit())
    return (int(digits) if digits else 0, job)


def site_word(made_from: str) -> str:
    """What stands for the file in a command that the reader may type."""
    return "SITE" if made_from in (FROM_OPTIONS, FROM_STDIN) else quote(shown_name(made_from))


def sentences(texts: Iterable[str]) -> tuple[str, ...]:
    """Each sentence once, in the order in which it came."""
    return tuple(dict.fromkeys(text for text in texts if text))
