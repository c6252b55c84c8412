"""Every rule, fired from its own conditions; every number in a rule or way tried below, on and above it."""

from collections.abc import Iterator
from typing import Any

import pytest

from barkwright.treatment.conditions import facts
from barkwright.treatment.rulebook import conditions_of, shipped_records, way_file

# What a bound as written says about a value below, on and above it; written here anew, not asked of the program.
SAYS = {
    "above": (False, False, True),
    "at_least": (False, True, True),
    "below": (True, False, False),
    "at_most": (True, True, False),
}
ASKED = [(one.id, one.when) for one in shipped_records()]
ASKED += [(one.id, one.applies) for one in way_file().ways if one.applies]
BOUNDS = [
    pytest.param(when, one["fact"], key, id=f"{name}: {one['fact']} {key} {one[key]}")
    for name, when in ASKED
    for one in when
    for key in SAYS
    if key in one
]


def bound_of(one: dict[str, Any], key: str) -> float:
    return float(str(one[key]).split()[0])


def values_that_fire(when: tuple[dict[str, Any], ...]) -> dict[str, Any]:
    """Values that meet every condition as written, found without asking the program."""
    found: dict[str, Any] = {}
    for one in when:
        fact = facts()[one["fact"]]
        if fact.type == "number":
            low = max([bound_of(one, key) for key in ("above", "at_least") if key in one], default=None)
            high = min([bound_of(one, key) for key in ("below", "at_most") if key in one], default=None)
            if low is not None and high is not None:
                found[one["fact"]] = (low + high) / 2
            else:
                found[one["fact"]] = low + 1.0 if low is not None else high if "at_most" in one else high - 0.5
        else:
            word = one.get("is", one.get("in", [None])[0] if isinstance(one.get("in"), list) else one.get("in"))
            found[one["fact"]] = word if fact.type == "choice" else word is True
    return found


def fires(when: tuple[dict[str, Any], ...], values: dict[str, Any]) -> bool:
    return all(one.holds(values) for one in conditions_of(when))


@pytest.mark.parametrize("when", [pytest.param(when, id=name) for name, when in ASKED])
def test_it_fires_when_all_its_conditions_are_met(when):
    assert fires(when, values_that_fire(when))


def denials() -> Iterator[Any]:
    for name, when in ASKED:
        for one in when:
            fact = facts()[one["fact"]]
            if fact.type == "number":
                yield pytest.param(when, one["fact"], None, id=f"{name}: {one['fact']} not known")
                continue
            words = ("true", "false") if fact.type == "flag" else fact.choices
            asked = one.get("in", [one.get("is")])
            met = {"true" if word is True else "false" if word is False else word for word in asked}
            for word in words:
                if word not in met:
                    value = word if fact.type == "choice" else word == "true"
                    yield pytest.param(when, one["fact"], value, id=f"{name}: {one['fact']} is {word}")


@pytest.mark.parametrize(("when", "fact", "value"), list(denials()))
def test_it_does_not_fire_when_one_condition_is_not_met(when, fact, value):
    assert not fires(when, {**values_that_fire(when), fact: value})


@pytest.mark.parametrize(("when", "fact", "key"), BOUNDS)
def test_a_bound_holds_on_its_own_side_only(when, fact, key):
    values = values_that_fire(when)
    one = next(one for one in when if one["fact"] == fact and key in one)
    bound = bound_of(one, key)
    said = [fires(when, {**values, fact: value}) for value in (bound - 1e-6, bound, bound + 1e-6)]
    assert tuple(said) == SAYS[key]


def test_there_are_bounds_to_try():
    assert len(BOUNDS) > 20
