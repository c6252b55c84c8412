"""Which way each piece takes in a course, and what keeps a course from being taken."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from barkwright.brood.finding import PieceBrood
from barkwright.record import dataclass
from barkwright.schedule.jobs import Choice
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.sources import Reason
from barkwright.stem.pieces import Piece
from barkwright.study.courses import Course, course_of
from barkwright.treatment.rulebook import Rule
from barkwright.treatment.ways import End, Step, Way, Window

NO_TOOL = "tools-missing"  # the rule that bars a way whose tools are not listed
ENOUGH = 30  # days: a window as long as that is not preferred to a shorter one that opens sooner; ours
ENDS: tuple[End, ...] = ("done", "partial", "not done")


@dataclass(frozen=True, slots=True)
class Wood:
    """One piece of the scope, with its tree."""

    tree: TreeWork
    piece: Piece
    brood: PieceBrood
    ways: Mapping[str, tuple[Way, ...]]  # by course; those without tools too, ruled out by that


@dataclass(frozen=True, slots=True)
class Leave:
    """What a course is to do without: kinds of machines, where it can, and the client's wishes."""

    machines: frozenset[str] = frozenset()
    wishes: bool = False


NOTHING_LEFT = Leave()


@dataclass(frozen=True, slots=True)
class Taken:
    """A piece with the way and the window that it takes, and what that asks of hands and machines."""

    wood: Wood
    way: Way
    window: Window
    steps: tuple[Step, ...]
    planned: bool  # as the plan has it

    @property
    def last(self) -> date:
        """The last day on which the work is as it is in its window."""
        return max(one.last for one in self.way.windows if _like(one) == _like(self.window))

    @property
    def open_days(self) -> int:
        """Days on which the work is as it is in its window."""
        alike = (one for one in self.way.windows if _like(one) == _like(self.window))
        return sum((one.last - one.first).days + 1 for one in alike)


@dataclass(frozen=True, slots=True)
class Barred:
    """A reason that keeps a course from being taken, and what would rule it in."""

    reason: Reason
    opens: str | None


def woods_of(work: SiteWork, trees: Sequence[TreeWork]) -> tuple[Wood, ...]:
    """The pieces of trees in which something is at stake, with all their ways."""
    return tuple(
        Wood(tree, piece, brood, by_course(work, work.bench.ways(tree.tree, piece, brood, all_tools=True)))
        for tree in trees
        for piece, brood, _ in tree.pieces()
        if brood.brood != "none" or brood.host
    )


def by_course(work: SiteWork, ways: Sequence[Way]) -> dict[str, tuple[Way, ...]]:
    """Ways by the id of their course."""
    found: dict[str, list[Way]] = {}
    for way in ways:
        found.setdefault(course_of()[work.bench.template(way.id).id].id, []).append(way)
    return {course: tuple(same) for course, same in found.items()}


def planned_of(work: SiteWork, wood: Wood, choices: Mapping[str, Choice]) -> Taken | None:
    """A piece as the plan treats it; None where the plan does nothing to it."""
    choice = choices.get(wood.piece.id)
    if choice is None or choice.way is None or choice.window is None:
        return None
    way = next((one for same in wood.ways.values() for one in same if one.id == choice.way), None)
    return None if way is None else _taken(work, wood, way, way.windows[choice.window], True)


def taken_by(
    work: SiteWork, course: Course, wood: Wood, planned: Taken | None, leave: Leave = NOTHING_LEFT
) -> Taken | None:
    """The best way of a course for a piece: the plan's own if it is of that course, else what stops most in least time.

    Of equal ways the one that can be finished by its date, needs fewer hours, then fewer kinds of tools, is open long
    enough, opens sooner. leave : what is let go of
    """
    ways = wood.ways.get(course.id, ())
    if planned is not None and any(way.id == planned.way.id for way in ways):
        return planned
    found: tuple[tuple[float, ...], Taken] | None = None
    for way in ways:
        for window in _distinct(way, leave.wishes):
            taken = _taken(work, wood, way, window, False)
            hours = round(sum(step.person_hours.mean for step in taken.steps), 3)
            rank = (
                ENDS.index(window.end),
                way.finish_by is not None and window.first > way.finish_by,
                any(kind in leave.machines for step in taken.steps for kind in step.equipment),
                hours,
                len(way.tools),
                -min(taken.open_days, ENOUGH),
                window.first.toordinal(),
            )
            if found is None or rank < found[0]:
                found = (rank, taken)
    return None if found is None else found[1]


def barred_of(work: SiteWork, course: Course, woods: Sequence[Wood]) -> tuple[Barred, ...]:
    """What rules the ways of a course out, the reason that bars most pieces first; each rule once."""
    rules = {rule.id: rule for rule in work.bench.book.rules}
    counted: dict[str, tuple[int, Reason]] = {}
    for wood in woods:
        named: dict[str, Reason] = {}
        ways = wood.ways.get(course.id, ())
        with_tools = [way for way in ways if not any(one.rule == NO_TOOL for one in way.windows[0].reasons)]
        for way in with_tools or ways:
            named.update({one.rule: one for one in _bars(way, rules)})
        for rule, reason in named.items():
            counted[rule] = (counted.get(rule, (0, reason))[0] + 1, counted.get(rule, (0, reason))[1])
    order = sorted(counted, key=lambda rule: (not rules[rule].wish, -counted[rule][0], rule))
    return tuple(Barred(counted[rule][1], rules[rule].opens) for rule in order)


def _bars(way: Way, rules: Mapping[str, Rule]) -> Iterator[Reason]:
    """The wish that alone rules a way out; what does so all along; else what does so in its last window."""
    wished = next((window for window in way.windows if _by_wish(window)), None)
    if wished is not None:
        yield from (one for one in wished.reasons if rules[one.rule].wish)
        return
    shut = [[one for one in window.reasons if rules[one.rule].verdict == "ruled out"] for window in way.windows]
    always = [one for one in shut[0] if all(any(one.rule == other.rule for other in each) for each in shut)]
    yield from always or shut[-1]


def _distinct(way: Way, wishes: bool) -> Iterator[Window]:
    """The first of all windows in which the work is alike, of those that may be taken; against wishes too, if asked."""
    seen: set[tuple[object, ...]] = set()
    for window in way.windows:
        like = _like(window)
        if (window.verdict != "ruled out" or (wishes and _by_wish(window))) and like not in seen:
            seen.add(like)
            yield window


def _by_wish(window: Window) -> bool:
    """Does a wish alone rule the window out?"""
    return window.verdict == "ruled out" and window.without_wish not in (None, "ruled out")


def _like(window: Window) -> tuple[object, ...]:
    return window.bark, window.end, window.verdict, window.needs


def _taken(work: SiteWork, wood: Wood, way: Way, window: Window, planned: bool) -> Taken:
    return Taken(wood, way, window, work.steps(wood.tree.tree, wood.piece, wood.brood, way, window), planned)
