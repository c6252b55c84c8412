"""The checker's part on trees and pieces: order, waits, windows, felling rules, and what counts as done."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta

from barkwright.brood.finding import PieceBrood
from barkwright.brood.hosts import draws_beetles, is_host_piece
from barkwright.schedule.jobs import Choice, Job, Schedule
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.schedule.verify_bark import broken_bark
from barkwright.schedule.verify_felling import broken_felling
from barkwright.schedule.verify_needs import Need
from barkwright.season.flight import coming_flight, flight_year
from barkwright.stem.pieces import Piece
from barkwright.treatment.ways import Way

DOWN = ("fell", "limb and buck")


def broken_wood(schedule: Schedule, work: SiteWork, needs: Mapping[str, Need]) -> list[str]:
    """What is wrong with the order of the work, its windows and its fellings."""
    jobs: dict[str, list[Job]] = defaultdict(list)
    for job in schedule.jobs:
        if job.work != "look again":
            jobs[job.tree].append(job)
    choices = {choice.piece: choice for choice in schedule.choices}
    unmet = {piece for one in schedule.unmet for piece in one.pieces}
    calls = {job.id for job in jobs["site"] if job.work == "call"}
    broken: list[str] = []
    for tree in work.trees:
        mine = sorted(jobs[tree.tree.id], key=lambda job: int(job.id[1:]))
        broken += _felling(tree, mine, needs, work)
        for piece, brood, ways in tree.pieces():
            broken += _piece(tree, piece, brood, ways, choices[piece.id], mine, needs, calls)
            way = next((way for way in ways if way.id == choices[piece.id].way), None)
            broken += broken_bark(brood, [job for job in mine if piece.id in job.pieces], needs, work)
            if way is not None:
                broken += _latest(tree, mine, piece, brood, way, choices[piece.id], work)
            if counts(tree, brood) and choices[piece.id].way is None and piece.id not in unmet:
                broken.append(f"{piece.id} has brood and no way, and is not listed as unmet.")
        broken += _finished(tree, mine, choices, work)
        broken += _dates(mine, choices, needs)
        broken += _held(tree, mine, choices)
    return broken


def counts(tree: TreeWork, brood: PieceBrood) -> bool:
    """Does the brood of a piece count? Not in a tree that may stay standing."""
    return brood.brood != "none" and not (tree.tree.status == "standing" and tree.felling.who == "not needed")


def share_left(choice: Choice, way: Way | None, brood: PieceBrood, work: SiteWork) -> float:
    """Share of a piece's infested bark that is left at the onset of its flight."""
    if way is None or choice.window is None or choice.done_on is None or brood.flight_to_beat is None:
        return 1.0
    if choice.done_on >= flight_year(work.season, brood.flight_to_beat).onset:
        return 1.0
    end = way.windows[choice.window].end
    return 0.0 if end == "done" else SETTINGS["partial_share"] if end == "partial" else 1.0


def _felling(tree: TreeWork, jobs: list[Job], needs: Mapping[str, Need], work: SiteWork) -> Iterator[str]:
    name, felling = tree.tree.id, tree.felling
    settled = work.look_from(tree)
    for job in jobs:
        if job.work == "inspect" and settled is not None and job.first < settled:
            yield f"{job.id} looks before {settled}, when a look does not settle anything."
    falls = [job for job in jobs if job.work == "fell"]
    cuts = [job for job in jobs if job.work in DOWN]
    if felling.who == "not needed":
        if cuts or (tree.tree.status == "standing" and any(job.way for job in jobs)):
            yield f"{name} need not be felled, and is worked on."
        return
    before = [job for job in jobs if job.work in ("inspect", "call")]
    after = [job for job in jobs if job.way is not None]
    last = max((job.last for job in cuts), default=None)
    for job in cuts:
        if any(one.last > job.first for one in before):
            yield f"{job.id} comes before the look or the call that it rests on."
        if felling.earliest is not None and job.first < felling.earliest:
            yield f"{job.id} comes before {felling.earliest}."
    calls = [job.last for job in before if job.work == "call"]
    for job in falls:
        if calls and job.first < max(calls) + timedelta(days=felling.lead_days):
            yield f"{job.id} leaves less than {felling.lead_days} days after the call."
        if any(first <= day <= end for first, end in felling.closed for day, _ in job.day_hours):
            yield f"{job.id} falls on days on which {name} is not to be felled."
        own = next((crew for crew in work.inventory.crew if crew.name == job.crew), None)
        if (own is not None) != (felling.by == "crew"):
            yield f"{name} is to be felled by: {felling.by}."
        elif own is not None:
            yield from broken_felling(tree, job, own, bool(calls), work)
        if felling.who == "provisional" and not (job.provisional and job.question):
            yield f"{job.id} fells a tree near something that nobody has measured, and is not provisional."
    if after and not cuts:
        yield f"The wood of {name} is worked before it is down."
    yield from (f"{job.id} comes before {name} is down." for job in after if last is not None and job.first < last)
    rests = felling.who == "provisional" or tree.brood.needs_inspection
    yield from (
        f"{job.id} rests on an open question, and is not provisional."
        for job in [*cuts, *after]
        if rests and not job.provisional
    )


def _piece(
    tree: TreeWork,
    piece: Piece,
    brood: PieceBrood,
    ways: tuple[Way, ...],
    choice: Choice,
    jobs: list[Job],
    needs: Mapping[str, Need],
    calls: set[str],
) -> Iterator[str]:
    way = next((way for way in ways if way.id == choice.way), None)
    mine = [job for job in jobs if piece.id in job.pieces]
    if way is None or choice.window is None:
        return
    window = way.windows[choice.window]
    allowed = window.without_wish or window.verdict if window.verdict == "ruled out" else window.verdict
    if allowed == "ruled out" or (window.end == "not done" and counts(tree, brood)):
        yield f"{way.id} is ruled out or does nothing for {piece.id}."
    if mine and "locate-services" in window.needs and not any(name in calls for name in mine[0].after):
        yield f"{mine[0].id} digs before buried services are called for."
    before: Job | None = None
    for job in mine:
        need = needs.get(job.id)
        if need is None:
            continue
        if before is not None and (
            job.first < before.last + timedelta(days=need.wait_days) or before.id not in job.after
        ):
            yield f"{job.id} does not wait for {before.id} and {need.wait_days} days."
        if need.spans is not None and not all(any(a <= day <= b for a, b in need.spans) for day, _ in job.day_hours):
            yield f"{job.id} is done on a day on which that is closed."
        if need.completes:
            if not window.first <= job.last <= window.last:
                yield f"{job.id} ends outside the window that was chosen for {piece.id}."
            if choice.done_on not in (None, job.last):
                yield f"{piece.id} is done on {job.last}, not on {choice.done_on}."
        before = job
    at_stake = counts(tree, brood) or brood.host
    if at_stake and mine and choice.done_on is None:
        yield f"{piece.id} has no day on which it is done."
    if at_stake and way.too_late is not None and choice.done_on is not None and choice.done_on > way.too_late:
        yield f"{piece.id} is done when it is too late."


def lies_from(tree: TreeWork, jobs: Iterable[Job], piece: Piece, brood: PieceBrood, work: SiteWork) -> date | None:
    """Onset of the first flight that a piece lies through; None where the flight that it must beat comes first."""
    if not (counts(tree, brood) or brood.host) or brood.flight_to_beat is None or not is_host_piece(piece):
        return None
    down = work.on
    if tree.tree.status == "standing":
        falls = [job.first for job in jobs if job.work == "fell"]
        if not falls:
            return None
        down = min(falls)
    elif not draws_beetles(tree.tree, work.season, work.on):
        return None
    flight = flight_year(work.season, coming_flight(work.season, down))
    return None if brood.flight_to_beat <= flight.year else flight.onset


def _latest(
    tree: TreeWork, jobs: list[Job], piece: Piece, brood: PieceBrood, way: Way, choice: Choice, work: SiteWork
) -> Iterator[str]:
    """The day shown as the latest: the way's own, or the last before the flight that the wood must not lie through."""
    onset, last = lies_from(tree, jobs, piece, brood, work), way.finish_by
    if onset is not None and last is not None and (choice.done_on or work.on) < onset:
        last = min(last, onset - timedelta(days=1))
    if choice.latest != last:
        yield f"{piece.id} is to be done by {last}, not by {choice.latest}."
    if choice.wait_until not in (None, last):
        yield f"{piece.id} may wait until {last}, not until {choice.wait_until}."


def _held(tree: TreeWork, jobs: Iterable[Job], choices: Mapping[str, Choice]) -> Iterator[str]:
    """A tree is not felled or cut up while what its wood needs is not arranged; a call is planned, not asked."""
    asked = False
    for piece, brood, ways in tree.pieces():
        choice = choices[piece.id]
        way = next((way for way in ways if way.id == choice.way), None)
        if way is not None and choice.window is not None and (counts(tree, brood) or brood.host):
            asked |= any(need != "locate-services" for need in way.windows[choice.window].needs)
    for job in jobs:
        if asked and job.work in DOWN and not (job.provisional and job.question):
            yield f"{job.id} cuts wood whose treatment rests on an open question, and is not provisional."


def _dates(jobs: Iterable[Job], choices: Mapping[str, Choice], needs: Mapping[str, Need]) -> Iterator[str]:
    """The job that stops the brood bears the earliest date of its pieces."""
    for job in jobs:
        dates = [day for piece in job.pieces if (day := choices[piece].latest) is not None]
        if job.id in needs and needs[job.id].completes and job.finish_by != min(dates, default=None):
            yield f"{job.id} has another finish-by than its pieces."


def _finished(tree: TreeWork, jobs: list[Job], choices: Mapping[str, Choice], work: SiteWork) -> Iterator[str]:
    """No brood tree is felled that cannot be finished, hazard removals excepted; no wood lies through a flight."""
    falls = [job for job in jobs if job.work == "fell"]
    hazard = tree.tree.removal is not None and bool(tree.tree.hazards)
    if tree.tree.status != "standing" or not falls or hazard:
        return
    for piece, brood, ways in tree.pieces():
        choice = choices[piece.id]
        way = next((way for way in ways if way.id == choice.way), None)
        onset = lies_from(tree, falls, piece, brood, work)
        if piece.kind == "log" and counts(tree, brood) and share_left(choice, way, brood, work) > 0.0:
            yield f"{tree.tree.id} is felled, and {piece.id} is not finished before its flight."
        elif piece.kind == "log" and brood.host and choice.done_on is None:
            yield f"{tree.tree.id} is felled green, and nothing is done with {piece.id}."
        elif onset is not None and choice.done_on is not None and choice.done_on >= onset:
            yield f"{piece.id} lies on the ground through the flight of {onset.year}."
