"""Which pieces hold brood: both sides of each thickness, of the height, and of the days of the autumn move."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from brood_cases import BC, ON, WHOLE, butt, judge, piece, stem, tree
from hypothesis import given
from hypothesis import strategies as st

from barkwright.brood.judge import judge_tree
from barkwright.brood.sizes import sizes, weights

LEVELS = ["none", "possible", "likely"]
LAY = {"status": "windthrown", "down_since": date(2025, 4, 1)}  # before the flight of 2025
FULL = {"stages": ["larvae"], "looked": ["base", "sunny"], "seen": date(2026, 11, 1)}


def held(one, found=None, **fields):
    """The finding on a single piece beside a butt log that is thicker, so that it is not the one looked at."""
    fields = {"attacked": 2026, **fields}
    result = judge(found, pieces=(piece(number=1, butt_in=40.0), one), **fields)
    return result.pieces[1]


@pytest.mark.parametrize(
    ("butt_in", "brood"), [(20.0, "likely"), (8.0, "likely"), (7.99, "possible"), (5.0, "possible"), (4.99, "none")]
)
def test_thickness_in_the_lowest_thirty_feet(butt_in, brood):
    assert held(piece(number=2, from_ft=10.0, butt_in=butt_in)).brood == brood


@pytest.mark.parametrize(
    ("from_ft", "butt_in", "brood"),
    [
        (29.9, 9.0, "likely"),
        (30.0, 9.0, "possible"),
        (60.0, 20.0, "possible"),
        (60.0, 5.0, "possible"),
        (60.0, 4.9, "none"),
    ],
)
def test_above_thirty_feet_of_a_standing_tree_brood_is_possible_down_to_five_inches(from_ft, butt_in, brood):
    assert held(piece(number=9, from_ft=from_ft, butt_in=butt_in)).brood == brood


@pytest.mark.parametrize(("butt_in", "brood"), [(8.0, "likely"), (7.9, "possible"), (5.0, "possible"), (4.9, "none")])
def test_a_tree_that_lay_at_the_attack_holds_brood_along_the_whole_stem(butt_in, brood):
    assert held(piece(number=9, from_ft=60.0, butt_in=butt_in), **LAY).brood == brood


def test_whether_it_stood_is_read_from_the_days_and_unknown_means_the_whole_stem():
    high = piece(number=9, from_ft=60.0, butt_in=9.0)
    felled = {"status": "felled"}
    assert held(high, **felled, felled_on=date(2026, 7, 11)).brood == "possible"  # the flight was over
    assert held(high, **felled, felled_on=date(2026, 7, 10)).brood == "likely"
    assert held(high, **felled, felled_on=date(2026, 5, 20)).brood == "likely"
    assert held(high, **felled).brood == "likely"
    assert held(high, **felled, stood_at_attack=True).brood == "possible"
    assert held(high, **felled, felled_on=date(2026, 7, 11), stood_at_attack=False).brood == "likely"


def test_measured_logs_do_not_say_how_high_they_stood():
    assert held(piece(number=9, from_ft=60.0, butt_in=9.0), status="logs", stood_at_attack=True).brood == "likely"


@pytest.mark.parametrize(("butt_in", "brood"), [(5.01, "possible"), (5.0, "none"), (3.0, "none")])
def test_tops_thinner_than_five_inches_are_slash(butt_in, brood):
    found = held(piece("top", from_ft=48.0, butt_in=butt_in))
    assert found.brood == brood
    assert (found.weight == 0) == (brood == "none")


@pytest.mark.parametrize(("butt_in", "said"), [(3.0, "outbreak"), (4.99, "outbreak"), (2.99, "too-thin")])
def test_thin_wood_is_to_be_looked_at_down_to_what_outbreaks_have_shown(butt_in, said):
    assert [reason.rule for reason in held(piece(number=9, from_ft=10.0, butt_in=butt_in)).reasons] == [said]


def test_limbs_hold_none():
    assert judge(attacked=2026).pieces[-1].brood == "none"


@pytest.mark.parametrize(
    ("fields", "butt_in", "brood"),
    [
        ({}, 12.0, "likely"),
        ({}, 7.0, "possible"),
        ({}, 4.0, "none"),
        (LAY, 12.0, "likely"),
        ({"status": "felled", "felled_on": date(2026, 4, 1)}, 12.0, "possible"),
    ],
)
def test_stumps(fields, butt_in, brood):
    assert held(piece("stump", from_ft=0.0, butt_in=butt_in, length_ft=0.5), **fields).brood == brood


def test_live_brood_seen_in_a_thin_tree_is_not_argued_away():
    thin = (
        piece("stump", from_ft=0.0, butt_in=4.8),
        piece(number=1, butt_in=4.5),
        piece(number=2, from_ft=8.5, butt_in=4),
    )
    unseen = judge(pieces=thin, attacked=2026)
    assert {one.brood for one in unseen.pieces} == {"none"}
    assert not unseen.needs_inspection
    seen = judge(FULL, pieces=thin, attacked=2026)
    assert [one.brood for one in seen.pieces] == ["likely", "likely", "none"]


# In the adult winter of a standing tree base and stump come before the upper stem.


def by_piece(result):
    return {one.piece.removeprefix("T1/"): one for one in result.pieces}


def test_base_and_stump_outweigh_the_upper_stem_once_the_adults_have_moved():
    found = by_piece(judge(attacked=2025))
    share = weights()
    assert found["stump"].weight == found["1"].weight == share.likely
    assert found["2"].weight == share.likely * share.upper_in_adult_winter
    assert found["4"].weight == share.possible * share.upper_in_adult_winter
    assert found["2"].brood == "likely"  # some stay up there


@pytest.mark.parametrize(
    ("on", "upper"), [(date(2026, 8, 14), 1.0), (date(2026, 9, 30), 1.0), (date(2026, 10, 1), 0.5)]
)
def test_the_upper_stem_counts_in_full_until_the_move_is_over(on, upper):
    assert by_piece(judge(attacked=2025, on=on))["2"].weight == upper


@pytest.mark.parametrize(
    ("felled_on", "why", "upper"),
    [
        (date(2026, 8, 14), "in-place", 1.0),
        (date(2026, 8, 15), "both", 1.0),
        (date(2026, 9, 30), "both", 1.0),
        (date(2026, 10, 1), "upper-winter", 0.5),
        (None, "both", 1.0),
    ],
)
def test_felled_before_during_or_after_the_move(felled_on, why, upper):
    result = judge(attacked=2025, status="felled", felled_on=felled_on, stood_at_attack=True)
    second = by_piece(result)["2"]
    assert second.reasons[-1].rule == why
    assert second.weight == upper
    assert by_piece(result)["stump"].weight == 1.0


def test_adults_of_wood_that_lay_stay_in_place():
    found = by_piece(judge(attacked=2025, **LAY))
    assert found["2"].weight == found["5"].weight * 2 == 1.0
    assert "in-place" in [reason.rule for reason in found["5"].reasons]


def test_larvae_and_brood_nobody_looked_at_in_its_first_winter_count_everywhere():
    for found in (None, FULL):
        assert {one.weight for one in judge(found, attacked=2026).pieces[:4]} == {1.0}


def test_many_exit_holes_lower_the_stem_but_not_the_base():
    found = by_piece(judge({"exit_holes": "many"}, attacked=2025))
    assert (found["stump"].brood, found["1"].brood, found["2"].brood) == ("likely", "likely", "possible")
    lay = by_piece(judge({"exit_holes": "many"}, attacked=2025, **LAY))
    assert (lay["1"].brood, lay["2"].brood) == ("likely", "likely")


@given(
    st.floats(1, 40),
    st.floats(0.1, 10),
    st.floats(0, 80),
    st.sampled_from([2024, 2025, 2026, "unknown"]),
    st.booleans(),
)
def test_thicker_or_lower_wood_never_holds_less(butt_in, more, from_ft, attacked, lies):
    fields = {"attacked": attacked, **(LAY if lies else {})}
    one = held(piece(number=5, from_ft=from_ft, butt_in=butt_in), **fields)
    thicker = held(piece(number=5, from_ft=from_ft, butt_in=butt_in + more), **fields)
    lower = held(piece(number=5, from_ft=from_ft / 2, butt_in=butt_in), **fields)
    for other in (thicker, lower):
        assert LEVELS.index(other.brood) >= LEVELS.index(one.brood)
        assert other.weight >= one.weight


@given(st.permutations(list(WHOLE)), st.sampled_from([2024, 2025, 2026, "unknown", "never"]))
def test_pieces_come_back_in_the_order_given_and_do_not_depend_on_it(order, attacked):
    mixed = judge(attacked=attacked, pieces=tuple(order))
    straight = judge(attacked=attacked)
    assert [one.piece for one in mixed.pieces] == [one.id for one in order]
    assert {one.piece: one for one in mixed.pieces} == {one.piece: one for one in straight.pieces}


@given(st.dates(date(2026, 7, 11), date(2027, 7, 10)), st.sampled_from([2023, 2024, 2025, 2026, "unknown", "never"]))
def test_a_finding_hangs_together(on, attacked):
    for one in judge(attacked=attacked, on=on).pieces:
        infested = one.brood != "none"
        assert (one.stage is not None) == infested
        assert (one.flight_to_beat is not None) == (infested or one.host)
        assert (one.adults_from is not None) == infested
        assert (one.weight > 0) == infested
        assert one.reasons
        if infested:
            assert one.flight_to_beat in (2027, 2028)
            assert one.adults_from.year == one.flight_to_beat - 1
            assert one.stage == "larvae" or one.adults_from <= on


def test_weights_rank_as_they_should():
    share = weights()
    assert 0 == share.none < share.possible < share.likely <= 1
    assert 0 < share.upper_in_adult_winter < 1
    assert sizes().outbreak_in < sizes().possible_in < sizes().likely_in


def test_before_august_there_are_no_new_adults_and_the_stage_is_larvae():
    last_of_july, first_of_august = date(2027, 7, 31), date(2027, 8, 1)
    assert butt(judge(attacked=2026, on=last_of_july)).stage == "larvae"
    assert butt(judge(attacked=2026, on=first_of_august)).stage == "adults"
    assert butt(judge(FULL, attacked=2026, on=last_of_july)).stage == "larvae"
    assert butt(judge(FULL, attacked=2026, on=first_of_august)).stage == "adults"


def test_adults_seen_early_are_there_from_that_day():
    seen = date(2026, 7, 20)
    result = judge({"stages": ["adults"], "looked": ["base"], "seen": seen}, attacked=2025, on=seen + timedelta(days=1))
    assert (butt(result).stage, butt(result).adults_from) == ("adults", seen)


def test_the_same_stem_and_tree_give_equal_findings():
    one, other = (judge_tree(tree(attacked=2025), stem(), BC, ON) for _ in range(2))
    assert one == other


@pytest.mark.parametrize("one", [piece("stump", from_ft=0.0, butt_in=19.0), piece(number=1, butt_in=19.0)])
def test_wood_without_bark_holds_no_brood_whatever_was_seen(one):
    result = judge({**FULL, "stages": ["adults"]}, pieces=(replace(one, bark_ft2=0.0),), attacked=2025)
    assert [found.brood for found in result.pieces] == ["none"]
    assert result.pieces[0].reasons[0].rule == "bare"


def test_a_stump_cut_flush_with_the_ground_is_no_host():
    flush = replace(piece("stump", from_ft=0.0, butt_in=19.0, length_ft=0.0), bark_ft2=0.0)
    green = {"status": "windthrown", "down_since": date(2026, 9, 1), "attacked": "never"}
    result = judge(pieces=(flush, piece(number=1, butt_in=16.0)), **green)
    assert [one.host for one in result.pieces] == [False, True]
