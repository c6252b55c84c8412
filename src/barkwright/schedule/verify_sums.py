"""The checker's part on sums: infested bark, unmet, limits and money."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from barkwright.schedule.jobs import Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.verify_wood import counts, share_left
from barkwright.units import half_up

SLACK = 1e-3
FT2_SLACK = 1e-6


def broken_sums(schedule: Schedule, work: SiteWork) -> list[str]:
    """Sums that do not add up, and limits that do not hold."""
    return [*_bark(schedule, work), *_limits(schedule, work), *_money(schedule, work)]


def _bark(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    choices = {choice.piece: choice for choice in schedule.choices}
    before = left = host = 0.0
    for tree in work.trees:
        for piece, brood, ways in tree.pieces():
            choice = choices[piece.id]
            way = next((way for way in ways if way.id == choice.way), None)
            share = share_left(choice, way, brood, work)
            if counts(tree, brood):
                before += brood.weight * piece.bark_ft2
                left += share * brood.weight * piece.bark_ft2
            elif (
                brood.host
                and brood.brood == "none"
                and not (tree.tree.status == "standing" and tree.felling.who == "not needed")
            ):
                host += share * piece.bark_ft2
    unmet = sum(one.infested_ft2 for one in schedule.unmet)
    for name, said, found in (
        ("Infested bark before", schedule.infested_before_ft2, before),
        ("Infested bark left at onset", schedule.infested_left_ft2, left),
        ("Host bark left at onset", schedule.host_left_ft2, host),
        ("Infested bark of what is unmet", unmet, left),
    ):
        if abs(said - found) > FT2_SLACK * max(1.0, found):
            yield f"{name} is {found:.3f} ft2, not {said:.3f} ft2."


def _limits(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    limits = work.inventory.limits
    paid = sum((line.amount for line in schedule.costs if line.paid), Decimal(0))
    if limits.budget is not None and paid > limits.budget + Decimal("0.05"):
        yield f"The plan costs {paid}, and the budget is {limits.budget}."
    if limits.chips_site_takes_yd3 is None and limits.firewood_cords_per_week is None:
        return
    chips = cords = 0.0
    weeks = float("inf")
    choices = {choice.piece: choice for choice in schedule.choices}
    for tree in work.trees:
        for piece, _, ways in tree.pieces():
            way = next((way for way in ways if way.id == choices[piece.id].way), None)
            if way is None or not (way.then == "chips" or way.id.endswith("-stove")):
                continue
            found = work.yields(tree.tree, piece, way)
            if way.then == "chips":
                chips += found.chips_yd3
            elif way.too_late is not None:
                cords, weeks = (
                    cords + found.cords,
                    max(0.0 if weeks == float("inf") else weeks, (way.too_late - work.on).days / 7),
                )
    if limits.chips_site_takes_yd3 is not None and chips > limits.chips_site_takes_yd3 + SLACK:
        yield f"The plan leaves {chips:.1f} yd3 of chips, and the site takes {limits.chips_site_takes_yd3:.1f}."
    if (
        limits.firewood_cords_per_week is not None
        and cords > 0
        and cords > limits.firewood_cords_per_week * weeks + SLACK
    ):
        yield f"The plan burns {cords:.2f} cords in the stove in {weeks:.0f} weeks, more than you said."


def _money(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    labour = Decimal(0)
    for crew in work.inventory.crew:
        hours = sum(job.hours for job in schedule.jobs if job.crew == crew.name and job.work != "look again")
        if hours > 0:
            labour += half_up(work.prices.labour(crew, hours)[0], 2)
    said = sum((line.amount for line in schedule.costs if line.kind == "labour"), Decimal(0))
    if abs(labour - said) > Decimal("0.05"):
        yield f"The labour comes to {labour}, not {said}."
    hires = sum((run.cost for run in schedule.rentals), Decimal(0))
    billed = sum((line.amount for line in schedule.costs if line.kind == "rental"), Decimal(0))
    if abs(hires - billed) > Decimal("0.05"):
        yield f"The hires come to {hires}, not {billed}."
