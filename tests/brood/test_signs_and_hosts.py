"""Attack years that the signs allow, contradictions, clean wood on the ground, and trees that may stay."""

from datetime import date

import pytest
from brood_cases import BC, ON, butt, judge, piece, rule

from barkwright.brood.finding import Question
from barkwright.brood.look import look_book
from barkwright.brood.questions import in_words
from barkwright.brood.sizes import sizes
from barkwright.brood.verdict import outcomes
from barkwright.season.flight import finish_by, flight_year
from barkwright.sources import cite, load_sources

FULL = {"looked": ["base", "sunny"], "seen": date(2026, 11, 1)}
LAY = {"status": "windthrown"}


def codes(result):
    return [question.code for question in result.questions]


# Attack year unknown: the plan's date is 15 November 2026, the coming flight 2027's.


@pytest.mark.parametrize(
    ("found", "years"),
    [
        ({}, (2026, 2025, 2024, 2023)),
        ({"crown": "green", "seen": date(2026, 10, 20)}, (2026, 2025)),  # 15 to 17 months after the attack of 2025
        ({"crown": "green", "seen": date(2026, 11, 15)}, (2026,)),
        ({"crown": "yellow-green", "seen": date(2026, 11, 15)}, (2025,)),
        ({"crown": "dropping", "seen": date(2026, 11, 15)}, (2025, 2024)),
        ({"crown": "bare", "seen": date(2026, 11, 1)}, (2024, 2023)),
        ({"crown": "bare", "seen": date(2026, 11, 15), "exit_holes": "many"}, (2024, 2023)),
        ({"exit_holes": "many", "seen": date(2026, 11, 15)}, (2025, 2024, 2023)),
        ({"exit_holes": "some", "seen": date(2026, 11, 15)}, (2026, 2025, 2024, 2023)),
        ({"crown": "green", "seen": date(2025, 11, 15)}, (2026, 2025)),  # attacked after the look, perhaps
    ],
)
def test_signs_give_a_set_of_attack_years(found, years):
    result = judge({"insect": "spruce-beetle", **found}, attacked="unknown")
    assert result.possible_attack_years == years
    assert butt(result).flight_to_beat == 2027
    assert butt(result).confidence == "low"
    assert codes(result) == ["look-under-bark"]


@pytest.mark.parametrize(
    ("found", "said"),
    [
        ({}, "2023 or earlier, 2024, 2025 or 2026;"),  # four springs stand for four and more
        ({"crown": "dropping", "seen": date(2026, 11, 15)}, "2024 or 2025;"),
        ({"crown": "bare", "seen": date(2026, 11, 1)}, "2023 or earlier or 2024;"),
    ],
)
def test_years_that_the_signs_allow_are_all_told(found, said):
    reasons = butt(judge({"insect": "spruce-beetle", **found}, attacked="unknown")).reasons
    (why,) = (one.because for one in reasons if one.rule == "worst-attack-year")
    assert f"an attack in {said}" in why


def test_signs_that_fit_no_year_together_leave_every_year_that_one_of_them_allows():
    result = judge(
        {"crown": "green", "exit_holes": "many", "seen": date(2026, 12, 15)}, attacked="unknown", on=date(2026, 12, 15)
    )
    assert result.possible_attack_years == (2026, 2025, 2024, 2023)


def test_bare_crowns_nobody_looked_at_are_possible_until_somebody_looks_at_the_base():
    result = judge({"insect": "spruce-beetle", "crown": "bare", "exit_holes": "many"}, attacked="unknown")
    assert (butt(result).brood, butt(result).flight_to_beat) == ("possible", 2027)
    assert "root collar" in result.questions[0].how
    looked = judge({"insect": "spruce-beetle", "crown": "bare", "stages": ["none"], **FULL}, attacked="unknown")
    assert butt(looked).brood == "none"
    assert looked.questions == ()


def test_in_the_flight_itself_this_years_attack_is_possible_too():
    early, later = (
        judge({"crown": "green"}, attacked="unknown", on=day) for day in (date(2027, 5, 20), date(2027, 5, 21))
    )
    assert early.possible_attack_years == (2026,)
    assert later.possible_attack_years == (2027, 2026)
    assert butt(later).flight_to_beat == 2027


def test_an_unknown_year_with_no_sign_of_attack_is_only_possible():
    assert butt(judge(attacked="unknown")).brood == "possible"
    assert butt(judge(attacked="unknown", attack="mass")).brood == "likely"
    assert butt(judge({"insect": "spruce-beetle"}, attacked="unknown")).brood == "likely"
    assert butt(judge({"crown": "dropping"}, attacked="unknown")).brood == "likely"


def test_looks_decide_whatever_the_year():
    adults = judge({"stages": ["adults"], **FULL}, attacked="unknown")
    assert (butt(adults).brood, butt(adults).flight_to_beat, butt(adults).stage) == ("likely", 2027, "adults")
    larvae = judge({"stages": ["larvae"], "crown": "green", **FULL}, attacked="unknown")
    assert (butt(larvae).brood, butt(larvae).flight_to_beat) == ("likely", 2028)
    nothing = judge({"stages": ["none"], **FULL}, attacked="unknown")
    assert {one.brood for one in nothing.pieces} == {"none"}


# Contradictions are asked about, and the worst is planned for meanwhile.


@pytest.mark.parametrize("crown", ["yellow-green", "dropping", "bare"])
def test_in_autumn_the_crown_of_a_tree_attacked_the_same_year_is_green(crown):
    found = {"stages": ["larvae"], "crown": crown, **FULL}
    result = judge(found, attacked=2026)
    assert codes(result)[0] == "attack-year-doubtful"
    assert "2026" in result.questions[0].text
    assert set(result.possible_attack_years) > {2026}
    assert codes(judge({**found, "crown": "green"}, attacked=2026)) == []


def test_the_worst_of_both_decides_meanwhile():
    # If attacked in 2023 or earlier the wood is empty; the green crown says that it was attacked later.
    result = judge({"crown": "green", "seen": ON}, attacked=2020)
    assert codes(result) == ["attack-year-doubtful", "look-under-bark"]
    assert result.possible_attack_years == (2026, 2020)
    assert (butt(result).brood, butt(result).flight_to_beat) == ("likely", 2027)


@pytest.mark.parametrize("attack", ["strip", "pitched-out"])
def test_the_crown_of_a_tree_not_killed_says_nothing(attack):
    assert judge({"crown": "green", "seen": ON}, attacked=2024, attack=attack).possible_attack_years == (2024,)


def test_the_crown_of_wood_that_lies_says_nothing_but_the_crown_it_had_while_standing_does():
    found = {"crown": "dropping", "seen": date(2026, 11, 1)}
    assert codes(judge(found, attacked=2026, **LAY)) == ["look-under-bark"]
    felled = {"status": "felled", "felled_on": date(2026, 11, 10)}
    assert "attack-year-doubtful" in codes(judge(found, attacked=2026, **felled))


def test_exit_holes_in_the_first_autumn_contradict_the_year():
    result = judge({"exit_holes": "many", "seen": ON}, attacked=2026)
    assert "exit holes" in result.questions[0].text


def test_a_year_whose_flight_has_not_begun_is_asked_about():
    result = judge(attacked=2027, on=date(2027, 3, 1))
    assert codes(result)[0] == "attack-year-doubtful"
    assert butt(result).flight_to_beat == 2027


@pytest.mark.parametrize(
    "found", [{"stages": ["larvae"]}, {"exit_holes": "many"}, {"exit_holes": "some"}, {"insect": "spruce-beetle"}]
)
def test_never_attacked_and_yet_signs_of_attack(found):
    result = judge({**FULL, **found}, attacked="never")
    assert codes(result)[0] == "attack-year-doubtful"
    assert butt(result).brood != "none"
    assert judge({"crown": "green", "exit_holes": "none", **FULL}, attacked="never").questions == ()


def test_a_mass_attack_of_last_summer_without_brood_is_looked_at_twice():
    found = {"stages": ["none"], **FULL}
    result = judge(found, attacked=2026, attack="mass")
    assert (butt(result).brood, butt(result).flight_to_beat) == ("possible", 2027)
    assert codes(result) == ["attack-without-brood"]
    assert butt(judge(found, attacked=2026, attack="not-sure")).brood == "none"
    assert butt(judge(found, attacked=2025, attack="mass")).brood == "none"


# Clean green wood on the ground.


def hosts(result):
    return {one.piece.removeprefix("T1/"): one.flight_to_beat for one in result.pieces if one.host}


def test_clean_down_wood_draws_the_next_flight_down_to_five_inches():
    result = judge(attacked="never", status="felled", felled_on=date(2026, 10, 1))
    assert hosts(result) == dict.fromkeys(["stump", "1", "2", "3", "4", "5"], 2027)
    assert {one.brood for one in result.pieces} == {"none"}
    thin = judge(attacked="never", status="felled", pieces=(piece(butt_in=5.0), piece(number=2, butt_in=4.9)))
    assert list(hosts(thin)) == ["1"]


@pytest.mark.parametrize(
    "fields",
    [
        {"status": "standing"},
        {"status": "logs", "bark": {"condition": "dried"}},
        {"status": "logs", "bark": {"condition": "loosened"}},
        {"status": "logs", "bark": {"left_percent": 0.0}},
        {"status": "windthrown", "found": {"crown": "dropping"}},
        {"status": "felled", "felled_on": date(2025, 7, 10)},  # lay through two flights
    ],
)
def test_what_draws_no_beetles(fields):
    assert hosts(judge(attacked="never", **fields)) == {}


def test_wood_that_lay_through_one_flight_still_draws_and_is_looked_at():
    lain = judge(attacked="never", status="felled", felled_on=date(2025, 7, 11))
    assert hosts(lain)
    assert codes(lain) == ["look-under-bark"]
    assert lain.needs_inspection
    looked = judge(
        {"stages": ["none"], "looked": ["top", "bottom"]},
        attacked="never",
        status="felled",
        felled_on=date(2025, 7, 11),
    )
    assert codes(looked) == []


def test_down_wood_looked_at_and_found_empty_is_clean_wood():
    found = {"stages": ["none"], "looked": ["top", "bottom"], "seen": date(2026, 11, 1)}
    assert hosts(judge(found, attacked="unknown", status="felled", felled_on=date(2026, 10, 1)))
    assert not hosts(judge(attacked="unknown", status="felled", felled_on=date(2026, 10, 1)))


# A green tree that is to be taken down, whatever for, is such wood once it is down.

ALL_ROUND = {"stages": ["none"], "crown": "green", "looked": ["base", "sunny", "shaded"], "seen": date(2026, 11, 1)}
GONE = {"removal": {"by": "fell", "hours": 3}}


def test_a_green_tree_to_be_taken_down_draws_the_flight_after_that():
    result = judge(attacked="never", **GONE)
    assert hosts(result) == dict.fromkeys(["stump", "1", "2", "3", "4", "5"], 2027)
    assert {one.brood for one in result.pieces} == {"none"}
    assert {one.reasons[-1].rule for one in result.pieces if one.host} == {"host-to-fell"}
    assert hosts(judge(attacked="never")) == {}


@pytest.mark.parametrize(
    ("fields", "on", "flight"),
    [
        ({}, date(2027, 5, 7), 2027),  # 14 days before the first beetles
        ({}, date(2027, 5, 8), 2028),  # too little time: felled when they are through
        ({}, date(2027, 6, 15), 2028),  # nobody fells green spruce while they fly
        ({"not_before": date(2027, 5, 7)}, ON, 2027),
        ({"not_before": date(2027, 6, 1)}, ON, 2028),
        ({"not_before": date(2027, 7, 11)}, ON, 2028),
    ],
)
def test_the_flight_is_the_first_after_the_day_it_may_come_down(fields, on, flight):
    assert set(hosts(judge(attacked="never", on=on, **GONE, **fields)).values()) == {flight}


@pytest.mark.parametrize(
    ("found", "fields", "draws"),
    [
        ({"crown": "dropping"}, {"attacked": "never"}, False),
        ({"crown": "bare"}, {"attacked": "never"}, False),
        ({"stages": ["none"], **FULL}, {"attacked": 2026}, True),  # the attack failed, and the tree lives
        ({"stages": ["none"], **FULL}, {"attacked": 2025}, False),  # its beetles have killed it and gone
        (None, {"attacked": 2020}, False),  # dead long since
        (ALL_ROUND, {"attacked": 2024, "attack": "strip"}, True),
    ],
)
def test_only_a_living_tree_draws(found, fields, draws):
    assert bool(hosts(judge(found, **fields, **GONE))) == draws


def test_it_may_stay_for_the_beetle_and_comes_down_for_another_reason():
    assert judge(attacked="never", **GONE).may_stay_standing == outcomes().stay["removed"]


# Trees that may not need felling at all.


def test_who_may_stay_and_what_to_look_at():
    stay = outcomes().stay

    def says(found=None, **fields):
        return judge(found, **fields).may_stay_standing

    assert says(attacked=2026, attack="mass") is None
    assert says(attacked=2026, attack="pitched-out") == stay["pitched-out"]
    assert says(attacked=2026, attack="strip") == stay["strip"]
    assert says({"insect": "engraver"}, attacked=2026) == stay["engraver"]
    assert says({"insect": "other"}, attacked="unknown") == stay["other"]
    assert says(attacked="never") == stay["never"]
    assert says(attacked=2022) == stay["empty"]
    assert says(attacked=2026, dbh=4.9) == stay["small"]
    assert says(attacked=2026, dbh=5.0) is None
    assert says(attacked=2026, attack="strip", status="felled") is None
    assert all("Look" in text for text in stay.values())


def test_live_brood_seen_means_that_the_tree_does_not_simply_stay():
    larvae = {"insect": "spruce-beetle", "stages": ["larvae"], "looked": ["base", "sunny", "shaded"], "seen": ON}
    for attack in ("pitched-out", "strip", "mass"):
        assert judge(larvae, attacked=2026, attack=attack).may_stay_standing is None
    assert judge(larvae, attacked=2026, dbh=4.5, pieces=(piece(butt_in=4.4),)).may_stay_standing is None
    strip = judge(larvae, attacked=2026, attack="strip")
    assert codes(strip) == ["strip-attack"]
    assert codes(judge(larvae, attacked=2026, attack="mass")) == []


def test_a_strip_attack_is_looked_at_all_round():
    found = {"stages": ["none"], "seen": ON}
    half = judge({**found, "looked": ["base", "sunny"]}, attacked=2026, attack="strip")
    assert butt(half).brood == "likely"
    whole = judge({**found, "looked": ["base", "sunny", "shaded"]}, attacked=2026, attack="strip")
    assert butt(whole).brood == "none"
    assert whole.may_stay_standing == outcomes().stay["failed"]


@pytest.mark.parametrize(("seen", "brood"), [(date(2026, 7, 31), "likely"), (date(2026, 8, 1), "none")])
def test_nothing_found_right_after_the_flight_proves_nothing(seen, brood):
    found = {"stages": ["none"], "looked": ["base", "sunny"], "seen": seen}
    assert butt(judge(found, attacked=2026)).brood == brood


def test_a_piece_is_never_surer_than_its_thickness_allows():
    pieces = {one.piece: one.confidence for one in judge({"stages": ["larvae"], **FULL}, attacked=2026).pieces}
    assert (pieces["T1/1"], pieces["T1/5"], pieces["T1/top"]) == ("high", "medium", "medium")


def test_pitched_out_is_only_possible_unless_live_brood_was_seen():
    assert butt(judge(attacked=2026, attack="pitched-out")).brood == "possible"
    assert butt(judge({"stages": ["larvae"], **FULL}, attacked=2026, attack="pitched-out")).brood == "likely"


def test_engravers_are_another_matter_once_the_base_was_looked_at():
    looked = judge({"insect": "engraver", "stages": ["larvae"], **FULL}, attacked=2026)
    assert {one.brood for one in looked.pieces} == {"none"}
    assert looked.questions == ()
    tops_only = judge({"insect": "engraver", "stages": ["adults"], "looked": ["upper"], "seen": ON}, attacked=2026)
    assert butt(tops_only).brood == "possible"
    assert codes(tops_only) == ["spruce-beetle-too"]


# Questions and sentences.


def test_the_question_says_where_to_look_how_and_what_each_answer_means():
    (question,) = judge(attacked=2026).questions
    assert question.rank == 2
    assert question.subject == "T1"
    for words in ("root collar", "sunny side as high as you can reach", "shaded side", "three", "6 by 6 in"):
        assert words in question.how
    for words in ("dark adult", "2027", "by 7 May 2027", "white larvae only", "2028", "1 August 2027"):
        assert words in question.then


def test_down_logs_are_looked_at_on_three_sides_away_from_the_ends():
    (question,) = judge(attacked=2026, status="logs").questions
    for words in ("top", "side", "underside", "5 ft"):
        assert words in question.how


@pytest.mark.parametrize(("on", "says"), [(date(2026, 9, 30), True), (date(2026, 10, 1), False)])
def test_too_early_in_autumn_the_question_says_when_to_look(on, says):
    (question,) = judge(attacked=2026, on=on).questions
    assert ("1 October 2026" in question.how) == says


def test_when_the_date_has_passed_the_question_says_at_once():
    last = finish_by(flight_year(BC, 2027))
    assert f"by {in_words(last)}" in judge(attacked=2026, on=last).questions[0].then
    assert "at once" in judge(attacked=2026, on=date(2027, 5, 8)).questions[0].then


def test_trees_in_the_same_case_ask_the_same_question():
    def words(question: Question):
        return question.code, question.text, question.how, question.then

    assert words(judge(attacked=2026).questions[0]) == words(judge(attacked=2026, dbh=22.0, id="T9").questions[0])


def test_an_undated_look_is_taken_as_todays_and_said_so():
    result = judge({"stages": ["larvae"], "looked": ["base", "sunny"]}, attacked=2026)
    assert butt(result).flight_to_beat == 2028
    assert "15 November 2026" in result.notes[0].message
    named = {"insect": "spruce-beetle", "stages": ["larvae"], **FULL}
    assert judge(named, attacked=2026).notes == ()
    assert "not named" in judge({**named, "insect": "not-sure"}, attacked=2026).notes[0].message


def test_logs_of_a_tree_that_stood_leave_a_stump_behind():
    assert "stump" in judge(attacked=2025, status="logs").notes[0].message
    assert judge(attacked=2025, status="logs", stood_at_attack=False).notes == ()


def test_sentences_end_with_a_stop_and_rest_on_something():
    for sentence in [*sizes().reasons.values(), *outcomes().reasons.values()]:
        assert sentence.because.endswith(".")
        assert bool(sentence.cite) == (sentence.basis == "published")
        assert all(cite(text).key in load_sources() for text in sentence.cite)
    book = look_book()
    for text in (*book.full_look_cite, *book.adults_from_cite, *book.move_cite, *book.looks_cite):
        assert cite(text)
    for text in [*book.looks.values(), *outcomes().stay.values()]:
        assert text.endswith(".")
        assert "beetle" in text or "larva" in text.lower() or "pupa" in text.lower() or "tunnel" in text


def test_an_old_attack_is_told_as_such():
    assert rule(judge(attacked=2023)) == "old-attack"
    assert (
        "or earlier"
        in butt(judge({"crown": "bare", "stages": ["none"], **FULL}, attacked="unknown")).reasons[0].because
    )
