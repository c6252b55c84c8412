"""What is typed for trees and pieces is read as it was printed: runs, lists, a tree that stands for several."""

from __future__ import annotations

import pytest

from barkwright.journal.naming import meant, near

TREES = ("T1", "T2", "T3", "T4", "A.1", "A.2", "A.3", "W-1", "W-2", "W-3", "P08", "P09", "P10", "G3", "S-4")
PIECES = tuple(f"{tree}/{part}" for tree in TREES for part in ("stump", *range(1, 13), "top", "limbs"))


@pytest.mark.parametrize(
    ("typed", "named"),
    [
        ("T1", "T1"),
        ("G3/6-9", "G3/6 G3/7 G3/8 G3/9"),
        ("G3/6-G3/8", "G3/6 G3/7 G3/8"),
        ("G3/12-13", "G3/12 G3/13"),
        ("T1-T4", "T1 T2 T3 T4"),
        ("T1-4", "T1 T2 T3 T4"),
        ("T1–T3", "T1 T2 T3"),
        ("T3-T5", "T3 T4 T5"),
        ("A.1-A.3", "A.1 A.2 A.3"),
        ("A", "A.1 A.2 A.3"),
        ("A/stump", "A.1/stump A.2/stump A.3/stump"),
        ("A.1-A.2/1-2", "A.1/1 A.1/2 A.2/1 A.2/2"),
        ("W-1 to W-3", "W-1 W-2 W-3"),
        ("W-1-W-3", "W-1 W-2 W-3"),
        ("S-4", "S-4"),
        ("P08-P10", "P08 P09 P10"),
        ("T1,T3 T1", "T1 T3"),
        ("T1/1,2,stump", "T1/1 T1/2 T1/stump"),
        ("T1/1-2,top,G3", "T1/1 T1/2 T1/top G3"),
        ("g3 G33 T4-T1 T9-T11 T9/1-2", "g3 G33 T4-T1 T9-T11 T9/1-2"),
        ("A/1-10000", "A/1-10000"),
        ("T1-T99999999", "T1-T99999999"),
    ],
)
def test_words_stand_for_trees_and_pieces(typed: str, named: str) -> None:
    assert meant(typed.split(), TREES, PIECES) == named.split()


@pytest.mark.parametrize(
    ("typed", "nearest"),
    [("g3", ["G3"]), ("G33", ["G3"]), ("t1/STUMP", ["T1/stump"]), ("Q9", []), ("P8", ["P08"])],
)
def test_only_what_is_near_is_offered(typed: str, nearest: list[str]) -> None:
    assert near(typed, (*TREES, *PIECES)) == nearest
