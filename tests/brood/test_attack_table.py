"""Every row of the decision table, from the table alone and from a tree with dates."""

import itertools
from datetime import date
from typing import get_args

import pytest
from brood_cases import butt, judge, rule

from barkwright.brood.table import Holes, Look, reason_of, row_for, rows_for, table
from barkwright.sources import cite

LOOKS, HOLES = get_args(Look), get_args(Holes)
FULL, DOWN = ["base", "sunny"], ["top", "bottom"]


def saw(*stages, looked=FULL, seen=date(2026, 11, 1), **more):
    return {"insect": "spruce-beetle", "stages": list(stages), "looked": looked, "seen": seen, **more}


def test_exactly_one_row_fits_whatever_is_known():
    for springs, look, holes in itertools.product(range(7), LOOKS, HOLES):
        assert len(rows_for(springs, look, holes)) == 1, (springs, look, holes)
        assert row_for(springs, look, holes) is rows_for(springs, look, holes)[0]


def test_every_row_has_its_own_id_a_source_or_a_basis_and_a_sentence():
    rows = table().rows
    assert len({row.id for row in rows}) == len(rows)
    for row in rows:
        assert bool(row.cite) == (row.basis == "published"), row.id
        assert row.grade == "C" or row.cite
        assert all(cite(text) for text in row.cite)
        sentence = reason_of(row, 2026, 2028, True).because
        assert sentence.startswith("Attacked in 2026")
        assert sentence.endswith(".")
        assert "{" not in sentence
        assert row.brood == "none" or "2028" in sentence


# The plan's date is 15 November 2026: the coming flight S is 2027's, so S-1 is 2026.
# Columns: attacked, found, row, brood, flight, stage, confidence, look next.
ROWS = [
    # S-1, last summer
    (2026, saw("adults"), "last-summer-adults", "likely", 2027, "adults", "high", False),
    (2026, saw("larvae"), "last-summer-larvae", "likely", 2028, "larvae", "high", False),
    (2026, saw("pupae"), "last-summer-pupae", "likely", 2027, "unknown", "medium", True),
    (2026, saw("larvae", looked=["base"]), "last-summer-larvae-unsure", "likely", 2027, "unknown", "medium", True),
    (2026, saw("none"), "last-summer-nothing-found", "none", None, None, "medium", False),
    (2026, saw("none", looked=["base"]), "last-summer-not-looked", "likely", 2027, "unknown", "medium", True),
    (2026, None, "last-summer-not-looked", "likely", 2027, "unknown", "medium", True),
    # S-2
    (2025, saw("adults", looked=["base"]), "second-year-adults", "likely", 2027, "adults", "high", False),
    (2025, saw("none", exit_holes="many"), "second-year-empty", "none", None, None, "high", False),
    (2025, saw("none", exit_holes="some"), "second-year-empty", "none", None, None, "high", False),
    (2025, saw("none", exit_holes="none"), "second-year-nothing-found", "none", None, None, "medium", False),
    (2025, saw("none"), "second-year-nothing-found", "none", None, None, "medium", False),
    (2025, saw("larvae"), "second-year-larvae", "likely", 2028, "larvae", "high", False),
    (2025, saw("pupae"), "second-year-pupae", "likely", 2028, "larvae", "medium", True),
    (2025, saw("larvae", looked=["sunny"]), "second-year-larvae-unsure", "likely", 2027, "unknown", "medium", True),
    (2025, None, "second-year-not-looked", "likely", 2027, "adults", "medium", True),
    (2025, saw("none", looked=["sunny"]), "second-year-not-looked", "likely", 2027, "adults", "medium", True),
    (2025, {"exit_holes": "many"}, "second-year-holes-not-looked", "likely", 2027, "adults", "medium", True),
    (
        2025,
        saw("larvae", seen=date(2025, 11, 1)),
        "second-year-larvae-last-year",
        "likely",
        2027,
        "adults",
        "medium",
        True,
    ),
    (2025, saw("adults", seen=date(2025, 11, 1)), "second-year-not-looked", "likely", 2027, "adults", "medium", True),
    (
        2025,
        saw("larvae", "adults", seen=date(2025, 11, 1)),
        "second-year-larvae-last-year",
        "likely",
        2027,
        "adults",
        "medium",
        True,
    ),
    (2025, saw("none", seen=date(2025, 11, 1)), "second-year-not-looked", "likely", 2027, "adults", "medium", True),
    # S-3
    (2024, None, "third-year-not-looked", "possible", 2027, "adults", "low", True),
    (2024, {"exit_holes": "many"}, "third-year-not-looked", "possible", 2027, "adults", "low", True),
    (2024, saw("adults"), "third-year-adults", "likely", 2027, "adults", "high", False),
    (2024, saw("larvae"), "third-year-larvae", "likely", 2028, "larvae", "medium", True),
    (2024, saw("pupae"), "third-year-larvae-unsure", "likely", 2027, "unknown", "low", True),
    (2024, saw("none"), "third-year-nothing-found", "none", None, None, "high", False),
    (
        2024,
        saw("larvae", seen=date(2025, 11, 1)),
        "third-year-larvae-last-year",
        "likely",
        2027,
        "adults",
        "medium",
        True,
    ),
    # S-4 and older
    (2023, None, "old-attack", "none", None, None, "medium", False),
    (2019, {"exit_holes": "many", "crown": "bare"}, "old-attack", "none", None, None, "medium", False),
    (
        2022,
        saw("adults", seen=date(2025, 11, 1)),
        "old-attack-adults-last-year",
        "possible",
        2027,
        "adults",
        "low",
        True,
    ),
    (2023, saw("none"), "old-attack", "none", None, None, "medium", False),
    (2023, saw("adults"), "old-attack-adults", "likely", 2027, "adults", "medium", False),
    (2023, saw("larvae"), "old-attack-larvae", "likely", 2028, "larvae", "medium", True),
    (2023, saw("larvae", looked=["base"]), "old-attack-larvae-unsure", "likely", 2027, "unknown", "low", True),
]


@pytest.mark.parametrize(
    ("attacked", "found", "row", "brood", "flight", "stage", "confidence", "look_next"),
    [pytest.param(*case, id=f"{case[2]}-{n}") for n, case in enumerate(ROWS)],
)
def test_every_row(attacked, found, row, brood, flight, stage, confidence, look_next):
    result = judge(found, attacked=attacked)
    one = butt(result)
    assert rule(result) == row
    assert (one.brood, one.flight_to_beat, one.stage, one.confidence) == (brood, flight, stage, confidence)
    assert result.needs_inspection == look_next
    assert [q.code for q in result.questions] == (["look-under-bark"] if look_next else [])
    if flight is not None:
        assert one.adults_from == date(flight - 1, 8, 1)


DURING = date(2027, 6, 10)  # in the flight of 2027


@pytest.mark.parametrize(
    ("found", "row", "brood"),
    [
        (None, "this-summer", "likely"),
        (saw("adults", seen=DURING), "this-summer", "likely"),
        (saw("larvae", seen=DURING), "this-summer", "likely"),
        (saw("none", seen=DURING), "this-summer-nothing-found", "possible"),
    ],
)
def test_an_attack_in_the_flight_that_is_under_way(found, row, brood):
    result = judge(found, on=DURING, attacked=2027)
    one = butt(result)
    assert (rule(result), one.brood, one.flight_to_beat, one.stage) == (row, brood, 2028, "larvae")
    assert one.adults_from == date(2027, 8, 1)
    assert result.needs_inspection


def test_no_row_is_out_of_reach():
    reached = {case[2] for case in ROWS} | {"this-summer", "this-summer-nothing-found"}
    assert reached == {row.id for row in table().rows}


@pytest.mark.parametrize("looked", [DOWN, ["top", "side", "bottom"]])
def test_down_wood_is_looked_at_on_top_and_underneath(looked):
    down = {"status": "windthrown", "down_since": date(2025, 4, 1)}
    assert butt(judge(saw("larvae", looked=looked), attacked=2026, **down)).flight_to_beat == 2028
    assert butt(judge(saw("larvae", looked=looked[:-1]), attacked=2026, **down)).flight_to_beat == 2027
    assert butt(judge(saw("larvae", looked=FULL), attacked=2026, **down)).flight_to_beat == 2027


def test_a_look_taken_while_the_tree_still_stood_counts_as_a_look_at_a_standing_tree():
    felled = {"status": "felled", "felled_on": date(2026, 11, 10), "attacked": 2026}
    assert butt(judge(saw("larvae", seen=date(2026, 11, 9)), **felled)).flight_to_beat == 2028
    assert butt(judge(saw("larvae", seen=date(2026, 11, 10)), **felled)).flight_to_beat == 2027


def test_a_stump_is_looked_at_low_down_and_on_the_sunny_side():
    stump = {"status": "stump", "attacked": 2026}
    assert butt(judge(saw("larvae"), **stump)).flight_to_beat == 2028
    assert butt(judge(saw("larvae", looked=["base"]), **stump)).flight_to_beat == 2027


@pytest.mark.parametrize(
    ("springs", "known", "said"),
    [
        (1, True, "Attacked in 2026:"),
        (1, False, "If attacked in 2026:"),
        (4, True, "Attacked in 2023:"),
        (4, False, "If attacked in 2023 or earlier:"),  # the last row stands for four springs and more
    ],
)
def test_a_year_that_is_not_known_is_told_as_if_and_the_oldest_as_or_earlier(springs, known, said):
    row = row_for(springs, "not-looked", "not-said")
    assert reason_of(row, 2027 - springs, 2027, known).because.startswith(said)
