"""How sure a plan is: its jobs run many times, each time with other hours, another pace and other weather."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from barkwright.record import dataclass
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.study.chance import jeffreys_interval
from barkwright.study.onsets import Onsets, onsets_of
from barkwright.study.planned import Planned, planned
from barkwright.study.settings import STUDY
from barkwright.study.stakes import Stake, stakes_of

if TYPE_CHECKING:
    from barkwright.study.score import Score

CHUNK = 16_000_000  # numbers drawn at a time; what comes out does not depend on it
FAR = 730  # days of margin that are looked through
DIGITS = 3


@dataclass(frozen=True, slots=True)
class TreeRisk:
    """One tree: the share of draws in which all that the plan means to stop in it is stopped in time."""

    tree: str
    probability: float


@dataclass(frozen=True, slots=True)
class FlightRisk:
    """The work that must be done before one flight."""

    year: int
    probability: float  # 0 to 1, mean over draws and years
    finish: date | None  # the day by which it has ended in `finish_share` of the draws; None: later than is looked at
    spare_days: int | None  # by which it might come later and `sure_share` still be in time; negative: too few
    years: int  # on record behind the onsets; 0: one date of a calendar


@dataclass(frozen=True, slots=True)
class Risk:
    """How likely the plan's work is done before the flights it must beat. What the plan leaves anyway is not in it."""

    probability: float  # 0 to 1, mean over draws and years
    flights: tuple[FlightRisk, ...]  # by year
    trees: tuple[TreeRisk, ...]  # in the order of the inventory; those with something at stake
    finish_share: float
    sure_share: float
    bark_left_ft2: float  # infested bark left at onset on average, what the plan leaves with it
    years: int  # the fewest on record behind a flight; 0: one date of a calendar
    range: tuple[float, float] | None  # in which the probability lies, so few years seen; None without a record
    range_level: float
    weather: bool  # days lost to weather are drawn
    pace: tuple[float, float]  # fastest and slowest of the shared pace, times the plan's hours
    draws: int
    seed: int


def risk_of(schedule: Schedule, work: SiteWork) -> Risk | None:
    """How sure the plan is; None where it stops nothing that must be stopped before a flight."""
    stakes = stakes_of(schedule, work)
    if not stakes:
        return None
    onsets = {year: onsets_of(work.season, year) for year in sorted({one.deadline.flight for one in stakes})}
    last = max(day for one in onsets.values() for day in one.days) + timedelta(days=int(STUDY["horizon_days"]))
    plan = planned(schedule, work, last)
    draws = draws_for(len(plan.nodes))
    score = run(plan, stakes, onsets, draws, int(STUDY["seed"]))
    return _risk(schedule, work, plan, onsets, score)


def draws_for(jobs: int) -> int:
    """How often a plan of so many jobs is run."""
    return int(max(STUDY["fewest_draws"], min(STUDY["draws"], STUDY["job_draws"] // max(1, jobs))))


def run(
    plan: Planned, stakes: tuple[Stake, ...], onsets: Mapping[int, Onsets], draws: int, seed: int, chunk: int = CHUNK
) -> Score:
    """Run a plan so many times and score every run."""
    from barkwright.study.dice import Dice, times
    from barkwright.study.network import Run
    from barkwright.study.score import Score

    low, high = STUDY["pace_low"], STUDY["pace_high"]
    likely = (6.0 - low - high) / 4.0  # so that the mean is 1
    days = plan.length if plan.lost else 0
    dice = Dice(seed, 1 + days + len(plan.nodes))
    score = Score(plan, stakes, onsets)
    size = max(1, chunk // dice.things)
    for begin in range(0, draws, size):
        count = min(size, draws - begin)
        throws = dice.throw(count)
        clocks = plan.clocks(throws[1 : 1 + days], count)
        part = score.part(clocks)
        Run(plan.nodes, clocks, times(low, likely, high, throws[0])).through(throws[1 + days :], part.ended)
        score.add(part)
    return score


def _risk(schedule: Schedule, work: SiteWork, plan: Planned, onsets: Mapping[int, Onsets], score: Score) -> Risk:
    level = STUDY["years_level"]
    probability = score.in_time(0)
    years = min(one.years for one in onsets.values())
    trees = score.trees()
    found = jeffreys_interval(probability * years, years, level) if years else None
    return Risk(
        probability=_chance(probability),
        flights=tuple(_flight(year, one.years, plan, score) for year, one in onsets.items()),
        trees=tuple(TreeRisk(one.tree.id, _chance(trees[one.tree.id])) for one in work.trees if one.tree.id in trees),
        finish_share=STUDY["finish_share"],
        sure_share=STUDY["sure_share"],
        bark_left_ft2=_near(schedule.infested_left_ft2 + score.bark_late_ft2()),
        years=years,
        range=None if found is None else (_near(found[0], 2), _near(found[1], 2)),
        range_level=level,
        weather=plan.lost is not None,
        pace=(STUDY["pace_low"], STUDY["pace_high"]),
        draws=score.draws,
        seed=int(STUDY["seed"]),
    )


def _flight(year: int, years: int, plan: Planned, score: Score) -> FlightRisk:
    day = score.day_at(STUDY["finish_share"], year)
    return FlightRisk(
        year=year,
        probability=_chance(score.in_time(0, (year,))),
        finish=None if day >= plan.length else plan.first + timedelta(days=day),
        spare_days=spare_days(score, STUDY["sure_share"], year),
        years=years,
    )


def spare_days(score: Score, sure: float, year: int) -> int | None:
    """The most days by which all work before a flight might come later and still be in time in that share.

    Negative: so many days sooner it would have to be. None: no number of days is enough.
    """
    low, high = -FAR, FAR
    if score.in_time(low, (year,)) < sure:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if score.in_time(middle, (year,)) >= sure else (low, middle)
    return low


def _chance(value: float) -> float:
    """A probability rounded, but never to 0 or 1 if it is neither."""
    least = 10.0**-DIGITS
    return _near(value if value in (0.0, 1.0) else min(max(value, least), 1.0 - least))


def _near(value: Any, digits: int = DIGITS) -> float:
    return round(float(value), digits) + 0.0
