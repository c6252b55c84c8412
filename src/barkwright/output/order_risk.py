"""How sure it is that the work is done in time, by when, and what that does not cover."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.blocks import Facts, Section
from barkwright.output.view import View
from barkwright.output.words import amount, day, listing, number
from barkwright.study.settings import STUDY

if TYPE_CHECKING:
    from barkwright.study.risk import FlightRisk, Risk

NAMED = 6  # so many unsure trees are named; of more, their number


def how_sure(view: View) -> Section | None:
    """In how many of a hundred years the plan is done before the flight, and what that rests on."""
    risk = view.plan.risk
    if risk is None:
        return None
    pairs = [("In time", " ".join(_in_time(view, risk)))]
    if len(risk.flights) > 1:
        pairs += [
            (f"Flight {one.year}", f"In time in {of_hundred(one.probability)}. {_when(view, risk, one)}")
            for one in risk.flights
        ]
    if unsure := _unsure(risk):
        pairs.append(("Least sure", unsure))
    pairs += [("Rests on", _rests(risk)), ("Not in it", _left_out(risk))]
    return Section("How sure it is in time", (Facts(tuple(pairs)),))


def of_hundred(share: float) -> str:
    """87 of 100; a share that is not whole is never told as none or all."""
    if share in (0.0, 1.0):
        return "all" if share else "none"
    count = number(share * 100)
    return "fewer than 1 of 100" if count == "0" else "more than 99 of 100" if count == "100" else f"{count} of 100"


def _in_time(view: View, risk: Risk) -> Iterator[str]:
    what = "years like those on record" if risk.years else "trial runs"
    count = {0.0: "none of the", 1.0: "all"}.get(risk.probability) or of_hundred(risk.probability)
    flown = "the beetles fly" if risk.years else "the flight date of the calendar"
    yield f"In {count} {what} the work is done before {flown}."
    if view.plan.misses:
        yield "What misses its date is not counted."
    if len(risk.flights) == 1:
        yield _when(view, risk, risk.flights[0])
    if risk.bark_left_ft2 - view.plan.schedule.infested_left_ft2 >= 1.0:
        yield f"On average {view.units.square_feet(risk.bark_left_ft2)} of infested bark is left."


def _when(view: View, risk: Risk, flight: FlightRisk) -> str:
    """By when it is done, and how much later it might come or how much sooner it would have to."""
    share, sure = (_tenths(value) for value in (risk.finish_share, risk.sure_share))
    text = f"In {share} it takes until long after the flight begins"
    if flight.finish is not None:
        text = f"In {share} it is done by {day(flight.finish)}{_early(view, flight.finish)}"
    spare = flight.spare_days
    if spare is None or spare == 0:
        return f"{text}."
    if spare < 0:
        return f"{text}. For {sure} to be in time, all of it would have to be done {amount(-spare, 'day')} sooner."
    return f"{text}. Were all of it {amount(spare, 'day')} later, {sure} would still be in time."


def _early(view: View, finish: date) -> str:
    """What the runs do otherwise than the order, where they are over before its last day."""
    days = (job.last for job in view.plan.schedule.jobs if job.work != "look again")
    return ", each job begun as soon as it may be, not on its day in this order" if max(days) > finish else ""


def _tenths(share: float) -> str:
    return f"{number(share * 10)} of 10"


def _unsure(risk: Risk) -> str:
    below = sorted((one.probability, place) for place, one in enumerate(risk.trees))
    named = [risk.trees[place] for share, place in below if share < STUDY["unsure_below"]]
    if not named or len(risk.trees) == 1:
        return ""
    first = [f"{one.tree} ({of_hundred(one.probability)})" for one in named[:NAMED]]
    rest = [amount(len(named) - NAMED, "more tree")] if len(named) > NAMED else []
    return f"{listing([*first, *rest])}."


def _rests(risk: Risk) -> str:
    low, high = (f"{value:g}" for value in risk.pace)
    lost = ", days lost to weather by the daily record" if risk.weather else ""
    text = (
        f"{amount(risk.draws, 'run')} of the plan, each job begun as soon as it may, with other hours for "
        f"every job, a pace of the whole work from {low} to {high} times the plan's hours (ours){lost}, and "
    )
    if risk.range is None:
        return f"{text}the one flight date of the calendar."
    fewest, most = (number(share * 100) for share in risk.range)
    return (
        f"{text}the first day of flight in {amount(risk.years, 'year')} by the daily record. So few years tell little: "
        f"the true figure may well lie anywhere from {fewest} to {most} of 100."
    )


def _left_out(risk: Risk) -> str:
    early = "" if risk.years else "flights that come early, "
    weather = "" if risk.weather else "days lost to weather, "
    text = f"{early}{weather}illness, breakdowns, hire that runs out, others who come late, beetles nobody found."
    return text[0].upper() + text[1:]
