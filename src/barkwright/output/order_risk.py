"""How sure it is that the work is done in time, by when, and what that does not cover."""

from __future__ import annotations

from collections.abc import Iterator
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
    pairs = [("In time", _in_time(view, risk))]
    pairs += [(f"Flight {one.year}", _flight(risk, one)) for one in risk.flights]
    if unsure := _unsure(risk):
        pairs.append(("Least sure", unsure))
    pairs.append(("Rests on", " ".join(_rests(risk))))
    pairs.append(("Not in it", _left_out(risk)))
    return Section("How sure it is in time", (Facts(tuple(pairs)),))


def of_hundred(share: float) -> str:
    """87 of 100; a share that is not whole is never told as none or all."""
    if share in (0.0, 1.0):
        return "all" if share else "none"
    count = number(share * 100)
    return "fewer than 1 of 100" if count == "0" else "more than 99 of 100" if count == "100" else f"{count} of 100"


def _in_time(view: View, risk: Risk) -> str:
    what = "years like those on record" if risk.years else "trial runs"
    count = {0.0: "none of all", 1.0: "all"}.get(risk.probability) or of_hundred(risk.probability)
    text = f"In {count} {what} the work is done before the beetles fly."
    if view.plan.misses:
        text += " What misses its date is not counted."
    left = risk.bark_left_ft2
    if left - view.plan.schedule.infested_left_ft2 >= 1.0:
        text += f" On average {view.units.square_feet(left)} of infested bark is left."
    return text


def _flight(risk: Risk, flight: FlightRisk) -> str:
    text = "" if len(risk.flights) == 1 else f"In time in {of_hundred(flight.probability)}. "
    share, sure = (_tenths(value) for value in (risk.finish_share, risk.sure_share))
    if flight.finish is None:
        text += f"In {share} the work takes until long after the flight begins."
    else:
        text += f"In {share} it is done by {day(flight.finish)}."
    spare = flight.spare_days
    if spare is None:
        return text
    if spare < 0:
        return f"{text} To be in time in {sure} all of it would have to be done {amount(-spare, 'day')} sooner."
    if spare == 0:
        return f"{text} There is no day to spare."
    return f"{text} It might come {amount(spare, 'day')} later and still be in time in {sure}."


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


def _rests(risk: Risk) -> Iterator[str]:
    low, high = (f"{value:g}" for value in risk.pace)
    lost = ", and other days lost to weather by the daily record" if risk.weather else ""
    yield (
        f"{amount(risk.draws, 'trial run')} of the plan, each with other hours for every job, a pace of the whole work "
        f"from {low} to {high} times the plan's hours (ours){lost}."
    )
    if risk.range is None:
        yield "Every run meets the one date of the calendar: how flights differ from year to year is not in it."
    else:
        fewest, most = (number(share * 100) for share in risk.range)
        yield (
            f"Each run meets the first day of flight in {amount(risk.years, 'year')} by the daily record. So few years "
            f"tell little: the true figure may well lie anywhere from {fewest} to {most} of 100."
        )


def _left_out(risk: Risk) -> str:
    weather = "" if risk.weather else "days lost to weather (none is known), "
    return (
        f"{weather}illness, breakdowns, hire that is not to be had or that runs out, others who come late, and beetles "
        "that nobody found."
    ).capitalize()
