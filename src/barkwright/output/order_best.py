"""How good the plan is: what no plan can better, what this one comes to, and what that does not cover."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from datetime import timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from barkwright.output.blocks import Para, Section, Table
from barkwright.output.view import FROM_OPTIONS, View
from barkwright.output.words import amount, day, listing, money, number
from barkwright.schedule.calendar import first_day
from barkwright.schedule.levels import BARK, CHANGES, LAST, MONEY, NAMES
from barkwright.schedule.paying import to_pay, unpriced

if TYPE_CHECKING:
    from barkwright.schedule.jobs import Level

NOISE = 1e-3  # what lies closer together than this is the same
SMALLEST = 0.0005  # a smaller share is not worth a figure
RULE = "This plan was made by a rule of thumb; nothing is proven about it, and a better one may exist."
NOT_IN_IT = (
    "All this holds for what is reckoned with here: walking between trees, learning on the job, other weather than is "
    "expected, and hours that turn out wrong are not in it."
)
CLIENTS = (NAMES[BARK], NAMES[MONEY])  # what a client asks for first
HEAD = ("What counts, in this order", "This plan", "Least", "Gap", "May give up")
ROUNDED = Decimal("0.001")  # a share of the sum to pay that the rounding of hours may make; ours


def how_good(view: View) -> Section | None:
    """What is proven in sentences; on larger sites also a table of everything that plans are compared by."""
    schedule = view.plan.schedule
    optimum = schedule.optimum
    if not optimum.levels or not (schedule.jobs or schedule.unmet):
        return None
    proven = any(level.bound is not None for level in optimum.levels)
    said = [*([] if proven else [RULE]), *_bark(view), *_money(view)]
    worse = any(level.gap is None or level.gap > NOISE for level in optimum.levels if level.name in CLIENTS)
    ended = optimum.stopped.rstrip(".")
    if ended and (worse or not view.small):
        said.append(f"{'Why the search ended' if proven else 'How it was made'}: {ended}.")
    if worse or not view.small:
        said += _given_up(view)
    blocks: list[Para | Table] = [Para(" ".join(said))]
    if not view.small:
        blocks += [*_in_full(view), *([Para(NOT_IN_IT)] if proven else [])]
    return Section("How good this plan is", tuple(blocks))


def _bark(view: View) -> Iterator[str]:
    """What is left of the infested bark, and whether less could be."""
    level = _named(view, BARK)
    if level is None or not view.plan.schedule.infested_before_ft2:
        return
    left = f"{_area(view, level.value)} of infested bark"
    if level.value <= NOISE:
        yield "Nothing infested is left: that cannot be bettered."
    elif level.bound is None or level.gap is None:
        yield f"{left} is left; whether less could be is not known."
    elif level.gap <= NOISE:
        yield f"{left} is left: no plan for this site can leave less."
    elif level.bound <= NOISE:
        yield f"{left} is left; that all of it could be treated is not ruled out."
    else:
        yield f"No plan for this site can leave less than {_least(view, level)} of infested bark; this one leaves"
        yield f"{_area(view, level.value)}."


def _money(view: View) -> Iterator[str]:
    """What the plan comes to, and the least that one as good at the bark can come to."""
    level = _named(view, MONEY)
    if level is None or level.bound is None or level.gap is None:
        return
    costs, counted = money(Decimal(str(level.value)), view.currency), _counted(view, level)
    share = level.gap / level.bound if level.bound > NOISE else math.inf
    if level.gap <= NOISE or share < SMALLEST:
        yield f"It costs {costs}{counted}: by the hours and prices on this sheet"
        yield "no plan that does as much against the beetles can cost less."
        return
    more = money(Decimal(str(level.gap)), view.currency) if math.isinf(share) else _per_cent(share)
    yield "By the hours and prices on this sheet no plan that does as much against the beetles can cost less than"
    yield f"{_least(view, level)}; this one costs {costs}, {more} more{counted}."


def _counted(view: View, level: Level) -> str:
    """How far the money that plans are compared by is not what has to be paid."""
    lines = view.plan.schedule.costs
    text = ""
    if abs(Decimal(str(level.value)) - to_pay(lines)) >= max(Decimal(1), to_pay(lines) * ROUNDED):
        text += ", unpaid hours, late work and the like counted at their worth"
    return text + (", without what has no price yet" if unpriced(lines) else "")


def _in_full(view: View) -> Iterator[Para | Table]:
    """The levels as a table, and those at which there is nothing to better in one line."""
    levels = view.plan.schedule.optimum.levels
    if not view.plan.schedule.jobs:
        levels = tuple(level for level in levels if level.name != NAMES[LAST])
    at_best = [level for level in levels if _at_best(level)]
    rows = tuple(_row(view, level) for level in levels if level not in at_best)
    if rows:
        yield Table(HEAD, rows, "lrrrr", wrap=0)
    if at_best:
        yield Para(f"At zero, which cannot be bettered: {listing([level.name for level in at_best])}.")


def _at_best(level: Level) -> bool:
    """Is it at zero, below which it cannot be?"""
    return abs(level.value) <= NOISE and level.name not in (NAMES[MONEY], NAMES[LAST]) and not level.tolerance


def _row(view: View, level: Level) -> tuple[str, ...]:
    say = _teller(view, level)
    value = say(level.value)
    if level.bound is None or level.gap is None:
        least, gap = "not known", "not known"
    elif level.gap <= NOISE:
        least, gap = value, "none"
    else:
        least, gap = _least(view, level), _gap(view, level)
    return level.name, value, least, gap, say(level.tolerance) if level.tolerance else "nothing"


def _teller(view: View, level: Level) -> Callable[[float], str]:
    """How an amount of a level is said."""
    if level.name == NAMES[LAST]:
        first = first_day(view.plan.inventory.calendar, view.plan.on)
        return lambda value: day(first + timedelta(days=int(value)))
    if level.name == NAMES[MONEY]:
        return lambda value: money(Decimal(str(value)), view.currency)
    if level.unit == "ft2":
        return lambda value: _area(view, value)
    if level.unit == "person-hours":
        return lambda value: f"{number(value, 1)} h"
    one = level.unit.removesuffix("s")
    return lambda value: amount(value, one)


def _least(view: View, level: Level) -> str:
    """The bound, rounded down: less is claimed, never more."""
    assert level.bound is not None
    return _teller(view, level)(float(math.floor(level.bound + NOISE)))


def _gap(view: View, level: Level) -> str:
    assert level.bound is not None
    assert level.gap is not None
    if level.name == NAMES[LAST]:
        return amount(math.ceil(level.gap - NOISE), "day")
    share = level.gap / level.bound if level.bound > NOISE else 0.0
    return _per_cent(share) if share >= SMALLEST else _teller(view, level)(level.gap)


def _per_cent(share: float) -> str:
    """Rounded up, so that no gap is shown smaller than it is."""
    if share < 0.1:
        return f"{math.ceil(share * 1000 - NOISE) / 10:g} %"
    return f"{math.ceil(share * 100 - NOISE):,} %"


def _given_up(view: View) -> Iterator[str]:
    """What the plan may do worse than the least, and what for."""
    bark, cost = _named(view, BARK), _named(view, MONEY)
    said = []
    if bark is not None and bark.tolerance:
        said.append(f"leave up to {_area(view, bark.tolerance)} more infested bark than the least, to save money")
    if cost is not None and cost.tolerance:
        more = money(Decimal(str(cost.tolerance)), view.currency)
        fewer = "" if _named(view, CHANGES) is None else "fewer changes to the order that was given out, "
        said.append(
            f"cost up to {more} more than the least that was found, "
            f"for {fewer}fewer rental days, less trouble and an earlier end"
        )
    if said and view.plan.schedule.optimum.by == "best plan":
        where = "" if view.made_from == FROM_OPTIONS else "; you may say otherwise under `best`"
        yield f"It may {listing(said)}{where}."


def _area(view: View, value: float) -> str:
    return view.units.square_feet(value)


def _named(view: View, which: int) -> Level | None:
    return next((level for level in view.plan.schedule.optimum.levels if level.name == NAMES[which]), None)
