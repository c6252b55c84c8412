"""Conditions on named facts: what a rule may ask, how it is asked, and which questions contradict each other.

There is no language: a condition is one fact and `is`, `in`, or bounds. Numbers carry the unit of their fact.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Literal

from barkwright.datafile import load
from barkwright.record import dataclass

Value = str | float | bool
Values = Mapping[str, Value | None]

_NUMBER = re.compile(r"([-+]?[0-9][0-9,]*\.?[0-9]*)\s*(\S.*)?")


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact that rules may ask about; its name ends in its unit where it has one."""

    type: Literal["number", "flag", "choice", "text"]
    scope: Literal["site", "tree", "piece", "brood", "way", "day"]
    meaning: str
    origin: str  # where the value comes from, in words
    unit: str | None = None
    choices: tuple[str, ...] = ()
    range: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Region:
    """The values of one fact that a condition lets through: words, or an interval with open or closed ends."""

    words: frozenset[str] | None = None
    low: float = float("-inf")
    high: float = float("inf")
    low_open: bool = False
    high_open: bool = False

    def holds(self, value: Value | None) -> bool:
        """True when the value lies inside. A value that is not known (None) lies in no region."""
        if value is None:
            return False
        if self.words is not None:
            return word(value) in self.words
        number = float(value)
        above = number > self.low if self.low_open else number >= self.low
        return above and (number < self.high if self.high_open else number <= self.high)

    def meet(self, other: Region) -> Region:
        """The values inside both."""
        if self.words is not None and other.words is not None:
            return Region(words=self.words & other.words)
        low, low_open = max((self.low, self.low_open), (other.low, other.low_open))
        high, shut = min((self.high, not self.high_open), (other.high, not other.high_open))
        return Region(None, low, high, low_open, not shut)

    def inside(self, other: Region) -> bool:
        """True when every value of this region lies in the other."""
        return self.meet(other) == self

    @property
    def empty(self) -> bool:
        """True when no value lies inside."""
        if self.words is not None:
            return not self.words
        return self.low > self.high or (self.low == self.high and (self.low_open or self.high_open))


@dataclass(frozen=True, slots=True)
class Condition:
    """One fact and the region it must lie in."""

    fact: str
    region: Region

    def holds(self, values: Values) -> bool:
        """True when the fact is known and lies in the region."""
        return self.region.holds(values.get(self.fact))


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with a condition as written: the key it concerns, a diagnostic code, words and a hint."""

    key: str
    code: Literal["wrong-unit", "bad-condition", "never-fires"]
    message: str
    hint: str


def facts() -> Mapping[str, Fact]:
    """The closed list of facts by name, in the order of data/treatment/facts.yaml."""
    return load("treatment/facts.yaml", dict[str, Fact])


def word(value: Value) -> str:
    """A value as a word of a rule: flags are `true` and `false`."""
    return ("true" if value else "false") if isinstance(value, bool) else str(value)


def region_of(fact: Fact, asked: Mapping[str, object]) -> Region | Fault:
    """The region of a condition as written, without its `fact`: {is}, {in}, or {above | at_least, below | at_most}."""
    if fact.type == "text":
        return Fault("fact", "bad-condition", "this fact is only for sentences", "ask about another fact")
    if fact.type == "number":
        return _interval(fact, asked)
    keys = [key for key in asked if key not in ("is", "in")]
    if keys or len(asked) != 1:
        kind = "true or false" if fact.type == "flag" else "a word"
        return Fault(
            keys[0] if keys else "fact",
            "bad-condition",
            f"this fact is {kind}, so it is asked with 'is' or 'in'",
            "write is: or in:",
        )
    allowed = ("true", "false") if fact.type == "flag" else fact.choices
    given = asked.get("is", asked.get("in"))
    words = [word(one) for one in given] if isinstance(given, list | tuple) else [word(given)]  # type: ignore[arg-type]
    for one in words:
        if one not in allowed:
            key = "is" if "is" in asked else "in"
            return Fault(key, "never-fires", f"'{one}' is not a value of this fact", "one of " + ", ".join(allowed))
    return Region(words=frozenset(words))


def _interval(fact: Fact, asked: Mapping[str, object]) -> Region | Fault:
    found = Region()
    if not asked:
        return Fault(
            "fact", "bad-condition", "a number is asked with a bound", "write above:, at_least:, below: or at_most:"
        )
    for key, given in asked.items():
        bound = _number(fact, key, given)
        if isinstance(bound, Fault):
            return bound
        if key in ("above", "at_least"):
            found = found.meet(Region(low=bound, low_open=key == "above"))
        elif key in ("below", "at_most"):
            found = found.meet(Region(high=bound, high_open=key == "below"))
        elif key == "is":
            found = found.meet(Region(low=bound, high=bound))
        else:
            return Fault(
                key, "bad-condition", f"a number cannot be asked with '{key}'", "above, at_least, below, at_most or is"
            )
    if found.empty:
        return Fault(next(iter(asked)), "never-fires", "the bounds leave no value", "the lower bound comes first")
    low, high = fact.range or (float("-inf"), float("inf"))
    if found.meet(Region(low=low, high=high)).empty:
        unit = f" {fact.unit}" if fact.unit else ""
        return Fault(
            next(iter(asked)),
            "never-fires",
            "no value of this fact lies there",
            f"it runs from {low:g} to {high:g}{unit}",
        )
    return found


def _number(fact: Fact, key: str, given: object) -> float | Fault:
    match = _NUMBER.fullmatch(str(given).strip()) if not isinstance(given, bool) else None
    if match is None:
        return Fault(
            key, "bad-condition", f"'{given}' is not a number", f"write a number and its unit, {fact.unit or 'none'}"
        )
    unit = match.group(2)
    if unit != fact.unit:
        wrong = f"'{given}' has the unit {unit}" if unit else f"'{given}' has no unit"
        return Fault(
            key,
            "wrong-unit",
            f"{wrong}, and this fact is in {fact.unit or 'plain numbers'}",
            f"write it in {fact.unit or 'plain numbers'}",
        )
    return float(match.group(1).replace(",", ""))


def normal(conditions: Iterable[Condition]) -> dict[str, Region]:
    """One region per fact: what all conditions on it let through together."""
    found: dict[str, Region] = {}
    for one in conditions:
        found[one.fact] = found[one.fact].meet(one.region) if one.fact in found else one.region
    return found
