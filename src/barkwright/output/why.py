"""Why: everything that is known of one piece, every rule that spoke about it, and the numbers behind its ways."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts, Items, Page, Para, Section, Table, plain
from barkwright.output.brood_words import brood_words
from barkwright.output.flight_dates import chain, other_rule
from barkwright.output.json_basics import reason_record, site_record, spread_record
from barkwright.output.json_records import brood_record, piece_record
from barkwright.output.json_results import FactRecord, WhyResult, WhyWayRecord, WhyWindowRecord
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.names import part_names, shown_name, spruce, tools
from barkwright.output.order_basis import cited_lines, climate_lines
from barkwright.output.order_ways import GRADES
from barkwright.output.why_ways import Case, RuleList, open_way, reason_words, shut_ways
from barkwright.output.words import MONTHS, day
from barkwright.treatment.basis import figure_lines

if TYPE_CHECKING:
    from barkwright.plan import WayPlan
    from barkwright.sources import Citation, Reason
    from barkwright.treatment.why import FactLine, WhyWay, WhyWindow

SEEN = "* known through another publication; ** from memory, not seen."
HOURS = (
    "A line holds from the day after the line above it. Stops: all of the beetles, part of them, none. "
    "Hours are those of all hands together: low, likely and high, "
    "for the bark as it is then. The rules and the figures behind the hours stand below, by number."
)
SCOPES = {"site": "The place", "tree": "The tree", "piece": "The piece", "brood": "What lives in it"}


def piece_ids(plan: WayPlan) -> tuple[str, ...]:
    """The pieces that one can ask about."""
    return tuple(piece.id for stem in plan.flight.tally.stems for piece in stem.pieces)


def why_text(plan: WayPlan, piece_id: str, units: Units, made_from: str) -> str:
    """All of it as text for 80 columns."""
    return render(why_page(plan, piece_id, units, made_from))


def why_page(plan: WayPlan, piece_id: str, units: Units, made_from: str) -> Page:
    """All of it as sections."""
    case = Case(plan, piece_id, units)
    rules = RuleList(case)
    open_ways = [way for way in case.why.ways if not _is_shut(way)]
    shut = [way for way in case.why.ways if _is_shut(way)]
    ways = tuple(open_way(case, way, rules) for way in open_ways)
    barred = shut_ways(shut, rules)
    said = f"{brood_words(case.brood)}.".capitalize()
    climate, climate_cited = climate_lines(plan.bench, [way.way.id for way in case.why.ways])
    sections = [
        Section("The piece", _piece(case)),
        Section("What lives in it", (Para(said), *_flight(case), _reasons(case, case.brood.reasons))),
        Section("What may be done with it", (Para(HOURS), *ways) if ways else (Para("Nothing is open here."),)),
        *([Section("Ruled out, and what would open it", (barred,))] if shut else []),
        Section("The rules, by number", (Para(GRADES), rules.listed())),
        Section("The facts that the rules were asked", tuple(_facts(case, scope) for scope in SCOPES)),
        Section("Limits", (_limits(case),)),
        *([Section("Ground and drying here", (plain(list(map(units.sentence, climate))),))] if climate else []),
        Section("The figures that the hours rest on", (_figures(case, open_ways),)),
        Section("Sources", (Para(" ".join(cited_lines([*_cited(case), *climate_cited], whole=False))), Para(SEEN))),
    ]
    name = part_names([piece_id.rpartition("/")[2]])
    made = f"Made on {day(plan.flight.tally.on)} from {shown_name(made_from)}."
    return Page(f"Why: {case.tree.id} {name}", made, tuple(sections))


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
    pairs = [("Tree", spruce(case.tree.species) + (f", {case.tree.where}" if case.tree.where else ""))]
    if piece.kind != "limbs":
        pairs.append(("Ends", f"{units.ends(piece.butt_dob_in, piece.top_dob_in)} outside bark"))
        pairs.append(("Under the bark", units.ends(piece.butt_dib_in, piece.top_dib_in)))
        pairs.append(("Length", units.feet(piece.length_ft, 1)))
    pairs.append(("Bark to strip", units.square_feet(piece.bark_ft2)))
    pairs.append(("Wood", f"{units.cubic_feet(piece.wood_ft3)}, {units.cords(piece.cords)} once split"))
    pairs.append(("Weight", f"{units.pounds(piece.green_lb)} green, {units.pounds(piece.lift_lb)} to lift by"))
    for cut in piece.cut_points:
        text = f"takes {units.inches(cut.capacity_in)} all day"
        text += f"; {units.feet(cut.short_butt_ft, 1)} of this piece is thicker" if cut.short_butt_ft else ""
        pairs.append((tools([cut.equipment])[0].capitalize(), text))
    own = case.stem.basis[-1] if case.stem.local else ""
    measured = f"Sizes as you measured them.{f' Weights rest on {own}.' if own else ''}"
    how = measured if piece.measured else f"Sizes and weights from: {'; '.join(case.stem.basis)}."
    return Facts(tuple(pairs)), Para(how)


def _reasons(case: Case, reasons: Sequence[Reason]) -> Items:
    return plain([reason_words(case, reason) for reason in reasons])


def _is_shut(way: WhyWay) -> bool:
    return all(window.window.verdict == "ruled out" for window in way.windows)


def _flight(case: Case) -> tuple[Para | Table, ...]:
    """The dates of the flight that this brood would join, as `flight` and `order` print them."""
    year = case.brood.flight_to_beat
    found = next((flight for flight in case.plan.flight.flights if flight.year == year), None)
    if found is None:
        return ()
    finish = found.onset - timedelta(days=found.margin_days)
    out = f"first beetles {day(found.onset)}, half out {day(found.half)}, over {day(found.end)}"
    season, told = case.plan.flight.season, f"Flight of {found.year}: {out}. Finish by {day(finish)}."
    other = other_rule(season, found)
    return (
        Para(f"{told} {case.units.sentence(found.basis)}"),
        chain(season, found, case.units),
        *([Para(other)] if other else []),
    )


def _facts(case: Case, scope: str) -> Card:
    pairs = tuple(
        f"{fact.meaning}: {case.units.sentence(fact.value)} ({fact.origin})"
        for fact in case.why.facts
        if fact.scope == scope
    )
    return Card(SCOPES[scope], (plain(pairs),))


def _limits(case: Case) -> Items:
    say = case.units.sentence
    return plain([f"{say(what)}: {_month(say(value))} ({basis})" for what, value, basis in case.why.limits])


def _month(value: str) -> str:
    """A day of the year in words: 05-01 is 1 May; other values as they are."""
    month, dash, number = value.partition("-")
    if not dash or not (month + number).isdigit():
        return value.removesuffix(" share")
    return f"{int(number)} {MONTHS[int(month) - 1]}"


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
