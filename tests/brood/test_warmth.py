"""What the warmth of the attack summer changes, and what it never does."""

import dataclasses
from datetime import date

import made_weather
import pytest
from brood_cases import BC, judge, piece
from hypothesis import given
from hypothesis import strategies as st

from barkwright.brood.warmth import percent, warmth_of
from barkwright.season.emergence import one_year_brood
from barkwright.season.numbers import FLIGHT

WARM, COOL = (8, 13, 14), (6, 12, 14)  # mean, swing and daily span: 330 and 33 hours at 17 C or more
FULL = {"stages": ["larvae"], "looked": ["base", "sunny"], "seen": date(2026, 10, 20)}
EARLY = {**FULL, "seen": date(2026, 9, 15)}
REACHED = ("T1/stump", "T1/1")  # begin below 8 ft


def place(wave, last=date(2026, 12, 31)):
    days = made_weather.wave(range(2024, 2027), *wave)
    return dataclasses.replace(BC, weather=made_weather.of({day: r for day, r in days.items() if day <= last}))


def flights(brood):
    return {one.piece: one.flight_to_beat for one in brood.pieces if one.flight_to_beat is not None}


def rules(brood, name):
    return [reason.rule for one in brood.pieces if one.piece == name for reason in one.reasons]


def test_shares_of_a_warm_and_of_a_cool_summer():
    # The published check years: 330 h and 0.342 of a whole tree, 33 h and 0.0206.
    warm, cool = warmth_of(place(WARM), 2026), warmth_of(place(COOL), 2026)
    assert (warm.hours, round(warm.tree, 3)) == (330, 0.342)
    assert (cool.hours, round(cool.tree, 4)) == (33, 0.0206)
    assert warm.high == one_year_brood(330, high=True)  # 15 ft up on the south side
    assert warm.ground == one_year_brood(330, north=True, ground=True)
    assert warm.most > 0.3
    assert cool.most < FLIGHT["policy_share"]


def test_a_warm_summer_brings_wood_out_of_reach_forward_and_leaves_what_was_looked_at():
    found = judge(FULL, attacked=2026, place=place(WARM))
    by_piece = flights(found)
    assert {by_piece[name] for name in REACHED} == {2028}
    assert {flight for name, flight in by_piece.items() if name not in REACHED} == {2027}
    assert "warmth-one-year-above" in rules(found, "T1/2")
    assert "last-summer-larvae" in rules(found, "T1/1")
    assert [one.code for one in found.questions] == ["look-higher"]
    assert not found.needs_inspection  # nobody can look up there before the tree is down, so nothing waits for it
    above = next(one for one in found.pieces if one.piece == "T1/2")
    assert above.stage == "unknown"
    assert above.adults_from == date(2026, 8, 1)


def test_a_look_higher_up_settles_it():
    seen = {**FULL, "looked": ["base", "sunny", "upper"]}
    found = judge(seen, attacked=2026, place=place(WARM))
    assert set(flights(found).values()) == {2028}
    assert found.questions == ()
    assert "warmth-one-year-seen" in rules(found, "T1/2")


def test_larvae_alone_after_a_very_hot_summer_are_looked_at_again():
    seen = {**FULL, "looked": ["base", "sunny", "upper"]}
    hot = place((10, 14, 14))
    assert warmth_of(hot, 2026).ground >= 0.5
    found = judge(seen, attacked=2026, place=hot)
    assert set(flights(found).values()) == {2028}
    assert {one.confidence for one in found.pieces if one.flight_to_beat} == {"low"}
    assert [one.code for one in found.questions] == ["look-under-bark"]
    assert found.early_flight == 2027  # what the look is for, though it is planned for 2028
    assert "warmth-one-year-odd" in rules(found, "T1/1")
    below = judge(seen, attacked=2026, place=place(WARM))
    assert "warmth-one-year-odd" not in rules(below, "T1/1")


def test_a_cool_summer_confirms_larvae():
    found = judge(FULL, attacked=2026, place=place(COOL))
    assert set(flights(found).values()) == {2028}
    assert "warmth-two-year" in rules(found, "T1/1")


def test_a_cool_summer_makes_an_early_full_look_count_where_one_looked():
    without = judge(EARLY, attacked=2026)
    assert set(flights(without).values()) == {2027}
    found = judge(EARLY, attacked=2026, place=place(COOL))
    assert {flights(found)[name] for name in REACHED} == {2028}
    assert {flight for name, flight in flights(found).items() if name not in REACHED} == {2027}
    assert rules(found, "T1/2")[0] == "last-summer-larvae-unsure"


def test_a_warm_summer_does_not():
    found = judge(EARLY, attacked=2026, place=place(WARM))
    assert set(flights(found).values()) == {2027}


@pytest.mark.parametrize(
    "changed",
    [
        {"looked": ["base"]},
        {"looked": ["sunny"]},
        {"stages": ["larvae", "pupae"]},
        {"stages": ["larvae", "adults"]},
        {"stages": ["none"]},
        {"stages": []},
    ],
)
def test_the_model_clears_nothing_where_nobody_looked_fully_or_more_than_larvae_was_seen(changed):
    seen = {**EARLY, **changed}
    assert flights(judge(seen, attacked=2026, place=place(COOL))) == flights(judge(seen, attacked=2026))


def test_nor_where_the_year_of_attack_is_not_known_or_nobody_looked_at_all():
    for fields in ({"attacked": "unknown"}, {"attacked": 2025}, {"attacked": 2024}):
        assert flights(judge(EARLY, place=place(COOL), **fields)) == flights(judge(EARLY, **fields))
    assert set(flights(judge(attacked=2026, place=place(COOL))).values()) == {2027}


@pytest.mark.parametrize(("last", "counts"), [(date(2026, 9, 29), False), (date(2026, 9, 30), True)])
def test_a_summer_counts_only_when_it_is_on_record_to_the_end_of_the_season(last, counts):
    found = judge(EARLY, attacked=2026, place=place(COOL, last))
    assert (2028 in flights(found).values()) == counts


@pytest.mark.parametrize(("warm", "flight"), [(5, 2028), (6, 2027)])  # 45 and 54 h: the stand model has 4.4 and 5.2 %
def test_from_five_percent_by_any_model_on_some_may_fly_next_spring(warm, flight):
    august = [(8, day, 25.0) for day in range(5, 5 + warm)]  # 9 h a day at 17 C or more
    spring = [(6, day) for day in range(1, 14)]
    days = {**made_weather.cold(2025), **made_weather.cold(2026, [*spring, *august])}
    here = dataclasses.replace(BC, weather=made_weather.of(days), rule="calendar")
    assert warmth_of(here, 2026).hours == 9 * warm
    fields = {"status": "windthrown", "down_since": date(2026, 3, 1), "stood_at_attack": False, "attacked": 2026}
    seen = {"stages": ["larvae"], "looked": ["top", "bottom"], "seen": date(2026, 9, 15)}
    assert set(flights(judge(seen, place=here, **fields)).values()) == {flight}


def test_days_that_nobody_read_may_have_been_hot():
    cool = place(COOL)
    days = dict(cool.weather.days)
    for n in range(8):  # two days apart, in the middle of summer: they may hide more hours than the limit leaves
        del days[date(2026, 8, 1 + 2 * n)]
    holes = dataclasses.replace(BC, weather=made_weather.of(days))
    assert warmth_of(holes, 2026).hours < 115
    assert warmth_of(holes, 2026).most > warmth_of(cool, 2026).most


def test_a_summer_without_lowest_temperatures_is_not_called_cool():
    warm = place(WARM)
    days = {
        day: dataclasses.replace(r, tmin_c=None) if date(2026, 6, 1) <= day < date(2026, 9, 15) else r
        for day, r in warm.weather.days.items()
    }
    blind = dataclasses.replace(BC, weather=made_weather.of(days))
    assert warmth_of(blind, 2026) is None
    assert set(flights(judge(EARLY, attacked=2026, place=blind)).values()) == {2027}


def test_the_low_value_at_the_ground_never_clears_the_top_of_a_log():
    # About 150 h: the underside is under 5 %, the sunny top is over.
    between = place((7.1, 12.6, 14))
    warmth = warmth_of(between, 2026)
    assert warmth.ground < 0.05 < warmth.high
    down = {
        "status": "windthrown",
        "down_since": date(2026, 3, 1),
        "stood_at_attack": False,
        "attacked": 2026,
        "found": {"stages": ["larvae"], "looked": ["top", "bottom"], "seen": date(2026, 9, 15)},
    }
    found = judge(down.pop("found"), place=between, **down)
    assert set(flights(found).values()) == {2027}


def test_a_look_along_a_log_that_lies_reaches_all_of_it():
    fields = {"status": "windthrown", "down_since": date(2026, 3, 1), "stood_at_attack": False, "attacked": 2026}
    seen = {"stages": ["larvae"], "looked": ["top", "bottom"], "seen": date(2026, 9, 15)}
    found = judge(seen, place=place(COOL), **fields)
    assert set(flights(found).values()) == {2028}
    warm = judge({**seen, "seen": date(2026, 10, 20)}, place=place(WARM), **fields)
    assert set(flights(warm).values()) == {2028}


def test_numbers_stand_beside_what_nobody_looked_at():
    found = judge(attacked=2026, place=place(WARM))
    assert "warmth-standing" in rules(found, "T1/1")
    lying = judge(attacked=2026, place=place(WARM), status="windthrown", down_since=date(2026, 3, 1))
    assert "warmth-down" in rules(lying, "T1/1")


def test_the_older_model_is_named_where_the_two_disagree():
    found = judge(attacked=2026, place=place(WARM))
    warmth = warmth_of(place(WARM), 2026)
    assert abs(warmth.stand - warmth.tree) > 0.1
    assert "warmth-stand" in rules(found, "T1/1")


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.0099, "under 1 %"),
        (0.01, "about 1 %"),
        (0.2, "about 20 %"),
        (0.66, "about 66 %"),
        (0.99, "about 99 %"),
        (0.991, "over 99 %"),
    ],
)
def test_shares_in_words(share, said):
    assert percent(share) == said


def test_logs_whose_height_nobody_knows_count_as_out_of_reach():
    fields = {"status": "logs", "felled_on": date(2026, 11, 1), "stood_at_attack": True, "attacked": 2026, "dbh": None}
    fields["logs"] = ({"butt": 16.0, "top": 14.0, "length": 8.0},)
    fields["height"] = None
    found = judge(FULL, place=place(WARM), pieces=(piece(from_ft=0.0),), **fields)
    assert set(flights(found).values()) == {2027}


waves = st.tuples(st.floats(3, 14), st.floats(8, 16), st.floats(6, 18))


@given(waves, st.sampled_from([FULL, EARLY, None]), st.sampled_from(["mass", "strip", "pitched-out", "not-sure"]))
def test_weather_never_clears_a_piece_nor_moves_unseen_wood_later(wave, seen, attack):
    plain = judge(seen, attacked=2026, attack=attack)
    found = judge(seen, attacked=2026, attack=attack, place=place(wave))
    for before, after in zip(plain.pieces, found.pieces, strict=True):
        assert (before.brood == "none") == (after.brood == "none")
        if before.piece not in REACHED and before.flight_to_beat is not None:
            assert after.flight_to_beat <= before.flight_to_beat
