"""What cannot have been is not written down; each refusal says what to do instead."""

from __future__ import annotations

from datetime import date

import pytest

from barkwright.journal.entries import Entry, Journal
from barkwright.journal.refusing import Known, pieces_named, refusals
from barkwright.plan import plan_tally
from journal.test_applied import entry, inventory

ON = date(2026, 11, 27)
KINDS = {piece.id: piece.kind for stem in plan_tally(inventory(), ON).stems for piece in stem.pieces}
CHIPPED = entry(1, "treated", "2026-11-20", ("T1/1",), method="chip")
PEELED = entry(1, "treated", "2026-11-20", ("T1/1",), method="debark")
BURNT = entry(2, "treated", "2026-11-21", ("T1/1",), method="debark", bark="burnt")
BEGUN = entry(1, "treated", "2026-11-20", ("T1/1",), method="debark", left="bark not burnt")
FELLED = entry(1, "felled", "2026-11-20")
CUT = entry(2, "cut up", "2026-11-21")
UNDONE = Entry(id=2, recorded="x", did="undone", on=ON, undoes=1)


def undo(number: int) -> Entry:
    return Entry(id=9, recorded="x", did="undone", on=ON, undoes=number)


def refused(new: Entry, *before: Entry) -> list[str]:
    found = refusals(new, Known(inventory(), KINDS, Journal(before), ON))
    assert all(one.hint for one in found)
    return [one.message for one in found]


IMPOSSIBLE = [
    (entry(9, "treated", "2026-11-28", ("T1/1",), method="chip"), (), "still to come"),
    (entry(9, "treated", "2026-11-20", ("T1/99",), method="chip"), (), "no tree or piece 'T1/99'"),
    (entry(9, "treated", "2026-11-20", ("T2",), method="chip"), (), "no tree or piece 'T2'"),
    (entry(9, "felled", "2026-11-20", ("T1/1",)), (), "recorded for the whole tree"),
    (entry(9, "felled", "2026-11-20", ("T9",)), (), "no tree 'T9'"),
    (entry(9, "treated", "2026-11-21", ("T1/1",), method="split"), (CHIPPED,), "was done on 2026-11-20 already"),
    (entry(9, "treated", "2026-11-21", ("T1/1",), method="debark"), (PEELED,), "was done on 2026-11-20 already"),
    (BURNT, (PEELED, BURNT), "was done on 2026-11-21 already"),
    (entry(9, "treated", "2026-11-19", ("T1/1",), method="debark"), (BEGUN,), "went on until 2026-11-20"),
    (entry(9, "treated", "2026-11-19", ("T1/2",), method="chip"), (FELLED,), "came down on 2026-11-20"),
    (entry(9, "felled", "2026-11-25"), (FELLED,), "was felled on 2026-11-20 already"),
    (entry(9, "felled", "2026-11-25"), (CHIPPED,), "was worked on 2026-11-20"),
    (entry(9, "cut up", "2026-11-19"), (FELLED,), "was not cut up before"),
    (entry(9, "cut up", "2026-11-25"), (FELLED, CUT), "was cut up on 2026-11-21 already"),
    (entry(9, "looked", "2026-11-20", stages=("larvae",), looked=("bottom",)), (), "a log that lies"),
    (entry(9, "looked", "2026-11-25", stages=("larvae",), looked=("base",)), (FELLED,), "a tree that stands"),
    (entry(9, "looked", "2026-11-20", stages=("none", "adults"), looked=("base",)), (), "nothing alive"),
    (entry(9, "looked", "2026-11-20", stages=("larvae",)), (), "not where"),
    (entry(9, "looked", "2026-11-20", looked=("base",)), (), "not what was found"),
    (entry(9, "looked", "2025-11-20", stages=("adults",), looked=("base",)), (), "attacked in 2026, after that look"),
    (entry(9, "called", "2026-11-21", appointment=date(2026, 12, 1)), (FELLED,), "T1 is down"),
    (entry(9, "called", "2026-11-21", appointment=date(2026, 11, 1)), (), "lies before the call"),
    (undo(7), (CHIPPED,), "no entry 7"),
    (undo(2), (CHIPPED, UNDONE), "took back entry 1"),
    (undo(1), (CHIPPED, UNDONE), "taken back already"),
]  # fmt: skip


@pytest.mark.parametrize(("new", "before", "why"), IMPOSSIBLE)
def test_the_impossible_is_refused(new, before, why):
    assert any(why in message for message in refused(new, *before)), refused(new, *before)


POSSIBLE = [
    (entry(9, "treated", "2026-11-27", ("T1/1", "T1/stump", "T1/limbs"), method="chip"), ()),
    (entry(9, "treated", "2026-11-21", ("T1/1",), method="debark", bark="burnt"), (BEGUN,)),
    (BURNT, (PEELED,)),
    (entry(9, "treated", "2026-11-22", ("T1/1",), method="split"), (PEELED, BURNT)),
    (entry(9, "treated", "2026-11-21", ("T1/1",), method="split"), (CHIPPED, UNDONE)),
    (entry(9, "felled", "2026-11-20"), (CHIPPED,)),
    (entry(9, "cut up", "2026-11-20"), (FELLED,)),
    (entry(9, "looked", "2026-11-19", stages=("larvae",), looked=("base",)), (FELLED,)),
    (entry(9, "looked", "2026-11-21", stages=("none",), looked=("top", "bottom")), (FELLED,)),
    (undo(1), (CHIPPED,)),
]


@pytest.mark.parametrize(("new", "before"), POSSIBLE)
def test_the_possible_is_not_refused(new, before):
    assert refused(new, *before) == []


def test_a_tree_stands_for_its_pieces_but_not_for_its_stump():
    named = pieces_named(["T1"], KINDS)
    assert "T1/1" in named
    assert "T1/limbs" in named
    assert "T1/stump" not in named
    assert pieces_named(["T1/stump", "T1/stump"], KINDS) == ["T1/stump"]
    assert pieces_named(["S1"], {"S1/stump": "stump"}) == ["S1/stump"]
