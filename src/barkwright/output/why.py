"""Why: everything that is known of one piece, every rule that spoke about it, and the numbers behind its ways."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts, Items, Page, Para, Section, Table, plain
from barkwright.output.flight import brood_words
from barkwright.output.json_basics import reason_record, site_record, spread_record
from barkwright.output.json_records import brood_record, piece_record
from barkwright.output.json_results import FactRecord, WhyResult, WhyWayRecord, WhyWindowRecord
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.names import part_names, runs, tools
from barkwright.output.order_basis import cited_lines
from barkwright.output.words import day, hours_between, span
from barkwright.spread import NOTHING
from barkwright.treatment.basis import figure_lines
from barkwright.treatment.effort import steps_of
from barkwright.treatment.why import why

if TYPE_CHECKING:
    from barkwright.brood.finding import PieceBrood
    from barkwright.inventory.model import Tree
    from barkwright.plan import WayPlan
    from barkwright.sources import Citation, Reason
    from barkwright.stem.pieces import Piece, TreeStem
    from barkwright.treatment.ways import Step, Window
    from barkwright.treatment.why import FactLine, Why, WhyWay, WhyWindow

ENDS = {"done": "stops the beetles", "partial": "stops part of them", "not done": "does not stop them"}
SCOPES = {"site": "The place", "tree": "The tree", "piece": "The piece", "brood": "What lives in it"}


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


def piece_ids(plan: WayPlan) -> tuple[str, ...]:
    """The pieces that one can ask about."""
    return tuple(piece.id for stem in plan.flight.tally.stems for piece in stem.pieces)


def why_text(plan: WayPlan, piece_id: str, units: Units, made_from: str) -> str:
    """All of it as text for 80 columns."""
    case = Case(plan, piece_id, units)
    on = plan.flight.tally.on
    open_ways = [way for way in case.why.ways if not _is_shut(way)]
    shut = [way for way in case.why.ways if _is_shut(way)]
    sections = [
        Section("The piece", _piece(case)),
        Section(
            "What lives in it", (Para(f"{brood_words(case.brood).capitalize()}."), _reasons(case, case.brood.reasons))
        ),
        Section("What may be done with it", tuple(_way(case, way) for way in open_ways)),
        *([Section("Ruled out all along", (_shut(case, shut),))] if shut else []),
        Section("The facts that the rules were asked", tuple(_facts(case, scope) for scope in SCOPES)),
        Section("The limits that the rules hold", (_limits(case),)),
        Section("The figures that the hours rest on", (_figures(case, open_ways),)),
        Section("Sources", (plain(cited_lines(_cited(case))),)),
    ]
    name = part_names([piece_id.rpartition("/")[2]])
    return render(Page(f"Why: {case.tree.id} {name}", f"Made on {day(on)} from {made_from}.", tuple(sections)))


def why_result(plan: WayPlan, piece_id: str) -> WhyResult:
    """The same as plain data."""
    case = Case(plan, piece_id, Units())
    return {
        "site": site_record(plan.flight.tally.inventory.site),
        "piece": piece_record(case.piece),
        "brood": brood_record(case.brood),
        "stem_sources": list(case.stem.basis),
        "facts": [_fact_record(fact) for fact in case.why.facts],
        "ways": [_way_record(case, way) for way in case.why.ways],
        "limits": [{"what": what, "value": value, "basis": basis} for what, value, basis in case.why.limits],
    }


def _piece(case: Case) -> tuple[Facts | Para, ...]:
    piece, units = case.piece, case.units
    pairs = [("Tree", f"{case.tree.species} spruce" + (f", {case.tree.where}" if case.tree.where else ""))]
    if piece.kind != "limbs":
        pairs.append(("Ends", f"{units.ends(piece.butt_dob_in, piece.top_dob_in)} outside bark"))
        pairs.append(("Under the bark", units.ends(piece.butt_dib_in, piece.top_dib_in)))
        pairs.append(("Length", units.feet(piece.length_ft, 1)))
    pairs.append(("Bark to strip", units.square_feet(piece.bark_ft2)))
    pairs.append(("Wood", f"{units.cubic_feet(piece.wood_ft3)}, {units.cords(piece.cords)} when split and stacked"))
    pairs.append(("Weight", f"{units.pounds(piece.green_lb)} green, {units.pounds(piece.lift_lb)} to lift by"))
    for cut in piece.cut_points:
        text = f"takes {units.inches(cut.capacity_in)} all day"
        text += f"; {units.feet(cut.short_butt_ft, 1)} of this piece is thicker" if cut.short_butt_ft else ""
        pairs.append((tools([cut.equipment])[0].capitalize(), text))
    how = "Sizes as you measured them." if piece.measured else f"Sizes from: {'; '.join(case.stem.basis)}."
    return Facts(tuple(pairs)), Para(how)


def _reasons(case: Case, reasons: Sequence[Reason]) -> Items:
    return plain([_reason(case, reason) for reason in reasons])


def _reason(case: Case, reason: Reason) -> str:
    where = "; ".join(str(citation) for citation in reason.citations) or reason.basis
    local = ", a rule of your own" if reason.local else ""
    return f"{case.units.sentence(reason.because)} ({reason.grade}: {where}{local})"


def _is_shut(way: WhyWay) -> bool:
    return all(window.window.verdict == "ruled out" for window in way.windows)


def _shut(case: Case, ways: Sequence[WhyWay]) -> Items:
    entries = []
    for way in ways:
        barring = [one for window in way.windows for one in window.fired if one.verdict == "ruled out"]
        reasons = dict.fromkeys(_reason(case, one.reason) for one in barring)
        entries.append((_title(case, way), tuple(f"- {reason}" for reason in reasons)))
    return Items(tuple(entries))


def _title(case: Case, way: WhyWay) -> str:
    title = case.units.sentence(way.way.title)
    return title[0].upper() + title[1:]


def _way(case: Case, way: WhyWay) -> Card:
    dates = []
    if way.way.finish_by is not None:
        dates.append(f"to be done by {day(way.way.finish_by)}")
    if way.way.too_late is not None:
        dates.append(f"too late after {day(way.way.too_late)}")
    windows = tuple(_window(case, way, window) for window in way.windows)
    title = _title(case, way) + (f" - {', '.join(dates)}" if dates else "")
    return Card(title, (Items(windows, "1."), Para("Why:"), _rules(case, way)))


def _window(case: Case, way: WhyWay, window: WhyWindow) -> tuple[str, tuple[str, ...]]:
    held = window.window
    text, say = f"{span(held.first, held.last)}: {held.verdict}", case.units.sentence
    steps = case.steps(way, held)
    if steps:
        total = sum((step.person_hours for step in steps), NOTHING)
        text += f", {ENDS[held.end]}, {hours_between(total.low, total.high)} of work ({held.bark} bark)"
    under = [f"- {say(step.what)}: {hours_between(step.person_hours.low, step.person_hours.high)}" for step in steps]
    return f"{text}.", tuple(under)


def _rules(case: Case, way: WhyWay) -> Items:
    """Each rule once, with the windows in which it spoke, where these are not all."""
    spoke: dict[tuple[str, tuple[str, ...]], list[int]] = {}
    for number, window in enumerate(way.windows, 1):
        for one in window.fired:
            spoke.setdefault((_reason(case, one.reason), one.asked), []).append(number)
    entries = []
    for (said, asked), numbers in spoke.items():
        where = f"In {runs(numbers)}: " if len(numbers) < len(way.windows) else ""
        entries.append((where + said, (f"Asked: {case.units.sentence('; '.join(asked))}.",) if asked else ()))
    return Items(tuple(entries))


def _facts(case: Case, scope: str) -> Card:
    pairs = tuple(
        f"{fact.meaning}: {case.units.sentence(fact.value)} (from: {fact.origin})"
        for fact in case.why.facts
        if fact.scope == scope
    )
    return Card(SCOPES[scope], (plain(pairs),))


def _limits(case: Case) -> Table:
    say = case.units.sentence
    return Table(
        ("What", "Limit", "From"),
        tuple((say(what), say(value), basis) for what, value, basis in case.why.limits),
        "lll",
        0,
    )


def _figures(case: Case, ways: Sequence[WhyWay]) -> Items:
    chosen = [(way.way.id, one.window.bark) for way in ways for one in way.windows if one.window.verdict != "ruled out"]
    return plain([f"{what}: {figure} ({origin})" for what, figure, origin in figure_lines(case.plan.bench, chosen)])


def _cited(case: Case) -> list[Citation]:
    reasons = [*case.brood.reasons, *(r for way in case.why.ways for w in way.windows for r in w.window.reasons)]
    return [citation for reason in reasons for citation in reason.citations]


def _fact_record(fact: FactLine) -> FactRecord:
    return {
        "name": fact.name,
        "scope": fact.scope,
        "meaning": fact.meaning,
        "value": fact.value,
        "unit": fact.unit,
        "origin": fact.origin,
    }


def _way_record(case: Case, way: WhyWay) -> WhyWayRecord:
    return {
        "id": way.way.id,
        "method": way.way.method,
        "title": way.way.title,
        "finish_by": way.way.finish_by.isoformat() if way.way.finish_by else None,
        "too_late": way.way.too_late.isoformat() if way.way.too_late else None,
        "windows": [_window_record(case, way, window) for window in way.windows],
    }


def _window_record(case: Case, way: WhyWay, window: WhyWindow) -> WhyWindowRecord:
    held = window.window
    return {
        "first": held.first.isoformat(),
        "last": held.last.isoformat(),
        "verdict": held.verdict,
        "end": held.end,
        "bark": held.bark,
        "steps": [
            {
                "work": step.work,
                "what": step.what,
                "person_hours": spread_record(step.person_hours),
                "machine_hours": spread_record(step.machine_hours),
                "people": step.people,
                "equipment": list(step.equipment),
                "wait_days": step.wait_days,
            }
            for step in case.steps(way, held)
        ],
        "facts": [_fact_record(fact) for fact in window.facts],
        "rules": [
            {
                "reason": reason_record(fired.reason),
                "title": fired.title,
                "asked": list(fired.asked),
                "verdict": fired.verdict,
                "end": fired.end,
            }
            for fired in window.fired
        ],
    }
