"""Why, the middle of the page: each way with its windows, and the rules behind them, each said once under a number."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Items, Para, Table
from barkwright.output.measures import Units
from barkwright.output.names import runs
from barkwright.output.words import day, hours
from barkwright.spread import NOTHING
from barkwright.treatment.effort import steps_of
from barkwright.treatment.why import why

if TYPE_CHECKING:
    from barkwright.brood.finding import PieceBrood
    from barkwright.inventory.model import Tree
    from barkwright.plan import WayPlan
    from barkwright.sources import Reason
    from barkwright.spread import Spread
    from barkwright.stem.pieces import Piece, TreeStem
    from barkwright.treatment.ways import Step, Window
    from barkwright.treatment.why import Fired, Why, WhyWay, WhyWindow

ENDS = {"done": "all", "partial": "part", "not done": "none"}
HEAD = ("Until", "It fits", "Stops", "Low", "Likely", "High", "Bark", "Rules")


class Case:
    """One piece with everything that stands behind it."""

    def __init__(self, plan: WayPlan, piece_id: str, units: Units) -> None:
        self.plan = plan
        self.units = units
        self.stem: TreeStem
        self.piece: Piece
        self.brood: PieceBrood
        self.tree: Tree
        flight = plan.flight
        for tree, stem, brood in zip(flight.tally.inventory.trees, flight.tally.stems, flight.broods, strict=True):
            for piece, found in zip(stem.pieces, brood.pieces, strict=True):
                if piece.id == piece_id:
                    self.tree, self.stem, self.piece, self.brood = tree, stem, piece, found
        self.why: Why = why(plan.bench, self.tree, self.piece, self.brood)

    def steps(self, way: WhyWay, window: Window) -> tuple[Step, ...]:
        """What the way takes in that window; nothing where it is ruled out."""
        if window.verdict == "ruled out":
            return ()
        return steps_of(self.plan.bench, self.tree, self.piece, self.brood, way.way, window)


class RuleList:
    """The rules that spoke, numbered in the order in which they are first named."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self._numbers: dict[tuple[str, tuple[str, ...]], int] = {}

    def number(self, fired: Fired) -> int:
        """Number of a rule that spoke."""
        said = (reason_words(self.case, fired.reason), fired.asked)
        return self._numbers.setdefault(said, len(self._numbers) + 1)

    def listed(self) -> Items:
        """All of them: what each says, its grade and source, and what it asked."""
        say = self.case.units.sentence
        entries = [(said, (f"Asked: {say('; '.join(asked))}.",) if asked else ()) for said, asked in self._numbers]
        return Items(tuple(entries), "1.")


def reason_words(case: Case, reason: Reason) -> str:
    """A reason with its grade and its sources."""
    where = "; ".join(str(citation) for citation in reason.citations) or reason.own_source or reason.basis
    local = ", local rule" if reason.local else ""
    return f"{case.units.sentence(reason.because)} ({reason.grade}: {where}{local})"


def open_way(case: Case, way: WhyWay, rules: RuleList) -> Card:
    """A way with its windows in order of date; the steps of the first that is open."""
    dates = []
    if way.way.finish_by is not None and way.way.method != "leave":
        dates.append(f"to be done by {day(way.way.finish_by)}")
    if way.way.too_late is not None and way.way.method != "leave":
        dates.append(f"too late after {day(way.way.too_late)}")
    title = _title(case, way) + (f" - {', '.join(dates)}" if dates else "")
    groups: list[tuple[tuple[str, ...], list[WhyWindow]]] = []
    for window in way.windows:
        said = _verdict(case, way, window)
        if groups and groups[-1][0] == said:
            groups[-1][1].append(window)
        else:
            groups.append((said, [window]))
    rows = tuple((_until(held[-1].window.last), *said, _by(rules, held)) for said, held in groups)
    first = next(window.window for window in way.windows if window.window.verdict != "ruled out")
    steps = [f"{case.units.sentence(step.what)} ({_likely(step.person_hours)})" for step in case.steps(way, first)]
    blocks: list[Table | Para] = [Table(HEAD, rows, "lllrrrll", len(HEAD) - 1)]
    if len(steps) > 1:
        blocks.append(Para(f"Its steps, as from {day(first.first)}: {'; '.join(steps)}."))
    return Card(title, tuple(blocks))


def shut_ways(ways: Sequence[WhyWay], rules: RuleList) -> Items:
    """Ways that are closed on every day: what closes them all along, and what else does on some days."""
    same: dict[tuple[str, ...], list[str]] = {}
    for way in ways:
        barring = [[one for one in window.fired if one.verdict == "ruled out"] for window in way.windows]
        numbers = [{rules.number(one): one.title for one in fired} for fired in barring]
        always = {number for number in numbers[0] if all(number in one for one in numbers)} if numbers else set()
        some = {number: title for one in numbers for number, title in one.items() if number not in always}
        lines = [
            _titled("All along", {number: numbers[0][number] for number in sorted(always)}),
            _titled("At times", some),
        ]
        same.setdefault(tuple(line for line in lines if line), []).append(_title(rules.case, way))
    return Items(tuple(("; ".join(titles) + ".", lines) for lines, titles in same.items()))


def _titled(lead: str, rules: Mapping[int, str]) -> str:
    named = [f"{title} (rule {number})" for number, title in sorted(rules.items())]
    return f"{lead}: {'; '.join(named)}." if named else ""


def _until(last: date) -> str:
    return day(last).partition(" ")[2]


def _likely(amount: Spread) -> str:
    return f"{hours(amount.low)}, {hours(amount.likely)}, {hours(amount.high)}"


def _title(case: Case, way: WhyWay) -> str:
    title = case.units.sentence(way.way.title)
    return title[0].upper() + title[1:]


def _verdict(case: Case, way: WhyWay, window: WhyWindow) -> tuple[str, ...]:
    held = window.window
    if held.verdict == "ruled out":
        return (held.verdict, "", "", "", "", "")
    steps = case.steps(way, held)
    total = sum((step.person_hours for step in steps), NOTHING)
    effort = [hours(value) for value in (total.low, total.likely, total.high)] if steps else ["", "", ""]
    stops = ENDS[held.end] if case.brood.brood != "none" or case.brood.host else "-"
    return (held.verdict.removeprefix("fits "), stops, *effort, held.bark if steps else "")


def _by(rules: RuleList, windows: Sequence[WhyWindow]) -> str:
    return runs(rules.number(one) for window in windows for one in window.fired)
