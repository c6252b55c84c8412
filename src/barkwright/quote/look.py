"""The look after the flight as an option: no line of the plan's costs counts it, so it is priced by itself."""

from __future__ import annotations

from decimal import Decimal

from barkwright.costs.currency import hundredths
from barkwright.plan import Plan
from barkwright.quote.buildup import build_up_of
from barkwright.quote.direct import rates_of, strayed
from barkwright.record import dataclass
from barkwright.schedule.jobs import CostLine, Job
from barkwright.units import half_up


@dataclass(frozen=True, slots=True)
class PricedLook:
    """The look after the flight, and what it would cost beside the rest."""

    job: Job
    price: Decimal  # before tax


def look_of(plan: Plan) -> PricedLook | None:
    """The look at the crew's rate, by the build-up of the price; None where no crew of a given rate does it."""
    job = next((job for job in plan.schedule.jobs if job.work == "look again"), None)
    crew = None if job is None else next((crew for crew in plan.inventory.crew if crew.name == job.crew), None)
    if job is None or crew is None:
        return None
    prices, rates = plan.work.prices, rates_of(plan.work)
    money = prices.labour_money(crew, hundredths(job.hours))
    if not money.paid or money.basis != "yours" or money.amount <= 0:
        return None
    line = CostLine(
        crew.name,
        "labour",
        f"{hundredths(job.hours):.2f} person-hours",
        half_up(money.amount, prices.decimals),
        "yours",
        True,
    )
    terms, hours = plan.inventory.quote, Decimal(str(job.hours))
    spread = Decimal(0) if terms.contingency_percent is not None else strayed(job, rates.crews[crew.name] * hours)
    return PricedLook(job, build_up_of([line], spread, terms, prices.decimals).price)
