"""The follow-up after a flight, read line by line: what it says, on which day, and at odd places."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path

import jsonschema
import pytest
from flight_site import TREES, inventory_of, site_plan, weather
from test_flight_page import flat, section

from barkwright.brood.neighbours import ORDER
from barkwright.inventory.progress import Finished
from barkwright.output.follow import follow_page
from barkwright.output.follow_json import follow_result
from barkwright.output.follow_trees import GROUPS
from barkwright.output.follow_when import TITLES
from barkwright.output.follow_words import follow_book
from barkwright.output.forms import page_form
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.schema import schema
from barkwright.plan import FlightPlan, plan_flight

SHIPPED = Path(__file__).parents[2] / "shared" / "flight-after.schema.json"
AUTUMN, FLYING, SUMMER = date(2030, 11, 1), date(2031, 6, 10), date(2031, 8, 1)
GREEN = "{{id: {}, species: {}, status: standing, dbh: {}, height: 60, attacked: never{}}}"
ENGRAVER = (
    "{id: E1, species: white, dbh: 12, attacked: unknown, "
    "found: {insect: engraver, stages: [larvae], looked: [base, sunny, shaded], crown: green, seen: 2030-09-20}}"
)
LOGS = (
    "{id: L1, species: white, status: logs, felled_on: 2024-10-01, attacked: 2022, "
    "logs: [{butt: 14, top: 12, length: 8}]}"
)
NEIGHBOURS = (
    GREEN.format("G1", "white", 4.5, ""),
    GREEN.format("G2", "white", 11, ""),
    GREEN.format("G3", "black", 24, ""),
    GREEN.format("G4", "white", 16, ""),
    GREEN.format("G5", "white", 15.9, ""),
    "{id: G6, species: white, status: windthrown, down_since: 2030-09-20, dbh: 9, height: 50, attacked: never}",
    GREEN.format("G7", "white", 20, ", found: {insect: not-sure, crown: bare, seen: 2030-10-01}"),
)


def text(plan: FlightPlan, metric: bool = False) -> str:
    return render(follow_page(plan, Units(metric), "quiet-bend.yaml"))


def told(plan: FlightPlan, heading: str, metric: bool = False) -> str:
    found = flat(section(text(plan, metric), heading))
    assert found, heading
    return found


STATUS, WHEN, WHICH = "From when this sheet is of use", "When to look", "Which living spruce to look at"
SIGNS, WOOD, FOUND = "What to look for", "The wood of your list", "If you find one"


def test_before_the_flight_ends_it_is_a_dated_preview_that_says_from_when_it_is_of_use() -> None:
    for on, more in ((AUTUMN, "look now as well"), (FLYING, "Beetles fly now")):
        said = told(site_plan(None, on), STATUS)
        assert f"This is a preview, made on {'Fri 1 Nov 2030' if on == AUTUMN else 'Tue 10 Jun 2031'}." in said
        assert "of use from about Fri 11 Jul 2031, when the flight of 2031 is over" in said
        assert more in said


def test_after_the_flight_it_is_to_be_used_now() -> None:
    said = told(site_plan(None, SUMMER), STATUS)
    assert "The flight of 2031 is over: about Fri 11 Jul 2031 was the first day to look. Use this sheet now." in said
    assert "preview" not in said


def test_how_sure_the_dates_are_stands_beside_them() -> None:
    assert "The dates are fairly sure: they are those of a published calendar" in told(site_plan(None), STATUS)
    assert "daily weather" in told(site_plan(weather(), SUMMER), STATUS)


def test_every_look_has_its_days_and_its_reason() -> None:
    said = told(site_plan(None, SUMMER), WHEN)
    assert said.count("[ ]") == 4
    for words in (
        "[ ] From now to Sun 31 Aug 2031, for the flight of 2031. What has been missed",
        "[ ] Mon 1 Sep - Fri 31 Oct 2031, in late summer, under the bark. Grubs are big enough",
        "[ ] Fri 9 Apr - Fri 7 May 2032, in spring, before the flight of 2032. Flakes of bark on snow",
        "[ ] Sun 11 - Sat 24 Jul 2032, the year after, when the flight of 2032 is over. Most brood takes two years: a "
        "tree missed until now lets its beetles fly in 2033.",
    ):
        assert words in said
    assert "[ ] Fri 11 - Thu 24 Jul 2031, when the flight of 2031 is over. Dust is fresh" in told(
        site_plan(None, FLYING), WHEN
    )


def test_the_list_s_own_living_spruce_come_the_likeliest_first() -> None:
    said = told(site_plan(None, trees=NEIGHBOURS), WHICH)
    assert (
        "- Green and lying, which beetles take first: G6 (9.0 in). - Large, 16 in and more: G4 (16.0 in); G3 (24.0 in)."
        " - From 5 in to 16 in: G5 (15.9 in); G2 (11.0 in). - Under 5 in, seldom attacked: G1 (4.5 in)." in said
    )
    assert "G7 (" not in said


def test_a_tree_attacked_without_success_comes_before_the_green_ones() -> None:
    strip = "{id: H1, species: white, dbh: 14, attacked: 2030, attack: pitched-out}"
    said = told(site_plan(None, trees=(strip, NEIGHBOURS[3])), WHICH)
    assert said.index("often attacked again: H1") < said.index("Large, 16 in")


def test_trees_to_be_taken_down_are_said_to_be() -> None:
    plan = site_plan(None, trees=(GREEN.format("G8", "white", 18, ", removal: {by: fell, hours: 2}"),))
    assert "G8 (18.0 in), until it is taken down" in told(plan, WHICH)


def test_many_trees_are_named_shortly() -> None:
    trees = tuple(GREEN.format(f"N{number}", "white", 12, "") for number in range(1, 31))
    assert "From 5 in to 16 in: N1-N30." in told(site_plan(None, trees=trees), WHICH)


def test_without_a_living_spruce_on_the_list_the_sheet_says_so() -> None:
    assert "No living spruce is on your list." in told(site_plan(None, trees=(LOGS,)), WHICH)
    assert "No living spruce is on your list." not in told(site_plan(None, trees=NEIGHBOURS), WHICH)


def test_each_distance_has_its_unit_its_source_and_its_grade() -> None:
    said = told(site_plan(None), WHICH)
    assert "Out to 33 ft, look twice: spruce so near a baited trap were attacked (A, Hansen and others 2006)." in said
    assert "Out to 160 ft, every living spruce: so far one trial looked" in said
    assert "(A, Hansen and others 2016)" in said
    assert (
        "Out to a quarter mile, large and wind-thrown spruce only: felled trap trees drew another bark beetle" in said
    )
    assert "(B, British Columbia Ministry of Forests 2018)" in said
    assert "No distance is safe" in said
    metric = told(site_plan(None), WHICH, metric=True)
    assert all(f"Out to {distance}," in metric for distance in ("10 m", "50 m", "0.4 km"))
    assert not re.search(r"\d (ft|in|mile)\b", metric)


@pytest.mark.parametrize(
    ("spruce", "said"),
    [
        ("60", "stands 60 ft from the work: begin there."),
        ("164", "stands 164 ft from the work: begin there."),
        ("165", "stands 165 ft from the work, farther than 160 ft: begin there all the same."),
        ("1320", "stands 1,320 ft from the work, farther than 160 ft: begin there all the same."),
        ("1321", "farther than a quarter mile: a look at the first trees there is enough."),
        ("none", "You wrote that no living spruce is near"),
        ("unknown", "is not written down (nearest_live_spruce)"),
    ],
)
def test_what_the_user_knows_of_the_nearest_spruce_is_used(spruce: str, said: str) -> None:
    assert said in told(site_plan(None, more=f", nearest_live_spruce: {spruce}"), WHICH)


def test_every_sign_is_there_and_green_is_no_proof() -> None:
    said = told(site_plan(None, SUMMER), SIGNS)
    for words in (
        "Fine dust, red-brown like the bark", "White dust comes from the wood", "Drops or tubes of pitch",
        "Holes plugged with dust or pitch", "Clean round holes", "Bark flaked off by woodpeckers",
        "green in the first autumn is no proof of health", "engraver beetles",
    ):  # fmt: skip
        assert words in said
    # half of the beetles are out on 15 June 2031; 12, 15, 14 and 20 months on
    assert "After the flight of 2031 that is June 2032 to September 2032, and August 2032 to February 2033." in said


def test_windows_are_cut_only_where_a_sign_is_seen() -> None:
    said = told(site_plan(None), "How to look")
    assert "Cut into no sound tree." in said
    assert "at the base right down to the root collar, on the sunny side" in said
    assert "three in all" in said


def test_a_find_is_written_down_with_the_command_that_plans_it() -> None:
    said = told(site_plan(None, SUMMER), FOUND)
    assert "{id: N1, species: white, girth: 44, attacked: 2031}" in said
    assert "'barkwright order quiet-bend.yaml'" in said
    assert "'barkwright new --from TABLE.csv --latitude 54 --longitude -122'" in said
    assert "attacked: 2030}" in told(site_plan(None, AUTUMN), FOUND)  # what can be found now came with last summer's


def test_the_line_to_copy_is_accepted() -> None:
    line = re.search(r"\{id: N1.*?\}", told(site_plan(None, SUMMER), FOUND))
    assert line is not None
    assert site_plan(None, SUMMER, trees=(*TREES, line[0])).broods[-1].tree == "N1"


def test_what_is_due_and_what_may_wait_is_told_apart() -> None:
    said = told(site_plan(None), WOOD)
    assert "To be done by Wed 7 May 2031: T3" in said
    assert "May wait, but no longer than Fri 7 May 2032: T1" in said
    assert "T1, T2, T3 stump" in said or "T1-T3 stump" in said
    assert "No treatment is recorded yet: 'barkwright done quiet-bend.yaml PIECE' takes off what is finished." in said
    assert "Overdue since Wed 7 May 2031, if it is not done" in told(site_plan(None, FLYING), WOOD)


def recorded(*work: tuple[str, str, str | None]) -> FlightPlan:
    """The site with work in its journal: piece, method, what is left."""
    finished = tuple(Finished(piece=piece, method=by, on=date(2030, 10, 20), left=left) for piece, by, left in work)
    return plan_flight(inventory_of().model_copy(update={"finished": finished}), AUTUMN)


def test_finished_work_is_taken_off_and_what_is_left_is_told() -> None:
    pieces = [piece.piece for piece in site_plan(None).broods[2].pieces if not piece.piece.endswith(("/top", "/limbs"))]
    assert pieces[0].startswith("T3/")
    plan = recorded(*((piece, "chip", None) for piece in pieces if not piece.endswith("/stump")))
    said = told(plan, WOOD)
    assert "Recorded as done: T3 logs 1" in said
    assert re.search(r"To be done by Wed 7 May 2031: T3[^;.]*stump", said)
    assert "No treatment is recorded" not in said
    assert "T3 logs" not in said.partition("To be done by")[2].partition(".")[0]
    open_ = told(recorded(("T1/1", "debark", "bark not burnt yet")), WOOD)
    assert "Look again at T1 log 1 (debark, Sun 20 Oct 2030). Left, as you wrote: bark not burnt yet." in open_
    assert "Peeled logs: strips of bark that were left" in open_
    assert "Split wood" not in open_


def test_what_is_felled_and_cut_up_is_named_though_nothing_is_treated_yet() -> None:
    site = inventory_of()
    down = {"status": "felled", "felled_on": date(2030, 10, 10)}
    cut = {**down, "cut_up": date(2030, 10, 11)}
    trees = [tree.model_copy(update={"T1": down, "T3": cut}.get(tree.id, {})) for tree in site.trees]
    said = told(plan_flight(site.model_copy(update={"trees": tuple(trees)}), AUTUMN), WOOD)
    assert "Recorded as felled and cut up: T3." in said
    assert "Recorded as felled: T1." in said
    assert "No treatment is recorded yet" in said


def test_work_that_stops_only_a_part_is_to_be_looked_at_again() -> None:
    said = told(recorded(("T3/1", "split", None)), WOOD)
    assert "Look again at T3 log 1 (split, Sun 20 Oct 2030): that stops only a part of the beetles, or none." in said
    assert "Split wood: turn over" in said
    assert "Recorded as done" not in said


def test_what_protects_living_trees_is_evidence_and_defers() -> None:
    said = told(site_plan(None), "What is known about protecting living trees")
    for words in (
        "91 %",
        "Emamectin benzoate",
        "two seasons, not three",
        "MCH",
        "None of them saves",
        "licensed applicator",
    ):
        assert words in said
    assert said.count("(A, ") + said.count("(B, ") + said.count("(C, ") == len(follow_book().protect)


def test_the_dangers_of_the_walk_are_told() -> None:
    said = told(site_plan(None), "Take care")
    assert "Dead and dying spruce shed tops, limbs and bark" in said
    assert "Do not go in wind" in said
    assert "Do not fell green spruce while beetles fly." in said


def test_where_only_engravers_were_found_it_says_so() -> None:
    said = told(site_plan(None, trees=(ENGRAVER,)), STATUS)
    assert "No tree on the list is expected to hold spruce beetle now. In E1 another insect was found" in said
    assert "E1 (12.0 in)" in told(site_plan(None, trees=(ENGRAVER,)), WHICH)


def test_where_nothing_is_infested_there_is_no_wood_to_look_at_and_last_summer_s_flight_is_looked_after() -> None:
    plan = site_plan(None, trees=NEIGHBOURS[:5])
    assert "No tree on the list is expected to hold spruce beetle now. Look all the same" in told(plan, STATUS)
    assert "Use this sheet now." in told(plan, STATUS)
    assert not section(text(plan), WOOD)


def test_flights_of_past_years_leave_a_sheet_for_now() -> None:
    assert text(site_plan(None, trees=(LOGS,))).startswith("AFTER THE FLIGHT OF 2030: QUIET BEND")


def test_far_north_dates_come_from_its_own_calendar() -> None:
    plan = site_plan(None, SUMMER, where="latitude: 68.5, longitude: -134, region: far-north")
    flight = plan.flights[0]
    assert flight.year == 2032
    assert "2031" in told(plan, WHEN)
    assert "The dates are not sure" in told(plan, STATUS)


STAND = ", stand: {mean_dbh: 16, basal_area: 150, spruce_in_canopy_percent: 65, place: creek-bottom}"
RATES = "How this stand rates"


def test_the_stand_rating_says_its_class_its_rows_and_how_well_it_is_known() -> None:
    said = told(site_plan(None, more=STAND), RATES)
    assert "by a published rating: high, with 12 points on a scale from 4 to 12." in said
    assert said.count("through another publication") == 3
    assert "creek bottom 3 from memory" in said
    assert "The names of the classes are from memory" in said
    assert "It was made for Engelmann spruce, and we know of no test of it for white spruce" in said
    assert "from a basal area of large spruce of 150 sq ft/ac on" in said


def test_a_rating_with_open_rows_is_a_range_and_says_which_rows() -> None:
    said = told(site_plan(None, more=", stand: {basal_area: 120, place: elsewhere}"), RATES)
    assert "between low-medium and medium-high, with 5 to 10 points" in said
    assert "because the rows mean diameter of the spruce, spruce in the canopy and place are open" in said
    assert "not in a creek bottom 1 to 2" in said
    assert "Another paper" not in said


def test_engelmann_spruce_needs_no_excuse_and_an_odd_index_is_said() -> None:
    trees = (GREEN.format("G1", "engelmann", 14, ""),)
    said = told(site_plan(None, trees=trees, more=", stand: {site_index: 130}"), RATES)
    assert "It was made for" not in said
    assert "The rows hold site indexes from 40 ft to 120 ft: yours lies outside" in said


def test_no_numbers_no_rating() -> None:
    assert not section(text(site_plan(None)), RATES)


@pytest.mark.parametrize(("metric", "value"), [(False, "16 in"), (True, "40.6 cm")])
def test_the_same_stand_in_metric_is_worth_the_same(metric: bool, value: str) -> None:
    written = (
        ", stand: {mean_dbh: 40.64 cm, basal_area: 34.43 m2/ha, spruce_in_canopy_percent: 65, place: creek-bottom}"
    )
    for stand in (STAND, written):
        said = told(site_plan(None, more=stand), RATES, metric)
        assert "high, with 12 points" in said
        assert value in said


@pytest.mark.parametrize("on", [AUTUMN, FLYING, SUMMER, date(2031, 5, 12), date(2032, 1, 2)])
@pytest.mark.parametrize("trees", [TREES, NEIGHBOURS, (ENGRAVER,), (LOGS,)])
def test_the_data_fits_its_schema_and_says_what_the_page_says(on: date, trees: tuple[str, ...]) -> None:
    plan = site_plan(None, on, trees=trees, more=STAND)
    result = follow_result(plan)
    whole = schema("flight-after")
    jsonschema.Draft202012Validator({**whole["properties"]["result"], "$defs": whole["$defs"]}).validate(result)
    page = text(plan)
    assert f"AFTER THE FLIGHT OF {result['flight']}" in page
    assert page.count("[ ]") == len(result["looks"])
    assert all(tree["id"] in page for tree in result["trees"])
    assert not re.search(r"\{\w+\}", json.dumps(result, indent=1))


def test_the_shipped_schema_is_that_of_the_result() -> None:
    assert json.loads(SHIPPED.read_text(encoding="utf-8")) == schema("flight-after")


def test_every_group_and_every_look_has_its_words() -> None:
    assert list(GROUPS) == list(ORDER)
    assert set(TITLES) == set(follow_book().looks)


@pytest.mark.parametrize("form", ["text", "markdown", "html"])
def test_it_is_printed_in_every_form(form: str) -> None:
    made = page_form(follow_page(site_plan(None, more=STAND), Units(), "quiet-bend.yaml"), form)
    assert isinstance(made, str)
    for words in ("160 ft", "Emamectin", "creek bottom", "quiet-bend.yaml"):
        assert words in made


def test_no_line_is_wider_than_a_page() -> None:
    for on in (AUTUMN, SUMMER):
        page = text(site_plan(None, on, trees=(*TREES, *NEIGHBOURS), more=STAND))
        assert max(map(len, page.splitlines())) <= 80
