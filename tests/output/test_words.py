"""Quantities, dates and names as a crew reads them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from barkwright.output import merging, names, words
from barkwright.output.measures import Units


@pytest.mark.parametrize(
    ("hours", "said"),
    [
        (0.0, "0 h"),
        (0.01, "5 min"),
        (1 / 12, "5 min"),
        (0.41, "25 min"),
        (0.9167, "1 h"),
        (1.0, "1 h"),
        (1.01, "1.5 h"),
        (9.6, "10 h"),
        (13.2, "14 h"),
    ],
)
def test_hours_round_up(hours: float, said: str) -> None:
    assert words.hours(hours) == said


def test_hours_between_says_a_unit_once_where_it_can() -> None:
    assert words.hours_between(2, 4.2) == "2-4.5 h"
    assert words.hours_between(0.4, 3) == "25 min - 3 h"
    assert words.hours_between(0.01, 0.02) == "5 min"


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (date(2026, 11, 14), date(2026, 11, 14), "Sat 14 Nov 2026"),
        (date(2026, 11, 14), date(2026, 11, 15), "Sat 14 - Sun 15 Nov 2026"),
        (date(2026, 11, 30), date(2026, 12, 1), "Mon 30 Nov - Tue 1 Dec 2026"),
        (date(2026, 12, 31), date(2027, 1, 1), "Thu 31 Dec 2026 - Fri 1 Jan 2027"),
    ],
)
def test_span_repeats_no_month_or_year(first: date, last: date, said: str) -> None:
    assert words.span(first, last) == said


def test_money_rounds_half_up_and_keeps_its_sign() -> None:
    assert words.money(Decimal("1240.5"), "USD") == "USD 1,241"
    assert words.money(Decimal("-30.49"), "CAD") == "-CAD 30"
    assert words.money(Decimal("2.5"), "CAD") == "CAD 3"


def test_piece_names_say_runs_and_like_parts_once() -> None:
    assert (
        names.piece_names(["T3/1", "T3/2", "T3/4", "T3/stump", "T4/1", "T5/1"])
        == "T3 logs 1-2, 4 and stump; T4, T5 log 1"
    )
    assert names.piece_names(["A/top", "A/limbs"]) == "A top and limbs"
    assert names.piece_names(["W1.1/1", "W1.2/1", "W1.3/1"]) == "W1.1-W1.3 log 1"


def test_tree_names_shorten_runs_of_three_and_no_other() -> None:
    assert names.tree_names(["T1", "T2", "T4"]) == "T1, T2, T4"
    assert names.tree_names(["T1", "T2", "T3", "T5"]) == "T1-T3, T5"
    assert names.tree_names(["T09", "T10", "T11"]) == "T09-T11"
    assert names.tree_names(["T9", "T010"]) == "T9, T010"


def test_metric_turns_amounts_and_leaves_the_word_in_alone() -> None:
    say = Units(metric=True).sentence
    assert say("The butt is 15.3 in across and 8 ft long.") == "The butt is 39 cm across and 2.4 m long."
    assert say("Cut a window of 6 by 6 in through the bark.") == "Cut a window of 15 by 15 cm through the bark."
    assert say("Done by 15 in November, and 3 in the shade.") == "Done by 15 in November, and 3 in the shade."
    assert say("Lift 20 to 40 lb; 1,000 sq ft; 2 cords.") == "Lift 9 to 18 kg; 92.9 m2; 7.2 m3 stacked."


@pytest.mark.parametrize("name", ["T1", "7", "T1/2", "T-3"])
def test_the_name_of_a_tree_is_no_amount(name: str) -> None:
    told = f"Who takes down {name}, in how many hours? And {name if name != '7' else 'T7'} in spring?"
    assert Units(metric=True).sentence(told) == told


def test_whole_feet_and_miles_are_not_turned_into_tenths() -> None:
    say = Units(metric=True).sentence
    assert say("30 ft away, 65 miles off") == "9 m away, 105 km off"  # 9 m as the user wrote it is 30 ft inside
    assert say("4 ft long, 30.5 ft tall, 2 miles") == "1.2 m long, 9.3 m tall, 3.2 km"


def test_imperial_speaks_signs_and_changes_nothing_else() -> None:
    assert (
        Units().sentence("Strip 3.0 ft2 of bark, 2 yd3 of chips, 5 ft.")
        == "Strip 3.0 sq ft of bark, 2 cu yd of chips, 5 ft."
    )


def test_weights_round_up_because_somebody_may_lift_them() -> None:
    assert Units().pounds(100.1) == "110 lb"
    assert Units().pounds(20.5) == "25 lb"
    assert Units(metric=True).pounds(100.0) == "50 kg"


def test_merged_gives_ranges_only_where_amounts_differ() -> None:
    assert (
        merging.merged(["bury 2.50 cu yd under 18 in", "bury 26.4 cu yd under 18 in"])
        == "bury 2.5 to 26 cu yd under 18 in"
    )
    assert merging.merged(["chip it", "burn it"]) is None
    assert merging.merged(["over 99.9 % stayed"] * 2) == "over 99.9 % stayed"
    assert merging.brief("strip 175.8 sq ft") == "strip 176 sq ft"


def test_amounts_of_like_work_are_added_up_and_sizes_become_ranges() -> None:
    assert (
        merging.summed(["dig 2.5 yd3, cover it with 18 in of soil", "dig 12 yd3, cover it with 18 in of soil"])
        == "dig 14.5 yd3, cover it with 18 in of soil"
    )
    assert (
        merging.summed(["fell the tree, 16 in across", "fell the tree, 9 in across"])
        == "fell the tree, 9 to 16 in across"
    )
    assert merging.summed(["cut it into 2 lengths of about 4 ft", "cut it into 12 lengths of about 4 ft"]) == (
        "cut it into 14 lengths of about 4 ft"
    )
    assert merging.summed(["pile 1 heavy piece", "pile 3 heavy pieces"]) == "pile 4 heavy pieces"
    assert merging.summed(["split 0.14 cords"]) == "split 0.14 cord"
    assert merging.summed(["chip 3.0 ft of wood", "burn 3.0 ft of wood"]) is None


def test_a_few_hundredths_of_a_cubic_metre_are_litres() -> None:
    assert Units(metric=True).sentence("rake 0.2 ft3 of bark") == "rake 6 litres of bark"
    assert Units(metric=True).sentence("rake 20 ft3 of bark") == "rake 0.57 m3 of bark"


def test_printable_shows_what_would_steer_a_terminal() -> None:
    assert names.printable("a\x1b[31mb\x07\u202ec\nd") == "a\\x1b[31mb\\x07\\u202ec\nd"
