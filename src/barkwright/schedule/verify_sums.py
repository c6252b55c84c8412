"""The checker's part on sums: infested bark, unmet, limits and money."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from math import ceil

from barkwright.brood.finding import PieceBrood
from barkwright.costs.currency import hundredths, least_amount
from barkwright.inventory.model import Destination
from barkwright.schedule.jobs import Choice, Job, Schedule
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.schedule.verify_wood import counts, lies_from, share_left
from barkwright.season.flight import flight_year
from barkwright.stem.pieces import Piece
from barkwright.treatment.rates import rate_book
from barkwright.treatment.ways import Way
from barkwright.units import half_up

SLACK = 1e-3
FT2_SLACK = 1e-6


def broken_sums(schedule: Schedule, work: SiteWork) -> list[str]:
    """Sums that do not add up, and limits that do not hold."""
    return [*_bark(schedule, work), *_limits(schedule, work), *_money(schedule, work)]


def _bark(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    choices = {choice.piece: choice for choice in schedule.choices}
    falls: dict[str, list[Job]] = defaultdict(list)
    for job in schedule.jobs:
        if job.work == "fell":
            falls[job.tree].append(job)
    before = left = host = 0.0
    for tree in work.trees:
        for piece, brood, ways in tree.pieces():
            choice = choices[piece.id]
            way = next((way for way in ways if way.id == choice.way), None)
            share = share_left(choice, way, brood, work)
            if counts(tree, brood):
                before += brood.weight * piece.bark_ft2
                left += share * brood.weight * piece.bark_ft2
                host += _lain(tree, falls[tree.tree.id], piece, brood, way, choice, work)
            elif brood.host and (falls[tree.tree.id] or tree.tree.status != "standing"):
                lain = _lain(tree, falls[tree.tree.id], piece, brood, way, choice, work)
                host += max(share * piece.bark_ft2, lain)
    unmet = sum(one.infested_ft2 for one in schedule.unmet)
    for name, said, found in (
        ("Infested bark before", schedule.infested_before_ft2, before),
        ("Infested bark left at onset", schedule.infested_left_ft2, left),
        ("Host bark left at onset", schedule.host_left_ft2, host),
        ("Infested bark of what is unmet", unmet, left),
    ):
        if abs(said - found) > FT2_SLACK * max(1.0, found):
            yield f"{name} is {found:.3f} ft2, not {said:.3f} ft2."


def _lain(
    tree: TreeWork,
    falls: list[Job],
    piece: Piece,
    brood: PieceBrood,
    way: Way | None,
    choice: Choice,
    work: SiteWork,
) -> float:
    """Bark of a piece that lies through a flight before the one that it must beat [ft2]."""
    onset = lies_from(tree, falls, piece, brood, work)
    if onset is None:
        return 0.0
    if way is None or choice.window is None or choice.done_on is None or choice.done_on >= onset:
        return piece.bark_ft2
    return 0.0 if way.windows[choice.window].end == "done" else SETTINGS["partial_share"] * piece.bark_ft2


def _limits(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    limits = work.inventory.limits
    paid = sum((line.amount for line in schedule.costs if line.paid), Decimal(0))
    if limits.budget is not None and paid > limits.budget + _slack(work):
        yield f"The plan costs {paid}, and the budget is {limits.budget}."
    if limits.chips_site_takes_yd3 is None and limits.firewood_cords_per_week is None:
        return
    chips = cords = 0.0
    weeks = float("inf")
    choices = {choice.piece: choice for choice in schedule.choices}
    for tree in work.trees:
        for piece, brood, ways in tree.pieces():
            way = next((way for way in ways if way.id == choices[piece.id].way), None)
            if way is None or not (way.then == "chips" or way.id.endswith("-stove")):
                continue
            found = work.yields(tree.tree, piece, way)
            if way.then == "chips":
                chips += found.chips_yd3
            else:
                cords += found.cords
                weeks = min(weeks, _stove_weeks(choices[piece.id], way, brood, work))
    if limits.chips_site_takes_yd3 is not None and chips > limits.chips_site_takes_yd3 + SLACK:
        yield f"The plan leaves {chips:.1f} yd3 of chips, and the site takes {limits.chips_site_takes_yd3:.1f}."
    if (
        limits.firewood_cords_per_week is not None
        and cords > 0
        and cords > limits.firewood_cords_per_week * weeks + SLACK
    ):
        yield f"The plan burns {cords:.2f} cords in the stove in {weeks:.0f} weeks, more than you said."


def _stove_weeks(choice: Choice, way: Way, brood: PieceBrood, work: SiteWork) -> float:
    """Weeks that the stove has for a piece: to its finish-by, and if that is missed to its flight or its half."""
    start = max(work.on, work.inventory.calendar.start or work.on)
    if brood.flight_to_beat is None or way.too_late is None:
        return float("inf")
    before = flight_year(work.season, brood.flight_to_beat).onset - timedelta(days=1)
    day = choice.done_on or before
    ends = [*([] if way.finish_by is None else [min(way.finish_by, before)]), before, way.too_late]
    return (next((end for end in ends if day <= end), way.too_late) - start).days / 7


def _money(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    labour = Decimal(0)
    for crew in work.inventory.crew:
        hours = sum(job.hours for job in schedule.jobs if job.crew == crew.name and job.work != "look again")
        if hours > 0:
            labour += half_up(work.prices.labour(crew, hundredths(hours))[0], work.prices.decimals)
    said = sum((line.amount for line in schedule.costs if line.kind == "labour"), Decimal(0))
    if abs(labour - said) > _slack(work):
        yield f"The labour comes to {labour}, not {said}."
    hires = sum((run.cost for run in schedule.rentals), Decimal(0))
    billed = sum((line.amount for line in schedule.costs if line.kind == "rental"), Decimal(0))
    if abs(hires - billed) > _slack(work):
        yield f"The hires come to {hires}, not {billed}."
    fees = _fees(schedule, work)
    asked = sum((line.amount for line in schedule.costs if line.kind == "disposal"), Decimal(0))
    if abs(fees - asked) > _slack(work):
        yield f"The fees for whole loads come to {fees}, not {asked}."


def _slack(work: SiteWork) -> Decimal:
    """What rounding line by line may come to [currency]."""
    return 5 * least_amount(work.inventory.currency)


def _fees(schedule: Schedule, work: SiteWork) -> Decimal:
    """What destinations ask for all that is hauled to them, each kind of vehicle loaded full [currency]."""
    weights: dict[tuple[Destination, str], float] = defaultdict(float)
    choices = {choice.piece: choice.way for choice in schedule.choices}
    for tree in work.trees:
        for piece, _, ways in tree.pieces():
            way = next((way for way in ways if way.id == choices[piece.id]), None)
            place = None if way is None else work.bench.destination(way.id)
            if way is not None and place is not None and place.fee_per_load is not None:
                vehicle = next(one for one in ("truck", "trailer", "chip-truck") if one in way.tools)
                weights[place, vehicle] += work.yields(tree.tree, piece, way).haul_lb
    fees = Decimal(0)
    for (place, kind), pounds in weights.items():
        sizes = [one.working_capacity or one.capacity for one in work.inventory.equipment if one.kind == kind]
        known = max((size for size in sizes if size), default=0.0) if kind != "chip-truck" else 0.0
        payload = known or rate_book(work.inventory.local).value("truck-payload")
        fees += (place.fee_per_load or Decimal(0)) * max(0, ceil(pounds / payload - SLACK / payload))
    return fees
