"""From answers to the options that say the same, and from those to an inventory with comments."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barkwright.intake.described import inventory_sheet
from barkwright.intake.questions import UNKNOWN, Question, question_book
from barkwright.intake.sheet import Sheet

Answers = Sequence[tuple[Question, str]]  # what was answered to what, in the order of asking

_HEAD = (
    "Written from your answers. Change what you like, add what you find out, then:",
    "  barkwright check FILE    says what is wrong with it",
    "  barkwright order FILE    makes the order again",
    "A bare number is in the file's units; a size may carry its own: 42 cm, 12 ft. Leave out what is not known.",
)


def options_of(answers: Answers) -> dict[str, Any]:
    """The answers as the options of `tree`, by name, as the command line hands them on; what is unknown is left out."""
    options: dict[str, Any] = {}
    for question, value in answers:
        if question.key.startswith("near."):
            kind = question.key.removeprefix("near.")
            if value != UNKNOWN:
                options["near"] = (*options.get("near", ()), f"{kind}={value}")
            elif kind != "line_kind":
                options["near"] = (*options.get("near", ()), f"{kind}=not-checked")
        elif value != UNKNOWN or question.key in ("attacked", "burn_permit", "stood_at_attack"):
            _put(options, question.key, value)
    return options


def _put(options: dict[str, Any], key: str, value: str) -> None:
    if key == "place":
        latitude, longitude, *_ = value.split(", ")
        options |= {"latitude": latitude, "longitude": longitude}
    elif key == "stem":
        measured, _, size = value.partition(" ")
        options["girth" if measured == "girth" else "dbh"] = size
    elif key == "hazard":
        options[key] = () if value == "none" else (value,)
    elif key in ("own", "rent", "log"):
        options[key] = () if value == "none" else tuple(value.split("; "))
    elif key == "skills":
        options[key] = "" if value == "none" else value
    elif key != "more":
        options[key] = value


def answered_sheet(
    site: Mapping[str, Any], trees: Sequence[Mapping[str, Any]], units: str, rough: str | None = None
) -> Sheet:
    """The inventory with comments for whoever edits it. `rough` is a town that stands for the place."""
    beside = {key: text for question in question_book().questions for key, text in question.beside.items()}
    if rough is not None:
        beside["latitude"] = f"{rough}, a rough place: put in the tree's own"
    return inventory_sheet({"hours_per_day": "6", **site}, trees, units, _HEAD, beside)
