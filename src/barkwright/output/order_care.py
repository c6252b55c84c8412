"""Do, do not, cautions, and what to look at after the flight."""

from __future__ import annotations

from datetime import timedelta

from barkwright.output.advice import Advice, advice_for
from barkwright.output.blocks import Card, Section, plain
from barkwright.output.order_head import matters
from barkwright.output.view import FROM_OPTIONS, FROM_STDIN, View
from barkwright.output.words import day
from barkwright.sources import cite


def do_and_do_not(view: View) -> Section | None:
    """Two short lists."""
    blocks = tuple(
        Card(title, (plain(tuple(_said(view, entry) for entry in entries)),))
        for title, entries in (("Do", advice_for(view, "do")), ("Do not", advice_for(view, "do not")))
        if entries
    )
    return Section("Do and do not", blocks) if blocks else None


def cautions(view: View) -> Section:
    """The dangers of the work on this order, by topic."""
    topics: dict[str, list[str]] = {}
    for entry in advice_for(view, "caution"):
        topics.setdefault(entry.topic, []).append(_said(view, entry))
    return Section("Cautions", (plain([f"{topic}. {' '.join(said)}" for topic, said in topics.items()]),))


def after_flight(view: View) -> Section | None:
    """When the flight is over, look again."""
    schedule = view.plan.schedule
    if not view.plan.flights or not (schedule.infested_before_ft2 or schedule.host_left_ft2):
        return None
    flight = min(view.plan.flights, key=lambda flight: flight.end)
    over = day(flight.end + timedelta(days=1))
    entries = [_said(view, entry) for entry in advice_for(view, "after flight")]
    if not view.small and view.made_from not in (FROM_OPTIONS, FROM_STDIN):
        entries.append(
            f"The sheet for that walk, with days, signs and distances: barkwright flight {view.made_from} --after"
        )
    why = f", after the flight of {flight.year}"
    if not matters(view, flight.year):
        why = f" for beetles from elsewhere (flight of {flight.year})"
    return Section(f"Look again from {over}{why}", (plain(entries),))


def _said(view: View, entry: Advice) -> str:
    view.cited.extend(cite(source) for source in entry.sources)
    view.bases[entry.id] = entry.basis
    return view.units.sentence(entry.text)
