"""What keeping more of an earlier order would cost: the last resort of reasons, in figures."""

from __future__ import annotations

from collections.abc import Iterator

from barkwright.schedule.jobs import Level, Optimum
from barkwright.schedule.levels import (
    AVOIDED,
    BARK,
    CHANGES,
    FLOWN,
    HOST,
    LIKED,
    MONEY,
    NAMES,
    REMOVALS,
)  # fmt: skip
from barkwright.units import half_up

WORDS = {
    NAMES[BARK]: "leave {} ft2 more infested bark when beetles begin to fly",
    NAMES[FLOWN]: "leave {} ft2 more infested bark to fly",
    NAMES[REMOVALS]: "leave {} more of the trees standing that are to come down",
    NAMES[AVOIDED]: "treat {} more pieces in a way that you would rather avoid",
    NAMES[HOST]: "leave {} ft2 more green bark lying for beetles",
    NAMES[MONEY]: "cost {} more",
    NAMES[LIKED]: "treat {} more pieces in a way that you like less",
}
NONE_FOUND = "of the plans that were tried and are as good, none keeps it; this one changes least of the earlier order."
HALF = {NAMES[MONEY]: 0.5, NAMES[BARK]: 0.5, NAMES[FLOWN]: 0.5, NAMES[HOST]: 0.5}


def whole_plan(optimum: Optimum, currency: str) -> str:
    """Why the plan as a whole is better than one that keeps more of the earlier order."""
    worse = next(_worse(optimum, currency), None)
    if worse is not None:
        return f"the plan as a whole is better so: the plan found that keeps most of the earlier order would {worse}."
    if optimum.by == "priority rule":
        return "the plan was made anew by a rule of thumb, which does not hold on to an earlier order."
    return NONE_FOUND


def _worse(optimum: Optimum, currency: str) -> Iterator[str]:
    kept = {level.name: level for level in optimum.kept}
    for level in optimum.levels:
        other = kept.get(level.name)
        if level.name == NAMES[CHANGES] or other is None:
            return
        more = other.value - level.value
        if more >= HALF.get(level.name, 0.5):
            yield WORDS[level.name].format(_much(level, more, currency))


def _much(level: Level, more: float, currency: str) -> str:
    return f"{currency} {half_up(more):,}" if level.name == NAMES[MONEY] else f"{half_up(more):,}"
