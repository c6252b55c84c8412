"""Two plans against each other, in plain words: which is better, and by how much of what."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Literal

from barkwright.schedule.paying import price_names
from barkwright.study.outcome import Tried
from barkwright.units import half_up

Verdict = Literal["better", "worse", "no different", "not shown"]
HALF_FT2 = 0.5
HALF_MONEY = Decimal("0.5")
HALF_PERCENT = 0.005


def verdict_of(tried: Tried) -> Verdict:
    """Is the site better off with a change? Less infested bark decides, then money, the last day, days of work."""
    if tried.then is None:
        return "better" if tried.saved_ft2 >= HALF_FT2 else "not shown"
    signs = [sign for sign in _signs(tried) if sign]
    return "no different" if not signs else "better" if signs[0] > 0 else "worse"


def compared(tried: Tried, currency: str) -> str:
    """What a change buys and costs, in one or two sentences; amounts are in ft2 and the site's currency."""
    if tried.broken:
        return "The plan made with it failed the program's own check and is not shown."
    if tried.then is None:
        much = max(half_up(tried.saved_ft2), 1)
        return f"It saves about {much:,} ft2 of infested bark: a quick guess, not planned in full."
    said = [*_said(tried, currency)]
    if not said:
        return "It makes no difference."
    text = said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"
    return f"{verdict_of(tried).capitalize()}: it {text}.{_without_price(tried)}"


def _without_price(tried: Tried) -> str:
    """What a change makes necessary, or spares, that has no price yet: the sums say nothing of it."""
    then = () if tried.then is None else tried.then.unpriced
    said = ""
    for lead, some, other in (
        ("Beside that it takes", then, tried.now.unpriced),
        ("It spares", tried.now.unpriced, then),
    ):
        more = [one for one in some if one not in other]
        if more:
            said += f" {lead} what has no price yet: {price_names(more)}."
    return said


def _signs(tried: Tried) -> Iterator[int]:
    """By level, 1 where the change is better, -1 where it is worse."""
    now, then = tried.now, tried.then
    assert then is not None
    yield _sign(tried.saved_ft2, HALF_FT2)
    yield _sign(float(tried.saved), float(HALF_MONEY))
    if now.last is not None and then.last is not None:
        yield _sign((now.last - then.last).days, 0.5)
    yield _sign(now.days - then.days, 0.5)
    if now.sure is not None and then.sure is not None:
        yield _sign(then.sure - now.sure, HALF_PERCENT)


def _sign(gain: float, least: float) -> int:
    return 0 if abs(gain) < least else 1 if gain > 0 else -1


def _said(tried: Tried, currency: str) -> Iterator[str]:
    now, then = tried.now, tried.then
    assert then is not None
    if _sign(tried.saved_ft2, HALF_FT2):
        much = f"{max(half_up(abs(tried.saved_ft2)), 1):,} ft2"
        yield f"leaves {much} {'less' if tried.saved_ft2 > 0 else 'more'} infested bark"
    if _sign(float(tried.saved), float(HALF_MONEY)):
        yield f"costs {currency} {half_up(abs(tried.saved)):,} {'less' if tried.saved > 0 else 'more'}"
    elif _sign(tried.saved_ft2, HALF_FT2):
        yield "costs the same"
    if now.last is not None and then.last is not None and now.last != then.last:
        sooner = (now.last - then.last).days
        yield f"ends {_count(abs(sooner), 'day')} {'sooner' if sooner > 0 else 'later'}"
    if now.days != then.days:
        more = then.days - now.days
        yield f"takes {_count(abs(more), 'day')} of work {'more' if more > 0 else 'less'}"
    if now.sure is not None and then.sure is not None and _sign(then.sure - now.sure, HALF_PERCENT):
        points = half_up(abs(then.sure - now.sure) * 100)
        yield f"is {points} in 100 {'more' if then.sure > now.sure else 'less'} likely to end in time"


def _count(count: int, noun: str) -> str:
    return f"{count:,} {noun}" if count == 1 else f"{count:,} {noun}s"
