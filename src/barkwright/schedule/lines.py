"""The cost lines of a plan: labour by crew, machines, hires, professionals, and the worth of what is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from barkwright.costs.currency import hundredths
from barkwright.costs.prices import Basis
from barkwright.schedule.jobs import CostLine, RentalRun
from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import fee_of_pounds, hauled
from barkwright.schedule.scenario import Candidate
from barkwright.treatment.facts import end_name
from barkwright.units import half_up


def cost_lines(model: SiteModel, best: Candidate, runs: Sequence[RentalRun]) -> tuple[CostLine, ...]:
    """All lines, labour first. Amounts are rounded half up as they are counted; the sum is the sum of the lines."""
    return (
        *_labour(model, best),
        *_machines(model, best),
        *_hires(model, runs),
        *_professionals(model, best),
        *_fees(model, best),
        *_worth(model, best),
    )


def _money(model: SiteModel, amount: Decimal) -> Decimal:
    """An amount of money as it is counted in the site's currency, half up."""
    return half_up(amount, model.work.prices.decimals)


def _labour(model: SiteModel, best: Candidate) -> Iterator[CostLine]:
    for place, crew in enumerate(model.work.inventory.crew):
        hours = sum(
            task.need
            for plan in best.plans
            for task, placed in zip(plan.tasks, plan.placed, strict=True)
            if placed.crew == place
        )
        if hours <= 0:
            continue
        money = model.work.prices.labour_money(crew, hundredths(hours))
        quantity = f"{half_up(hundredths(hours), 2):,} person-hours"
        text, amount = f"{crew.name}, {money.text}", _money(model, money.amount)
        yield CostLine(text, "labour", quantity, amount, money.basis, money.paid)


def _machines(model: SiteModel, best: Candidate) -> Iterator[CostLine]:
    for machine in model.machines:
        hours = sum(
            task.machine_need
            for plan in best.plans
            for task, placed in zip(plan.tasks, plan.placed, strict=True)
            if machine.place in placed.machines
        )
        money = model.work.prices.machine(machine.entry, hundredths(hours))
        if hours > 0 and (money.amount > 0 or money.basis == "placeholder"):
            yield CostLine(
                f"{machine.label}, {money.text}",
                "machine",
                f"{half_up(hundredths(hours), 2):,} hours",
                _money(model, money.amount),
                money.basis,
                True,
            )


def _hires(model: SiteModel, runs: Sequence[RentalRun]) -> Iterator[CostLine]:
    for run in runs:
        yield CostLine(f"hire of the {run.label}", "rental", run.billed, _money(model, run.cost), "yours", True)


def _professionals(model: SiteModel, best: Candidate) -> Iterator[CostLine]:
    for plan in best.plans:
        who = next((task.outside for task in plan.tasks if task.outside), None)
        if who is None:
            continue
        removal = plan.tree.work.tree.removal
        money = model.work.prices.removal(None if removal is None else removal.price)
        basis: Basis = money.basis
        text, amount = f"{who} for {plan.tree.id}, {money.text}", _money(model, money.amount)
        yield CostLine(text, "professional", "1 tree", amount, basis, True)


def _fees(model: SiteModel, best: Candidate) -> Iterator[CostLine]:
    """What destinations ask for by the load, all that goes there with one kind of machine together."""
    for (place, vehicle), weight in hauled(model, best.plans).items():
        money = fee_of_pounds(model, place, vehicle, weight)
        text = f"{end_name(place)}, {money.text}"
        yield CostLine(text, "disposal", f"{half_up(weight)} lb", _money(model, money.amount), money.basis, True)


def _worth(model: SiteModel, best: Candidate) -> Iterator[CostLine]:
    own = model.work.inventory.worth
    cords = boards = chips = 0.0
    for plan in best.plans:
        for piece in plan.tree.pieces:
            pick = plan.picks.get(piece.piece.id)
            if pick is not None and plan.tree.work.felling.who != "not needed":
                got = model.work.yields(plan.tree.work.tree, piece.piece, piece.ways[pick.option.position])
                cords, boards, chips = cords + got.cords, boards + got.sawlog_bf, chips + got.chips_yd3
    for what, amount, unit, price in (
        ("firewood kept", cords, "cords", own.firewood_per_cord),
        ("saw logs kept", boards / 1000, "thousand board feet", own.sawlogs_per_thousand_bf),
        ("chips kept", chips, "yd3", own.chips_per_yd3),
    ):
        if price is not None and amount > 0:
            money = -price * Decimal(str(amount))
            yield CostLine(what, "worth", f"{half_up(amount, 2)} {unit}", _money(model, money), "yours", False)
