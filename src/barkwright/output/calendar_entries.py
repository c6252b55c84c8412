"""What of a plan belongs on a calendar: days of work, calls, last days, hires, burn windows, the look afterwards."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from barkwright.output.advice import advice_for, tags_of
from barkwright.output.blocks import Block, Items, Para
from barkwright.output.names import piece_names, tree_names
from barkwright.output.order_days import CREWS, OUTSIDE, crew_days, day_card
from barkwright.output.order_head import flight_words, matters
from barkwright.output.order_supplies import PERMIT, call_days
from barkwright.output.view import View
from barkwright.output.words import amount, day, money, span
from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.schedule.jobs import Job

Kind = Literal["deadline", "call", "work", "hire", "return", "burning", "look"]
NAMED = 6  # so many trees are named in the title of a day; of more, their number
BUSY = ("work", "look")  # kinds that take somebody's day


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: whole days, from `first` to `last`, both included.

    `series` names what it is one of in words that outlast a new plan: never a date, an hour or a way of working.
    """

    kind: Kind
    series: tuple[str, ...]
    first: date
    last: date
    title: str
    text: str
    provisional: bool = False


def entries(view: View) -> list[Entry]:
    """Every entry of a plan, by day."""
    found = (*_flights(view), *_last_days(view), *_calls(view), *_days(view), *_hires(view), *_fires(view))
    return sorted((*found, *_looks(view)), key=lambda entry: (entry.first, entry.kind, entry.series, entry.title))


def _flights(view: View) -> Iterator[Entry]:
    for flight in view.plan.flights:
        by, year = flight.onset - timedelta(days=flight.margin_days), str(flight.year)
        if matters(view, flight.year) and by >= view.plan.on:
            late = [piece for unmet in view.plan.schedule.unmet for piece in unmet.pieces]
            text = flight_words(view, flight.year) + (f" By this plan too late: {piece_names(late)}." if late else "")
            title = f"Finish by today, before the flight of {year}"
            yield Entry("deadline", ("finish", year), by, by, title, text)


def _last_days(view: View) -> Iterator[Entry]:
    """Wood that is due before the general date of its flight, or may wait until a day of its own."""
    general = {flight.year: flight.onset - timedelta(days=flight.margin_days) for flight in view.plan.flights}
    due: dict[tuple[date, int], dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for piece, choice in view.choices.items():
        way, year = view.way(piece), view.broods[piece].flight_to_beat
        latest = choice.latest or (way.finish_by if way is not None else None) or choice.wait_until
        if latest is not None and latest >= view.plan.on and latest != general.get(year or 0):
            due[latest, year or latest.year][view.units.sentence(way.title) if way else "look at it"].append(piece)
    for (by, year), ways in due.items():
        lines = [f"{piece_names(pieces)}: {title}. {_planned(view, pieces)}".strip() for title, pieces in ways.items()]
        title = f"Last day for {_trees(view, [piece for pieces in ways.values() for piece in pieces])}"
        yield Entry("deadline", ("last day", str(year)), by, by, title, "\n".join(lines))


def _planned(view: View, pieces: Iterable[str]) -> str:
    days = sorted({done for piece in pieces if (done := view.choices[piece].done_on) is not None})
    return f"Planned for {day(days[0]) if len(days) == 1 else f'{day(days[0])} to {day(days[-1])}'}." if days else ""


def _calls(view: View) -> Iterator[Entry]:
    """Calls of one kind are one entry, on the day of the first; so are appointments, one by one."""
    kinds: dict[str, list[tuple[date, str]]] = defaultdict(list)
    for (by, kind), said in sorted(call_days(view).items()):
        kinds[kind].append((by, said))
    for kind, calls in kinds.items():
        by, said = calls[0]
        title = f"By today: {said.rstrip('.')}" + (" and more" if len(calls) > 1 else "")
        text = "\n".join(f"[ ] By {day(when)}: {what}" for when, what in calls)
        yield Entry("call", ("call", kind), by, by, title, text)
    for call in view.plan.inventory.calls:
        whose = f" for {tree_names(call.trees)}" if call.trees else ""
        series = ("entered", call.what, *call.trees)
        yield Entry("call", series, call.on, call.on, f"{call.what}{whose}", "As you entered it.")


def _days(view: View) -> Iterator[Entry]:
    """A day of a crew that has more to do than telephone; calls have entries of their own."""
    for when, crew, jobs in crew_days(view):
        here = [job for job in jobs if job.work != "look again"]
        if all(job.work == "call" for job in here):
            continue
        parts = {job.tree: [one for one in here if one.tree == job.tree] for job in here} if crew in OUTSIDE else {}
        for tree, part in (parts or {"": here}).items():  # others come for a tree, and a new plan may part or join them
            card = day_card(view, when, crew, part)
            tail = card.title.partition(" - only after ")[2]
            title = f"{CREWS.get(crew, crew)}: {_of_jobs(view, part)}" + (f" - only after {tail}" if tail else "")
            series = ("work", crew, tree) if tree else ("work", crew)
            yield Entry("work", series, when, when, title, _lines(card.blocks), all(job.provisional for job in part))


def _hires(view: View) -> Iterator[Entry]:
    for run in view.plan.schedule.rentals:
        label = view.units.sentence(run.label)
        text = f"{span(run.first, run.last)}: {label}, {run.billed}, {money(run.cost, view.currency)}."
        yield Entry("hire", ("hire", run.equipment), run.first, run.last, f"On hire: {label}", text)
        yield Entry("return", ("return", run.equipment), run.last, run.last, f"Give back the {label}", text)


def _fires(view: View) -> Iterator[Entry]:
    burning = view.plan.inventory.site.burning
    if "burning" not in tags_of(view):
        return
    text = PERMIT.get(burning.permit) or "Ask the fire authority whether a permit is needed."
    for window in burning.windows:
        if window.last >= view.plan.on:
            title = "Burning is open, by the days you entered"
            yield Entry("burning", ("burning",), window.first, window.last, title, f"{text} Ask again on the day.")


def _looks(view: View) -> Iterator[Entry]:
    advice = [f"- {view.units.sentence(entry.text)}" for entry in advice_for(view, "after flight")]
    for when, crew, jobs in crew_days(view):
        looks = [job for job in jobs if job.work == "look again"]
        if looks:
            text = "\n".join((_lines(day_card(view, when, crew, looks).blocks), *advice))
            title = f"Look again after the flight: {_of_jobs(view, looks)}"
            yield Entry("look", ("look again", str(when.year)), when, when, title, text)


def _of_jobs(view: View, jobs: Sequence[Job]) -> str:
    return _trees(view, [piece for job in jobs for piece in (job.pieces or (f"{job.tree}/",))])


def _trees(view: View, pieces: Iterable[str]) -> str:
    named = {piece.rpartition("/")[0] for piece in pieces} & view.trees.keys()
    trees = sorted(named, key=view.tree_places.__getitem__)
    if not trees:
        return "the whole site"
    return tree_names(trees) if len(trees) <= NAMED else amount(len(trees), "tree")


def _lines(blocks: Iterable[Block]) -> str:
    """The words of a day as plain lines."""
    lines: list[str] = []
    for block in blocks:
        if isinstance(block, Para):
            lines.append(block.text)
        elif isinstance(block, Items):
            for text, under in block.entries:
                lines += [f"{block.mark} {text}", *(f"  {line}" for line in under)]
    return "\n".join(lines)
