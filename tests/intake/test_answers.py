"""What is typed as an answer, and the value it stands for."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barkwright.intake.questions import UNKNOWN, question_book
from barkwright.intake.reading import NoAnswerError, across_in, read_answer, stick_height_ft

ON = date(2026, 11, 27)
QUESTIONS = {one.id: one for one in question_book().questions}


def read(name: str, text: str, units: str = "imperial") -> str:
    return read_answer(QUESTIONS[name], text, units, ON)


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("line", "35", "35 ft"),
        ("line", "about 35 ft", "35 ft"),
        ("line", "12' 6\"", "12' 6\""),
        ("line", "far", "out-of-reach"),
        ("line", "Out of reach.", "out-of-reach"),
        ("line-kind", "house", "service-drop"),
        ("line-kind", "2", "distribution"),
        ("hazard", "lean and rot", "lean,decay"),
        ("hazard", "1, 3", "lean,dead-top"),
        ("hazard", "none", "none"),
        ("hazard", "hung up", "hung-up"),
        ("status", "Standing", "standing"),
        ("species", "Picea glauca", "white"),
        ("species", "engel", "engelmann"),
        ("girth", "52", "girth 52 in"),
        ("girth", "132 cm around", "girth 132 cm"),
        ("girth", "16.5 in across", "across 16.5 in"),
        ("height", "22 m", "22 m"),
        ("height", "72 ft tall", "72 ft"),
        ("attacked", "last summer", "2025"),
        ("attacked", "never", "never"),
        ("found", "grubs", "larvae"),
        ("found", "larvae adults", "larvae,adults"),
        ("found", "nothing", "none"),
        ("looked", "all", "base,sunny,shaded"),
        ("seen", "today", "2026-11-27"),
        ("seen", "2026-10", "2026-10-01"),
        ("stood", "yes", "true"),
        ("people", "two", "2"),
        ("people", "3 people", "3"),
        ("days", "weekend", "sat,sun"),
        ("days", "Monday and tue", "mon,tue"),
        ("skills", "no", "none"),
        ("own", "a chain saw, drawknife and axes", "chain-saw; drawknife; axe"),
        ("own", "none", "none"),
        ("rent", "chipper 9 in, $310 a day, 90 delivery", "chipper 9 in 310/day delivery 90"),
        ("rent", "chipper 9 in 310/day delivery 90", "chipper 9 in 310/day delivery 90"),
        ("rent", "chipper 9 inch 310 a day", "chipper 9 in 310/day"),
        ("rent", "a chipper, 9 inches, 1100 a week", "chipper 9 in 1100/week"),
        ("rent", 'chipper 9" for 310 per day; splitter 60/day', "chipper 9 in 310/day; splitter 60/day"),
        ("rate", "$45 per hour", "45"),
        ("permit", "not needed", "not-needed"),
        ("log", "14.2, 12.9, 8; 36 cm, 33 cm, 2.5 m, x2", "14.2 in,12.9 in,8 ft; 36 cm,33 cm,2.5 m,x2"),
        ("place", "54.0, -123.0", "54, -123"),
    ],
)
def test_people_are_understood(name: str, text: str, value: str):
    assert read(name, text) == value
    assert read(name, value) == value, "a draft is read like an answer"


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("line", "close", "write a number and a unit"),
        ("line", "4 kg", "no length"),
        ("line", "35,5", "decimal comma"),
        ("species", "whte", "did you mean white"),
        ("species", "aspen", "white, engelmann"),
        ("hazard", "none, lean", "none does not go with others"),
        ("attacked", "26", "like 2026"),
        ("seen", "10/20/2026", "year-month-day"),
        ("seen", "2026-02-30", "not a day"),
        ("people", "a few", "no number"),
        ("own", "banana", "no tool"),
        ("rent", "chipper quickly", "not understood"),
        ("rate", "lots", "no amount of money"),
        ("log", "14, 12", "thick end, thin end, length"),
        ("height", "stick 2 ft, 80 ft", "from eye to hand"),
        ("height", "stick 0, 2, 80", "more than nothing"),
        ("where", "fence\x1b[2J", "control characters"),
        ("where", "x" * 500, "longer than"),
    ],
)
def test_a_wrong_answer_gets_one_line_that_says_what_was_expected(name: str, text: str, said: str):
    with pytest.raises(NoAnswerError, match=said) as fault:
        read(name, text)
    assert "\n" not in str(fault.value)


@pytest.mark.parametrize("name", QUESTIONS)
@pytest.mark.parametrize("text", ["don't know", "dk", "Don’t know.", "not sure", "dunno", "no idea", "I'm not sure."])
def test_do_not_know_is_an_answer_to_every_question(name: str, text: str):
    value = read(name, text)
    assert value == UNKNOWN or QUESTIONS[name].unknown is not None


@pytest.mark.parametrize("name", QUESTIONS)
def test_the_example_of_a_question_and_its_empty_line_answer_it(name: str):
    read(name, QUESTIONS[name].example)
    if QUESTIONS[name].empty is not None:
        read(name, QUESTIONS[name].empty or "")


@given(st.sampled_from(sorted(QUESTIONS)), st.text(max_size=60))
def test_no_text_is_more_than_taken_or_refused(name: str, text: str):
    try:
        value = read(name, text)
    except NoAnswerError:
        return
    assert value.isprintable()


def test_metric_numbers_are_centimetres_and_metres():
    assert read("girth", "132", "metric") == "girth 132 cm"
    assert read("line", "12", "metric") == "12 m"
    assert read("height", "stick 1, 0.5, 10", "metric") == "20 m"


def test_a_stick_as_long_as_the_arm_shows_the_height_on_the_ground():
    assert stick_height_ft(2.0, 2.0, 72.0) == 72.0


@pytest.mark.parametrize(
    ("stick", "arm", "walked", "high"), [(1, 2, 100, 50), (3, 2, 40, 60), (2, 28 / 12, 80, 480 / 7)]
)
def test_other_sticks_by_similar_triangles(stick: float, arm: float, walked: float, high: float):
    assert stick_height_ft(stick, arm, walked) == pytest.approx(high)
    assert read("height", f"stick {stick} ft, {arm} ft, {walked} ft") == f"{high:.1f}".removesuffix(".0") + " ft"


def test_a_girth_of_pi_is_one_across():
    assert across_in(3.14159265358979) == pytest.approx(1.0)
