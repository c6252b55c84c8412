"""When the offered work is done, in a few words, and why it is due before the beetles in it would fly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.words import day, listing, span

if TYPE_CHECKING:
    from barkwright.output.view import View

DONE = {
    "chip": "chipped", "debark": "stripped", "score": "scored", "burn": "burned", "bury": "buried", "split": "split",
    "haul": "hauled away",
}  # fmt: skip
CUTS = ("fell", "limb and buck")
APART = 14  # days without work of a kind that part one visit from the next; ours


def dated(view: View) -> Iterator[tuple[str, str]]:
    """When trees come down and each kind of work is done; then why so soon."""
    said = [f"{name} {listing([span(*visit) for visit in visits])}" for name, visits in _visits(view)]
    if said:
        lies = "; until then the logs lie with their bark on" if _lies(view) else ""
        text = "; ".join(said) + lies
        yield "Dates", f"{text[0].upper()}{text[1:]}."
    if why := _why(view):
        yield "Why then", why


def _visits(view: View) -> Iterator[tuple[str, list[tuple[date, date]]]]:
    jobs = view.plan.schedule.jobs
    falls = any(job.work == "fell" and view.trees[job.tree].status == "standing" for job in jobs)
    cuts = {when for job in jobs if job.work in CUTS for when in (job.first, job.last)}
    if cuts:
        yield "felled and cut up" if falls else "cut up", _apart(cuts)
    days: dict[str, set[date]] = {}
    for piece, choice in view.choices.items():
        way = view.way(piece)
        if way is not None and way.method in DONE and choice.done_on is not None:
            days.setdefault(way.method, set()).add(choice.done_on)
    for method in sorted(days, key=lambda method: (max(days[method]), method)):
        yield DONE[method], _apart(days[method])


def _apart(days: Iterable[date]) -> list[tuple[date, date]]:
    """Days as visits: first and last of those that follow each other closely."""
    out: list[tuple[date, date]] = []
    for when in sorted(days):
        if out and when - out[-1][1] <= timedelta(days=APART):
            out[-1] = (out[-1][0], when)
        else:
            out.append((when, when))
    return out


def _lies(view: View) -> bool:
    """Is the last work of all stripping, long after the wood came down?"""
    visits = dict(_visits(view))
    stripped = visits.get(DONE["debark"], [])
    others = [visit for name, each in visits.items() if name != DONE["debark"] for visit in each]
    return bool(stripped and others) and stripped[-1][0] > max(last for _, last in others) + timedelta(days=APART)


def _why(view: View) -> str:
    """Why wood is due before a flight that is not its own."""
    if not view.plan.flights:
        return ""
    coming = min(view.plan.flights, key=lambda flight: flight.year)
    later = {
        found.flight_to_beat
        for piece, found in view.broods.items()
        if found.flight_to_beat is not None and found.flight_to_beat > coming.year
        if (choice := view.choices.get(piece)) and choice.latest is not None and choice.latest < coming.onset
    }
    if not later:
        return ""
    years = listing([str(year) for year in sorted(later)], "or")
    return (
        f"Wood whose beetles fly in {years} is due before {day(coming.onset)} all the same: once it lies with its bark "
        f"on, it draws the beetles that fly in {coming.year}."
    )
