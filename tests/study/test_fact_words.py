"""How a fact that is not as it was is told: plain words, and never an empty side."""

import pytest

from barkwright.study.fact_words import told


@pytest.mark.parametrize(
    ("fact", "was", "now", "said"),
    [
        ("machine chipper", "capacity 15.0", None, "the chipper is gone from the list."),
        ("machine chain-saw", None, "owned yes", "the chain saw is new on the list."),
        ("crew the two of us", "2 for 6 h on sat", None, "the two of us are gone from the list."),
        (
            "felling C2",
            "by crew, crew, 1.1 h",
            "by crew, crew, 1.1 h, not before 2026-11-20",
            "of the felling of C2 it is now said besides: not before 2026-11-20.",
        ),
        (
            "limits",
            "budget 300, firewood 2",
            "budget 300",
            "of what the inventory says of limits it is no longer said: firewood 2.",
        ),
        ("tree T1", "standing, 9 pieces", "felled, 9 pieces", "T1 was given as standing and is now felled."),
        ("call C2", None, "appointment on 2026-11-20", "arranged for C2 is now: appointment on 2026-11-20."),
        ("call C2", "lift", None, "what was arranged for C2 is no longer on record: lift."),
    ],
)
def test_a_difference_in_words(fact: str, was: str | None, now: str | None, said: str) -> None:
    assert told(fact, was, now) == said


def test_what_is_the_same_is_not_told() -> None:
    assert told("burning", "permit held", "permit held") is None
    assert told("brood T1", "larvae in 1; no brood in top", "no brood in top; larvae in 1") is None
