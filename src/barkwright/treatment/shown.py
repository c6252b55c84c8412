"""Values of facts as a sentence shows them."""

from __future__ import annotations

from barkwright.treatment.conditions import Value, facts


def answer(given: bool | None) -> str:
    """A yes-or-no answer as a word; None is `unknown`."""
    return "unknown" if given is None else "yes" if given else "no"


def shown_number(value: float, unit: str | None) -> str:
    """A number with its unit, one decimal where it needs one: 16.5 in."""
    text = f"{round(value, 1):,g}" if abs(value) < 1000 else f"{value:,.0f}"
    return f"{text} {unit}" if unit else text


def shown(name: str, value: Value | None) -> str:
    """The value of a fact as a sentence shows it."""
    if value is None:
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else shown_number(value, facts()[name].unit)
