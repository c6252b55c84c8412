"""The cost lines of a plan: labour by crew, machines, hires, professionals, and the worth of what is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from barkwright.costs.prices import Basis
from barkwright.schedule.jobs import CostLine, RentalRun
from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import fee_of_pounds, hauled
from barkwright.schedule.scenario import Candidate
from barkwright.treatment.facts import end_name
from barkwright.units import half_up


def cost_lines(model: SiteModel, best: Candidate, runs: Sequence[RentalRun]) -> tuple[CostLine, ...]:
    """All lines, labour first. Amounts are rounded to cents, half up; the sum is the sum of the lines."""
    return (
        *_labour(model, best),
        *_machines(model, best),
        *_hires(runs),
        *_professionals(model, best),
        *_fees(model, best),
        *_worth(model, best),
    )


def cents(amount: Decimal | float) -> Decimal:
    """An amount of money, half up."""
    return half_up(amount, 2)


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
        money = model.work.prices.labour_money(crew, hours)
        text = f"{crew.name}, {money.text}"
        yield CostLine(
            text, "labour", f"{half_up(hours, 1)} person-hours", cents(money.amount), money.basis, money.paid
        )


def _machines(model: SiteModel, best: Candidate) -> Iterator[CostLine]:
    for machine in model.machines:
        hours = sum(
            task.machine_need
            for plan in best.plans
            for task, placed in zip(plan.tasks, plan.placed, strict=True)
            if machine.place in placed.machines
        )
        money = model.work.prices.machine(machine.entry, hours)
        if hours > 0 and (money.amount > 0 or money.basis == "placeholder"):
            yield CostLine(
                f"{machine.label}, {money.text}",
                "machine",
                f"{half_up(hours, 1)} hours",
                cents(money.amount),
                money.basis,
                True,
            )


def _hires(runs: Sequence[RentalRun]) -> Iterator[CostLine]:
    for run in runs:
        yield CostLine(f"hire of the {run.label}", "rental", run.billed, cents(run.cost), "yours", True)


def _professionals(model: SiteModel, best: Candidate) -> Iterator[CostLine]:
    for plan in best.plans:
        who = next((task.outside for task in plan.tasks if task.outside), None)
        if who is None:
            continue
        removal = plan.tree.work.tree.removal
        money = model.work.prices.removal(None if removal is None else removal.price)
        basis: Basis = money.basis
        yield CostLine(
            f"{who} for {plan.tree.id}, {money.text}", "professional", "1 tree", cents(money.amount), basis, True
        )


def _fees(model: SiteModel, best: Candidate) -> Iterator[CostLine]:
    """What destinations ask for by the load, all that goes there with one kind of machine together."""
    for (place, vehicle), weight in hauled(model, best.plans).items():
        money = fee_of_pounds(model, place, vehicle, weight)
        text = f"{end_name(place)}, {money.text}"
        yield CostLine(text, "disposal", f"{half_up(weight)} lb", cents(money.amount), money.basis, True)


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
            yield CostLine(what, "worth", f"{half_up(amount, 2)} {unit}", cents(money), "yours", False)
