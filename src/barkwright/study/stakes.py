"""What is at stake in a plan: which job stops which brood, and what that must be in time for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from barkwright.brood.finding import PieceBrood
from barkwright.record import dataclass
from barkwright.schedule.jobs import Choice, Job, Schedule
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.season.flight import finish_by, flight_year
from barkwright.stem.pieces import Piece
from barkwright.treatment.ways import Way


@dataclass(frozen=True, slots=True)
class Deadline:
    """In time for a flight: so many days before its first day, and while the way is open."""

    flight: int  # year
    lead: int  # days before the onset by which the work is to end, as wood must dry or bark come off by then
    closes: date | None  # last day on which the way may be done; None: only the flight ends it


@dataclass(frozen=True, slots=True)
class Stake:
    """Pieces of one tree whose brood one job stops, and that share a deadline."""

    job: str
    tree: str
    deadline: Deadline
    infested_ft2: float  # that is left if the job comes too late, beside what the plan leaves anyway


def stakes_of(schedule: Schedule, work: SiteWork) -> tuple[Stake, ...]:
    """All that the plan means to stop in time. What it leaves or does too late is not in it: that is sure."""
    jobs = {piece: job for job in schedule.jobs if job.completes for piece in job.pieces}
    choices = {choice.piece: choice for choice in schedule.choices}
    found: dict[tuple[str, str, Deadline], float] = {}
    for tree in work.trees:
        for piece, brood, ways in tree.pieces():
            choice, job = choices.get(piece.id), jobs.get(piece.id)
            way = next((one for one in ways if choice is not None and one.id == choice.way), None)
            if choice is None or job is None or way is None:
                continue
            for deadline in _deadline(choice, job, way, brood, work):
                key = (job.id, tree.tree.id, deadline)
                found[key] = found.get(key, 0.0) + _at_stake_ft2(tree, piece, brood, choice, way)
    return tuple(Stake(*key, area) for key, area in found.items())


def _deadline(choice: Choice, job: Job, way: Way, brood: PieceBrood, work: SiteWork) -> Iterator[Deadline]:
    """The deadline of a piece that is planned in time for its flight; nothing for another."""
    own = brood.flight_to_beat
    if own is None or choice.done_on is None or choice.done_on >= flight_year(work.season, own).onset:
        return
    latest, year, lead = choice.latest, own, 0
    sooner = None if latest is None else _flight_after(latest, work)
    if sooner is not None and sooner < own and choice.done_on <= (latest or choice.done_on):
        year = sooner  # it lies through a flight before its own
    elif latest is not None:
        lead = max(0, (finish_by(flight_year(work.season, own)) - latest).days)
    yield Deadline(year, lead, min((day for day in (job.closes, _open_until(way, choice)) if day), default=None))


def _flight_after(latest: date, work: SiteWork) -> int | None:
    """The flight that begins on the day after, where a date was set so that wood does not lie through it."""
    found = flight_year(work.season, latest.year)
    return found.year if found.onset == latest + timedelta(days=1) else None


def _open_until(way: Way, choice: Choice) -> date | None:
    """The last day on which the way is done as planned, where that comes no later than its date; None elsewhere."""
    if choice.window is None or way.finish_by is None:
        return None
    end, last = way.windows[choice.window].end, way.windows[choice.window].last
    for window in way.windows[choice.window + 1 :]:
        if window.verdict == "ruled out" or window.end not in (end, "done"):
            break
        last = window.last
    return last if last <= way.finish_by else None


def _at_stake_ft2(tree: TreeWork, piece: Piece, brood: PieceBrood, choice: Choice, way: Way) -> float:
    stays = tree.felling.who == "not needed" and tree.tree.status == "standing"
    if stays or brood.brood == "none" or choice.window is None:
        return 0.0
    kept = SETTINGS["partial_share"] if way.windows[choice.window].end == "partial" else 0.0
    return brood.weight * piece.bark_ft2 * (1.0 - kept)
