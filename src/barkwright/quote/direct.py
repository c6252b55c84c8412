"""What each job costs by itself: paid hands and running machines, and how far that may stray."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from barkwright.inventory.model import Crew
from barkwright.quote.settings import QUOTATION
from barkwright.record import dataclass
from barkwright.schedule.jobs import Job, Schedule
from barkwright.schedule.sitework import SiteWork

ZERO = Decimal(0)
UNCOUNTED = ("look again",)  # jobs that no line of the plan's costs counts


@dataclass(frozen=True, slots=True)
class Rates:
    """What an hour costs here, by crew and by kind of machine [currency/h]; unpaid hands cost nothing."""

    crews: Mapping[str, Decimal]
    machines: Mapping[str, Decimal]


def rates_of(work: SiteWork) -> Rates:
    """The hourly rates of a site as its plan counts them, with the burden on paid labour."""
    burden = 1 + (work.inventory.quote.burden_percent or ZERO) / 100
    machines: dict[str, Decimal] = {}
    for entry in work.inventory.equipment:
        running = work.prices.machine(entry, 1.0).amount
        machines[entry.kind] = max(running, machines.get(entry.kind, ZERO))
    return Rates({crew.name: _hourly(work, crew) * burden for crew in work.inventory.crew}, machines)


def job_cost(job: Job, rates: Rates) -> Decimal:
    """Paid labour and running machines of one job at its planned hours [currency]."""
    if job.work in UNCOUNTED:
        return ZERO
    running = sum((rates.machines.get(kind, ZERO) for kind in job.equipment), ZERO)
    machine_hours = Decimal(str(sum(hours for _, hours in job.machine_hours)))
    return rates.crews.get(job.crew or "", ZERO) * Decimal(str(job.hours)) + running * machine_hours


def contingency_of(work: SiteWork, schedule: Schedule) -> Decimal:
    """One standard deviation of paid labour and running machines, all jobs moving together [currency].

    A job's deviation is (high - low) / 6 of its hours; its machines stray in the same share.
    """
    rates = rates_of(work)
    return sum((strayed(job, job_cost(job, rates)) for job in schedule.jobs), ZERO)


def strayed(job: Job, cost: Decimal) -> Decimal:
    """The contingency of one job that costs so much at its planned hours [currency]."""
    if job.hours <= 0:
        return ZERO
    sixths, deviations = (Decimal(str(QUOTATION[name])) for name in ("spread_sixths", "contingency_deviations"))
    return cost * Decimal(str(job.hours_high - job.hours_low)) / sixths / Decimal(str(job.hours)) * deviations


def _hourly(work: SiteWork, crew: Crew) -> Decimal:
    money = work.prices.labour_money(crew, 1.0)
    return money.amount if money.paid else ZERO
