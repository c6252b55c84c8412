"""Why: for one piece, every fact, and for every way the rules that fired in each of its windows."""

from __future__ import annotations

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Tree
from barkwright.record import dataclass
from barkwright.sources import Reason
from barkwright.stem.pieces import Piece
from barkwright.treatment.bench import Bench
from barkwright.treatment.conditions import Condition, Region, Value, facts
from barkwright.treatment.limits import LIMITS
from barkwright.treatment.rulebook import Rule
from barkwright.treatment.shown import shown
from barkwright.treatment.ways import Way, Window


@dataclass(frozen=True, slots=True)
class FactLine:
    """One fact as a reader sees it."""

    name: str
    scope: str  # site tree piece brood way day
    meaning: str
    value: str  # with its unit; "not known" where it is absent
    unit: str | None
    origin: str  # where the value comes from


@dataclass(frozen=True, slots=True)
class Fired:
    """One rule that fired, what it asked and what it did."""

    reason: Reason
    title: str
    asked: tuple[str, ...]  # its conditions in words
    verdict: str
    end: str


@dataclass(frozen=True, slots=True)
class WhyWindow:
    """One window of a way, the facts that hold on its first day, and the rules behind its verdict."""

    window: Window
    facts: tuple[FactLine, ...]  # way and day facts on the first day
    fired: tuple[Fired, ...]  # in the order of the window's reasons


@dataclass(frozen=True, slots=True)
class WhyWay:
    """One way and its windows."""

    way: Way
    windows: tuple[WhyWindow, ...]


@dataclass(frozen=True, slots=True)
class Why:
    """All that the rules saw of one piece, and all that they said."""

    piece: str
    facts: tuple[FactLine, ...]  # site, tree, piece and brood
    ways: tuple[WhyWay, ...]  # those without tools too, ruled out by that
    limits: tuple[tuple[str, str, str], ...]  # what the facts rest on: what, value with unit, source or basis


def why(bench: Bench, tree: Tree, piece: Piece, brood: PieceBrood) -> Why:
    """Every fact, rule and limit behind one piece."""
    ways = bench.ways(tree, piece, brood, all_tools=True)
    rules = {one.id: one for one in bench.book.rules}
    first = bench.facts(tree, piece, brood, ways[0].id, bench.on) if ways else {}
    return Why(
        piece.id,
        _lines(first, ("site", "tree", "piece", "brood")),
        tuple(
            WhyWay(way, tuple(_window(bench, tree, piece, brood, way, one, rules) for one in way.windows))
            for way in ways
        ),
        tuple(
            (one.what, _limit(one.value, one.unit), "; ".join(one.sources) or one.basis or "")
            for one in LIMITS.whole.values()
        ),
    )


def words_of(condition: Condition) -> str:
    """A condition in words: `thick end across the bark: above 8 in`."""
    fact = facts()[condition.fact]
    return f"{fact.meaning}: {_region(condition.region, fact.unit)}"


def _window(
    bench: Bench, tree: Tree, piece: Piece, brood: PieceBrood, way: Way, window: Window, rules: dict[str, Rule]
) -> WhyWindow:
    known = bench.facts(tree, piece, brood, way.id, window.first)
    fired = tuple(
        Fired(one, rule.title, tuple(words_of(c) for c in rule.when), rule.verdict, rule.end)
        for one in window.reasons
        for rule in (rules[one.rule],)
    )
    return WhyWindow(window, _lines(known, ("way", "day")), fired)


def _lines(values: dict[str, Value | None], scopes: tuple[str, ...]) -> tuple[FactLine, ...]:
    return tuple(
        FactLine(name, fact.scope, fact.meaning, shown(name, values.get(name)), fact.unit, fact.origin)
        for name, fact in facts().items()
        if fact.scope in scopes and name in values
    )


def _region(region: Region, unit: str | None) -> str:
    if region.words is not None:
        said = {"true": "yes", "false": "no"}
        return " or ".join(sorted(said.get(one, one) for one in region.words))
    ends = []
    if region.low == region.high:
        return f"exactly {_amount(region.low, unit)}"
    if region.low != float("-inf"):
        ends.append(f"{'above' if region.low_open else 'at least'} {_amount(region.low, unit)}")
    if region.high != float("inf"):
        ends.append(f"{'below' if region.high_open else 'at most'} {_amount(region.high, unit)}")
    return ", ".join(ends)


def _amount(value: float, unit: str | None) -> str:
    return f"{value:g} {unit}" if unit else f"{value:g}"


def _limit(value: float | str, unit: str) -> str:
    return str(value) if isinstance(value, str) else _amount(value, unit)
