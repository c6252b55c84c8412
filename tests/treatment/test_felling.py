"""Who takes a tree down: the refusals of the design, one by one."""

from datetime import date

import pytest
from effort_site import CLEAR, CREW, TOOLS, Site
from hypothesis import given, settings
from hypothesis import strategies as st

from barkwright.treatment.approach import people_approach_ft
from barkwright.treatment.fellwork import fell_minutes, limb_and_buck_minutes
from barkwright.treatment.rates import rate_book

TREE = {"dbh": 16.5, "height": 72.0}


def felling(**tree):
    more = {key: tree.pop(key) for key in ("crew", "equipment", "calls", "on") if key in tree}
    return Site({**TREE, **tree}, **more).felling()


def near(**changed):
    return {"near": {**CLEAR, **changed}}


def test_a_clear_tree_is_felled_by_a_crew_of_two_that_has_the_skill():
    found = felling()
    assert (found.who, found.by) == ("crew", "crew")
    assert [step.work for step in found.steps] == ["fell", "limb and buck"]
    assert all(step.people >= 2 for step in found.steps)
    assert found.steps[0].skills == ("felling",)
    assert found.questions == ()
    assert found.calls == ()
    assert found.drop_zone_ft == 2 * 72


@pytest.mark.parametrize("place", ["line", "building", "road", "neighbour"])
def test_not_checked_stops_the_felling_and_is_asked_first(place):
    found = felling(**near(**{place: "not-checked"}))
    assert found.who == "provisional"
    question = found.questions[0]
    assert (question.code, question.rank, question.subject) == ("near-not-checked", 1, "T1")
    assert {"line": "power line", "neighbour": "neighbour's ground"}.get(place, place) in question.text
    assert "82 ft" in question.how  # 72 ft and the margin of a line


def test_all_four_not_checked_is_one_question():
    found = felling(near={})
    assert [q.code for q in found.questions] == ["near-not-checked"]
    for word in ("power line", "building", "road", "neighbour"):
        assert word in found.questions[0].text


@pytest.mark.parametrize(("far", "who"), [(81.9, "professional"), (82.0, "professional"), (82.1, "crew")])
def test_a_line_counts_to_the_height_and_ten_feet(far, who):
    found = felling(**near(line=far))
    assert found.who == who
    if who == "professional":
        assert found.by == "line-clearance arborist"
        assert "utility" in found.calls[0].what
        assert found.lead_days > 0
        assert found.steps[0].wait_days == found.lead_days
        assert "lines" in found.cautions


@pytest.mark.parametrize("place", ["building", "road", "neighbour"])
@pytest.mark.parametrize(("far", "who"), [(71.9, "professional"), (72.0, "professional"), (72.1, "crew")])
def test_what_the_tree_can_reach_is_for_a_professional(place, far, who):
    found = felling(**near(**{place: far}))
    assert found.who == who
    assert any(place in reason.because for reason in found.reasons) == (who == "professional")


def test_an_estimated_height_reaches_as_far_as_its_upper_end():
    site = Site({"dbh": 16.5})
    high = site.stem.height_ft.high
    assert high > site.stem.height_ft.likely
    inside, outside = (Site({"dbh": 16.5, "near": {**CLEAR, "road": high + d}}).felling().who for d in (-0.1, 0.1))
    assert (inside, outside) == ("professional", "crew")


@pytest.mark.parametrize("hazard", ["lean", "hung-up", "dead-top", "split-stem", "decay", "root-plate", "jackstraw"])
def test_a_hazard_on_a_standing_tree_is_for_a_professional(hazard):
    found = felling(hazards=(hazard,))
    assert found.who == "professional"
    assert found.reasons


@pytest.mark.parametrize(
    "crew",
    [{**CREW, "skills": ("saw",)}, {**CREW, "people": 1}, {**CREW, "skills": ()}],
    ids=["no felling skill", "one person alone", "no skill"],
)
def test_without_two_people_and_the_skill_a_professional_fells(crew):
    found = felling(crew=(crew,))
    assert found.who == "professional"
    assert found.questions[0].code == "removal-quote"


def test_without_a_saw_or_a_crew_a_professional_fells_and_cuts_it_up():
    for changed in ({"equipment": tuple(each for each in TOOLS if each["kind"] != "chain-saw")}, {"crew": ()}):
        found = felling(**changed)
        assert found.who == "professional"
        assert [step.work for step in found.steps] == ["fell"]
        assert "lengths of 8 ft" in found.steps[0].what
        assert not found.crew_bucks


def test_a_professionals_hours_are_never_estimated():
    asked = felling(hazards=("lean",))
    assert asked.steps[0].person_hours.high == 0
    assert [q.code for q in asked.questions] == ["removal-quote"]
    entered = felling(hazards=("lean",), removal={"by": "dismantle", "hours": 6.0})
    assert entered.steps[0].person_hours.low == entered.steps[0].person_hours.high == 6
    assert entered.questions == ()


def test_an_appointment_that_names_the_tree_stands_for_the_calls():
    day = date(2026, 11, 12)
    found = felling(**near(line=30.0), calls=({"what": "service disconnect", "for": ("T1",), "date": day},))
    assert found.calls == ()
    assert found.earliest == day
    other = felling(**near(line=30.0), calls=({"what": "service disconnect", "for": ("T2",), "date": day},))
    assert other.calls


def test_the_later_of_the_users_date_and_the_appointment_holds():
    calls = ({"what": "visit", "for": ("T1",), "date": date(2026, 11, 12)},)
    assert felling(not_before=date(2026, 12, 1), calls=calls).earliest == date(2026, 12, 1)
    assert felling(not_before=date(2026, 11, 1), calls=calls).earliest == date(2026, 11, 12)


def test_a_windthrow_is_for_a_trained_sawyer_only():
    lying = {"status": "windthrown", "down_since": date(2026, 9, 1), "stood_at_attack": True}
    trained = felling(**lying)
    assert (trained.who, trained.needs_skills) == ("crew", ("felling",))
    assert [step.work for step in trained.steps] == ["limb and buck"]
    assert "root plate" in trained.steps[0].what
    assert "windthrow" in trained.cautions
    saw_only = felling(**lying, crew=({**CREW, "skills": ("saw",)},))
    assert saw_only.who == "professional"


def test_a_jackstraw_is_for_a_trained_sawyer_even_when_felled():
    lying = {"status": "felled", "felled_on": date(2026, 9, 1), "stood_at_attack": True}
    saw_only = {**CREW, "skills": ("saw",)}
    assert felling(**lying, crew=(saw_only,)).who == "crew"
    assert felling(**lying, crew=(saw_only,), hazards=("jackstraw",)).who == "professional"
    assert felling(**lying, hazards=("jackstraw",)).needs_skills == ("felling",)


def test_logs_and_stumps_need_nothing():
    logs = ({"butt": 14.0, "top": 12.0, "length": 8.0},)
    assert felling(status="logs", felled_on=date(2026, 10, 1), logs=logs, dbh=None, height=None).who == "not needed"


def test_a_tree_without_brood_is_not_felled_for_the_beetle():
    found = felling(attacked="never", near={})
    assert found.who == "not needed"
    assert found.questions == ()
    assert found.steps == ()


def test_green_spruce_is_not_felled_in_the_flight_and_left():
    found = felling(attacked="never", removal={"by": "fell", "hours": 3.0})
    assert found.closed
    fell = found.steps[0]
    for first, last in found.closed:
        for day in (first, last):
            assert not any(start <= day <= end for start, end in fell.spans)
    assert any(start <= date(2026, 12, 1) <= end for start, end in fell.spans)
    assert felling().steps[0].spans is None  # infested wood: the schedule decides


@settings(max_examples=40)
@given(st.floats(5, 40), st.floats(0.5, 6), st.floats(40, 100))
def test_felling_and_bucking_grow_with_the_tree(dbh, more, height):
    def mean(d):
        return [step.person_hours for step in Site({"dbh": d, "height": height}).felling().steps]

    thin, thick = mean(dbh), mean(dbh + more)
    assert thick[0].mean > thin[0].mean
    assert thick[1].likely >= thin[1].likely
    for each in (*thin, *thick):
        assert each.low < each.likely < each.high


@given(st.floats(5, 45), st.floats(1, 300))
def test_minutes_hold_every_published_equation(dbh, volume):
    rates = {name: rate_book().triple(name) for name in rate_book().rates}
    low, likely, high = fell_minutes(dbh, volume, rates["tree-walk"])
    assert low <= likely <= high
    low, likely, high = limb_and_buck_minutes(dbh, volume, 5, rates)
    assert low <= likely <= high


def test_something_near_makes_felling_slower_but_not_forbidden():
    far, close = felling(), felling(**near(building=100.0))
    assert close.who == "crew"
    assert close.steps[0].person_hours.likely > far.steps[0].person_hours.likely


def test_every_started_ten_kilovolts_adds_four_inches():
    assert people_approach_ft(138) == pytest.approx(13.0)
    assert people_approach_ft(50) == 10
    assert people_approach_ft(50.1) == pytest.approx(10 + 4 / 12)


ARBORIST = {**CREW, "name": "climbers", "skills": ("saw", "felling", "climbing", "aerial-lift", "line-clearance")}
LIFT = {"kind": "aerial-lift", "rent_per_day": "300", "capacity": 60.0}


def own(by, hours=6.0, skills=ARBORIST["skills"], tools=(*TOOLS, LIFT), crew=None, price=None, **tree):
    removal = {"by": by, "hours": hours, **({"price": price} if price else {})}
    crew = crew or {**ARBORIST, "skills": tuple(skills)}
    return felling(removal=removal, crew=(crew,), equipment=tools, **{"hazards": ("lean",), **tree})


@pytest.mark.parametrize(
    ("by", "skill", "tools"),
    [
        ("dismantle", "climbing", {"chain-saw"}),
        ("aerial-lift", "aerial-lift", {"chain-saw", "aerial-lift"}),
        ("fell", "felling", {"chain-saw"}),
    ],
)
def test_a_crew_with_the_skill_does_the_removal_in_the_hours_entered(by, skill, tools):
    found = own(by)
    assert (found.who, found.by, found.crews, found.how) == ("crew", "crew", ("climbers",), by)
    fell = found.steps[0]
    assert fell.person_hours.low == fell.person_hours.high == 2 * 6
    assert fell.machine_hours.mean == 6
    assert fell.people == 2
    assert (set(fell.equipment), fell.skills) == (tools, (skill,))
    assert found.calls == ()
    assert found.questions == ()
    assert [step.work for step in found.steps[1:]] == (["limb and buck"] if by == "fell" else [])
    without = own(by, skills=set(ARBORIST["skills"]) - {skill})
    assert (without.who, without.by) == ("professional", "tree service")
    assert without.crews == ()


def test_a_crane_comes_from_outside_and_so_does_whoever_named_a_price():
    assert own("crane").who == "professional"
    assert own("dismantle", price="900").who == "professional"


def test_one_climber_alone_or_unpaid_friends_are_no_professionals():
    assert own("dismantle", crew={**ARBORIST, "people": 1}).who == "professional"
    unpaid = {key: value for key, value in ARBORIST.items() if key != "rate"}
    assert own("dismantle", crew={**unpaid, "unpaid": True}).who == "professional"


@pytest.mark.parametrize(("height", "who"), [(None, "professional"), (56.9, "professional"), (57.1, "crew")])
def test_a_lift_must_be_there_and_reach_all_but_the_top(height, who):
    tools = TOOLS if height is None else (*TOOLS, {**LIFT, "capacity": height})
    assert own("aerial-lift", tools=tools).who == who  # 72 ft less 15 ft


def test_by_a_line_the_crew_takes_that_skill_too_and_the_utility_is_called_still():
    by_line = {"hazards": (), **near(line=30.0)}
    found = own("dismantle", **by_line)
    assert (found.who, set(found.needs_skills)) == ("crew", {"climbing", "line-clearance"})
    assert [("utility" in call.what, "tree service" in call.what) for call in found.calls] == [(True, False)]
    assert found.lead_days > 0
    assert {"lines", "climbing"} <= set(found.cautions)
    other = own("dismantle", skills={"saw", "felling", "climbing"}, **by_line)
    assert (other.who, other.by) == ("professional", "line-clearance arborist")


def test_a_crew_that_could_is_asked_how_and_in_how_many_hours():
    found = felling(hazards=("lean",), crew=(ARBORIST,))
    assert (found.who, found.by, found.steps[0].person_hours.high) == ("crew", "crew", 0)
    assert [(question.code, "climbers" in question.text) for question in found.questions] == [("removal-hours", True)]
    assert felling(**near(building=30.0, line="not-checked"), crew=(ARBORIST,)).who == "provisional"


def test_a_line_that_touches_the_tree_is_as_near_as_a_line_can_be():
    assert felling(**near(line=0.0)).by == "line-clearance arborist"


def test_a_fallen_tree_without_brood_is_not_worked_on_for_the_beetle():
    found = felling(status="windthrown", attacked=2019, down_since=date(2019, 5, 1))
    assert (found.who, found.steps) == ("not needed", ())
    assert [reason.rule for reason in found.reasons] == ["no-brood-no-felling"]
