"""The flight page: when beetles fly here, what lives in each tree, and what that rests on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import timedelta
from typing import TYPE_CHECKING

from barkwright.output.asking import group_questions
from barkwright.output.blocks import Card, Facts, Page, Para, Section, plain
from barkwright.output.brood_words import brood_words
from barkwright.output.json_basics import site_record
from barkwright.output.json_records import brood_record, flight_record, question_record
from barkwright.output.json_results import FlightResult
from barkwright.output.json_types import TreeBroodRecord
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.names import part_names, tree_names
from barkwright.output.order_basis import cited_lines
from barkwright.output.order_head import asked_items
from barkwright.output.view import sentences
from barkwright.output.words import amount, day, listing

if TYPE_CHECKING:
    from barkwright.brood.finding import Question, TreeBrood
    from barkwright.plan import FlightPlan
    from barkwright.season.year import FlightYear
    from barkwright.sources import Citation

SURE = {"high": "sure", "medium": "fairly sure", "low": "not sure"}


def flight_text(plan: FlightPlan, units: Units, made_from: str) -> str:
    """The flight page as text for 80 columns."""
    return render(flight_page(plan, units, made_from))


def flight_page(plan: FlightPlan, units: Units, made_from: str) -> Page:
    """The flight page as sections."""
    asked = group_questions(_questions(plan))
    sections = [Section("When beetles fly here", tuple(_flight(flight, units) for flight in plan.flights))]
    if asked:
        sections.append(Section("Look and answer first", (asked_items(asked, units),)))
    sections.append(Section("Tree by tree", _trees(plan.broods, units)))
    lines = cited_lines(_cited(plan))
    if lines:
        sections.append(Section("Sources", (plain(lines),)))
    title = f"Brood and flight: {plan.tally.inventory.site.name}"
    return Page(title, f"Made on {day(plan.tally.on)} from {made_from}.", tuple(sections))


def flight_result(plan: FlightPlan) -> FlightResult:
    """The flight page as plain data."""
    return {
        "site": site_record(plan.tally.inventory.site),
        "flight": [flight_record(flight) for flight in plan.flights],
        "trees": [tree_brood_record(brood) for brood in plan.broods],
        "pieces": [
            {"id": found.piece, "tree": brood.tree, **brood_record(found)}
            for brood in plan.broods
            for found in brood.pieces
        ],
        "questions": [question_record(question) for question in _questions(plan)],
    }


def tree_brood_record(brood: TreeBrood) -> TreeBroodRecord:
    """What lives in a tree, as plain data."""
    return {
        "id": brood.tree,
        "possible_attack_years": list(brood.possible_attack_years),
        "needs_inspection": brood.needs_inspection,
        "may_stay_standing": brood.may_stay_standing,
    }


def _flight(flight: FlightYear, units: Units) -> Card:
    finish = flight.onset - timedelta(days=flight.margin_days)
    pairs = (
        ("First beetles", day(flight.onset)),
        ("Half are out", day(flight.half)),
        ("Over", day(flight.end)),
        ("Finish by", f"{day(finish)}, {amount(flight.margin_days, 'day')} before the first beetles"),
    )
    return Card(f"Flight of {flight.year}", (Facts(pairs), Para(units.sentence(flight.basis))))


def _trees(broods: Sequence[TreeBrood], units: Units) -> tuple[Card, ...]:
    """A card per tree; trees of which the same is to be said share one."""
    same: dict[tuple[tuple[str, str], ...], list[str]] = {}
    for brood in broods:
        same.setdefault(_tree(brood, units), []).append(brood.tree)
    return tuple(Card(tree_names(trees), (Facts(pairs),)) for pairs, trees in same.items())


def _tree(brood: TreeBrood, units: Units) -> tuple[tuple[str, str], ...]:
    groups: dict[tuple[str, str, tuple[str, ...]], list[str]] = {}
    for found in brood.pieces:
        because = sentences(reason.because for reason in found.reasons)
        groups.setdefault((brood_words(found), SURE[found.confidence], because), []).append(found.piece)
    pairs = [("Attacked", listing([str(year) for year in brood.possible_attack_years], "or") or "no attack known")]
    counts = Counter(sentence for _, _, because in groups for sentence in because)
    common = [sentence for sentence, count in counts.items() if count > 1]
    if common:
        pairs.append(("Why", units.sentence(" ".join(common))))
    for (words, sure, because), pieces in groups.items():
        name = part_names(piece.rpartition("/")[2] for piece in pieces)
        text = " ".join((f"{words} ({sure}).", *(sentence for sentence in because if counts[sentence] == 1)))
        pairs.append((name[0].upper() + name[1:], units.sentence(text[0].upper() + text[1:])))
    if brood.may_stay_standing:
        pairs.append(("May stay", units.sentence(brood.may_stay_standing)))
    return tuple(pairs)


def _questions(plan: FlightPlan) -> Sequence[Question]:
    asked = [question for brood in plan.broods for question in brood.questions]
    return sorted(asked, key=lambda question: question.rank)


def _cited(plan: FlightPlan) -> list[Citation]:
    cited = [citation for flight in plan.flights for citation in flight.citations]
    for brood in plan.broods:
        for found in brood.pieces:
            for reason in found.reasons:
                cited.extend(reason.citations)
    return cited
