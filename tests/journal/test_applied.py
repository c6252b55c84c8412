"""The site as it stands once its journal is put in."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from barkwright.cli.site import known_names
from barkwright.inventory.model import Inventory
from barkwright.inventory.reading import read_inventory
from barkwright.journal.applied import as_it_stands, cut_of
from barkwright.journal.entries import Entry, Journal

ON = date(2026, 11, 27)
YARD = (Path(__file__).parents[2] / "examples" / "yard-tree.yaml").read_text(encoding="utf-8")


def inventory(text: str = YARD) -> Inventory:
    found, faults = read_inventory(text, "yard.yaml", ON, known_names())
    assert found is not None, faults
    return found


def entry(number: int, did: str, day: str, pieces: tuple[str, ...] = ("T1",), **more: object) -> Entry:
    return Entry(id=number, recorded=day, did=did, on=date.fromisoformat(day), pieces=pieces, **more)  # type: ignore[arg-type]


def stands(*entries: Entry, on: date = ON, text: str = YARD) -> Inventory:
    found, faults = as_it_stands(inventory(text), Journal(entries), on, "yard.journal.yaml")
    assert faults == []
    return found


def test_without_entries_nothing_changes():
    assert stands() == inventory()


def test_a_felled_tree_lies_and_stood_when_it_was_attacked():
    tree = stands(entry(1, "felled", "2026-11-21")).trees[0]
    assert (tree.status, tree.felled_on, tree.stood_at_attack) == ("felled", date(2026, 11, 21), True)
    assert tree.cut_up is None


def test_a_tree_whose_wood_was_worked_came_down_by_then_and_is_cut_up():
    tree = stands(entry(1, "treated", "2026-11-22", ("T1/1",), method="chip")).trees[0]
    assert (tree.status, tree.felled_on, tree.cut_up) == ("felled", date(2026, 11, 22), date(2026, 11, 22))


def test_the_recorded_felling_holds_before_the_first_work():
    tree = stands(entry(1, "treated", "2026-11-22", ("T1/1",), method="chip"), entry(2, "felled", "2026-11-20")).trees[
        0
    ]
    assert tree.felled_on == date(2026, 11, 20)


def test_work_on_the_stump_alone_does_not_cut_the_stem_up():
    tree = stands(entry(1, "treated", "2026-11-22", ("T1/stump",), method="debark")).trees[0]
    assert (tree.status, tree.cut_up) == ("felled", None)


def test_what_is_later_than_the_day_is_not_there_yet():
    later = entry(1, "felled", "2026-11-21")
    assert stands(later, on=date(2026, 11, 20)) == inventory()


def test_a_later_look_takes_the_place_of_an_earlier_one():
    seen = stands(entry(1, "looked", "2026-11-21", stages=("none",), looked=("base",))).trees[0].found
    assert seen is not None
    assert (seen.stages, seen.looked, seen.seen, seen.insect) == (
        ("none",), ("base",), date(2026, 11, 21), "spruce-beetle",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("day", "then"), [("2027-08-01", ("adults",)), ("2027-11-21", ("none",))], ids=["within a year", "later"]
)
def test_grown_beetles_stay_seen_for_a_year(day, then):
    looks = (
        entry(1, "looked", "2026-11-20", stages=("larvae", "adults"), looked=("base", "sunny")),
        entry(2, "looked", day, stages=("none",), looked=("base", "sunny", "shaded")),
    )
    seen = stands(*looks, on=date(2027, 12, 1)).trees[0].found
    assert seen is not None
    assert seen.stages == then


def test_the_crown_alone_leaves_the_look_under_the_bark_as_it_was():
    seen = stands(entry(1, "looked", "2026-11-21", crown="yellow-green")).trees[0].found
    assert seen is not None
    assert (seen.stages, seen.looked, seen.crown) == (("larvae",), ("base", "sunny", "shaded"), "yellow-green")


def test_all_work_on_a_piece_is_kept_by_its_day():
    both = stands(
        entry(1, "treated", "2026-11-20", ("T1/1", "T1/2"), method="debark", left="bark"),
        entry(2, "treated", "2026-11-22", ("T1/1",), method="debark", bark="burnt"),
    ).finished
    assert [(one.piece, one.left, one.bark, one.entry) for one in both] == [
        ("T1/1", "bark", None, 1), ("T1/2", "bark", None, 1), ("T1/1", None, "burnt", 2),
    ]  # fmt: skip


def test_a_tree_that_the_inventory_no_longer_names_is_told():
    _, faults = as_it_stands(inventory(), Journal((entry(1, "felled", "2026-11-21", ("T7",)),)), ON, "j")
    assert [(one.severity, one.code) for one in faults] == [("warning", "unknown-tree")]


def test_pieces_are_named_after_the_lengths_that_were_cut():
    cut = cut_of(inventory())
    one = entry(1, "treated", "2026-11-21", ("T1/1",), method="chip", cut=cut)
    _, faults = as_it_stands(inventory(YARD.replace("log_length: 8", "log_length: 10")), Journal((one,)), ON, "j")
    assert [(each.severity, each.code) for each in faults] == [("error", "other-cutting")]
    assert "log_length from 8 to 10 ft" in faults[0].message


def test_an_appointment_and_the_marks_on_the_ground_are_known():
    site = stands(
        entry(1, "called", "2026-11-20", appointment=date(2026, 12, 5), note="the tree service"),
        Entry(id=2, recorded="x", did="located", on=date(2026, 11, 21)),
    )
    assert [(one.what, one.trees, one.on) for one in site.calls] == [("the tree service", ("T1",), date(2026, 12, 5))]
    assert site.site.ground.services_located is True
    assert site.site.ground.diggable is True
