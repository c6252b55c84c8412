"""The picture of the season: what is done when, and when the beetles fly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Picture
from barkwright.output.pictures.letters import clean
from barkwright.output.pictures.season_drawing import season_drawing
from barkwright.output.pictures.season_lines import season_lines
from barkwright.output.pictures.season_parts import Days, Flying, Lane, Mark, Shown, joined, short_day, short_span
from barkwright.output.words import amount, day, span
from barkwright.schedule.calendar import first_day, hours_on, outdoors

if TYPE_CHECKING:
    from barkwright.output.pictures.drawing import Fill
    from barkwright.output.view import View
    from barkwright.schedule.jobs import Job
    from barkwright.season.year import FlightYear

_GROUPS = (
    ("calls", "Calls", ("call",)),
    ("looks", "Looks at trees", ("inspect", "look again")),
    ("felling", "Felling and cutting up", ("fell", "limb and buck")),
    ("treating", "Treating the wood", ("process", "bark", "stump")),
    ("clearing up", "Clearing up", ("slash", "haul", "stack")),
)
_PERMIT = {"held": "", "not-needed": "", "refused": ", permit refused", "unknown": ", permit not known"}


def season_picture(view: View) -> Picture | None:
    """From the plan's date to after the last flight to beat; None where there is neither work nor brood to show."""
    jobs, on = view.plan.schedule.jobs, view.plan.on
    flights = tuple(_flying(view, flight) for flight in view.plan.flights if flight.end >= on)
    if not flights or not (jobs or any(flight.matters for flight in flights)):
        return None
    ends = [flight.end for flight in flights] + [max(_days(job)) for job in jobs]
    last = max(ends) + timedelta(days=7)
    lanes = tuple(lane for lane in _lanes(view, on, last) if lane.spans)
    marks = tuple(sorted((mark for mark in _marks(view, flights) if mark.on > on), key=lambda mark: mark.on))
    shown = Shown(on, last, lanes, flights, _weeks(view, flights, marks), marks)
    alt = " ".join([f"From {day(on)} to {day(last)}.", shown.lead, *_said(shown)])
    return Picture(
        "The season: what is done when, and when the beetles fly", alt, season_drawing(shown), season_lines(shown)
    )


def _said(shown: Shown) -> Iterator[str]:
    yield from (f"{mark.text[0].upper()}{mark.text[1:]} {day(mark.on)}." for mark in shown.marks)
    yield from (f"{lane.title.partition(':')[0]}: {lane.when}." for lane in shown.lanes)
    for flight in shown.flights:
        whose = "" if flight.matters else ", of beetles from elsewhere"
        days = f"{span(flight.onset, flight.end)}, half are out by {day(flight.half)}"
        yield f"Flight {flight.year}{whose}: {days}."


def _flying(view: View, flight: FlightYear) -> Flying:
    matters = any(found.flight_to_beat == flight.year for found in view.broods.values())
    return Flying(flight.year, flight.onset, flight.half, flight.end, matters)


def _marks(view: View, flights: Iterable[Flying]) -> Iterator[Mark]:
    """Days that an upright line marks: when beetles of this wood fly, and when work against them is due."""
    matter = [flight for flight in flights if flight.matters]
    for flight in matter:
        general, due = flight.onset - timedelta(days=_margin(view, flight.year)), sorted(view.due_dates(flight.year))
        sooner = due[0] if due and due[0] < general else None
        whose = f"work against flight {flight.year}" if len(matter) > 1 else "work"
        yield Mark(flight.onset, "first beetles fly", True)
        if sooner is not None:
            yield Mark(sooner, f"{whose} due" if due[-1] == sooner else f"first {whose} due", False)
        if sooner is None or due[-1] >= general:
            yield Mark(general, "finish by", False)
        elif due[-1] > sooner:
            yield Mark(due[-1], f"last {whose} due", False)


def _margin(view: View, year: int) -> int:
    return next(flight.margin_days for flight in view.plan.flights if flight.year == year)


def _weeks(view: View, flights: Sequence[Flying], marks: Sequence[Mark]) -> str:
    """How long it is until work is due and until beetles fly, and how many days one can work until then."""
    on = view.plan.on
    first = next((flight for flight in flights if flight.matters), flights[0])
    if first.onset <= on:
        return f"The flight of {first.year} is under way."
    text = f"{_apart(on, first.onset)} until the flight of {first.year}."
    due = next((mark for mark in marks if not mark.heavy and mark.on < first.onset), None)
    if view.plan.inventory.crew and first.matters:
        last = due.on if due is not None else first.onset - timedelta(days=1)
        until = f"until {short_day(last)} {last.year}, {_when(due)}" if due is not None else "until then"
        text += f" The crew has {amount(len(_free(view, on, last)), 'free day')} {until}."
    return text


def _when(due: Mark) -> str:
    what = due.text.removesuffix(" due")
    return "the day to finish by" if what == due.text else f"when the {what} is due"


def _apart(first: date, last: date) -> str:
    weeks, days = divmod((last - first).days, 7)
    return amount(weeks, "week") if weeks else amount(days, "day")


def _free(view: View, first: date, last: date) -> list[date]:
    """Days on which somebody of the crews can work."""
    inventory = view.plan.inventory
    opens, place = first_day(inventory.calendar, first), outdoors(view.plan.season)
    days = (opens + timedelta(days=offset) for offset in range((last - opens).days + 1))
    return [one for one in days if any(hours_on(crew, inventory.calendar, one, place) > 0 for crew in inventory.crew)]


def _lanes(view: View, on: date, last: date) -> Iterator[Lane]:
    free = _free(view, on, last)
    yield Lane("free days", f"Days that the crew has free: {len(free)}", str(len(free)), joined(free), "plain")
    for short, title, works in _GROUPS:
        days = sorted({when for job in view.plan.schedule.jobs if job.work in works for when in _days(job)})
        if days:
            count = f", {amount(len(days), 'day')}" if len(days) > 1 else ""
            yield _lane(short, title, joined(days), "solid", count)
    for label in dict.fromkeys(run.label for run in view.plan.schedule.rentals):
        spans = tuple(sorted((run.first, run.last) for run in view.plan.schedule.rentals if run.label == label))
        kind, said = label.partition(",")[0], f"Hired {view.units.sentence(clean(label))}"
        yield _lane(clean(kind), said, spans, "lines", f", {amount(len(spans), 'time')}" * (len(spans) > 1))
    burning = view.plan.inventory.site.burning
    spans = tuple((max(one.first, on), min(one.last, last)) for one in burning.windows if one.first <= last)
    spans = tuple(one for one in sorted(spans) if one[0] <= one[1])
    if spans:
        yield _lane("burning open", "Burning open", spans, "dots", _PERMIT[burning.permit])


def _lane(short: str, title: str, spans: tuple[Days, ...], fill: Fill, after: str) -> Lane:
    first, last = spans[0][0], max(one[1] for one in spans)
    return Lane(short, f"{title}: {short_span(first, last)}{after}", f"{span(first, last)}{after}", spans, fill)


def _days(job: Job) -> list[date]:
    return [when for when, _ in job.day_hours] or [job.first, job.last]
