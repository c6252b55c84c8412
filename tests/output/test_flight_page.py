"""The flight page: each fact on it, that its strip stands in columns, and that odd places and days make sense."""

from __future__ import annotations

import re
from datetime import date, timedelta
from itertools import zip_longest
from unittest.mock import patch

import jsonschema
import made_weather
import pytest
from flight_site import ON, TREES, inventory_of, page, site_plan, weather, with_weather
from hypothesis import given, settings
from hypothesis import strategies as st

from barkwright.output import schema as schemas
from barkwright.output.flight import flight_result, to_beat
from barkwright.output.flight_dates import chain
from barkwright.output.flight_left import days_left
from barkwright.output.flight_season import LABEL, LETTERS, strip_columns
from barkwright.output.measures import Units
from barkwright.output.order import order_text
from barkwright.output.why import why_text
from barkwright.output.words import MONTHS, day
from barkwright.plan import plan_order, plan_ways
from barkwright.season.emergence import one_year_parents, warm_days_until
from barkwright.season.flight import beside, finish_by, flight_year
from barkwright.season.springs import years_read
from barkwright.season.station import weather_of
from barkwright.season.strip import Mark, Strip, Week, strip_of
from barkwright.season.weatherfiles.reading import Reading
from barkwright.units import half_up


def section(text: str, heading: str) -> str:
    found = re.search(rf"^{heading.upper()} =+\n(.*?)(?=^[A-Z][A-Z ,]+ =+$|\Z)", text, re.MULTILINE | re.DOTALL)
    return found[1] if found else ""


def flat(text: str) -> str:
    return " ".join(text.split())


FIRST = "By when, why, and how sure"


LYING = (
    "{id: D1, species: white, status: windthrown, down_since: 2030-04-01, dbh: 14, height: 60, attacked: 2030, "
    "stood_at_attack: false, bark: {left_percent: 100, condition: tight}, "
    "found: {stages: [larvae], looked: [top, bottom], insect: spruce-beetle, seen: 2030-10-20}}"
)


def test_wood_that_lies_is_due_before_the_flight_that_it_would_draw() -> None:
    plan = site_plan(weather(), trees=(LYING, TREES[0]))
    coming, own = plan.flights
    told = flat(section(page(plan), FIRST))
    last = coming.onset - timedelta(days=1)
    assert f"Be done by {day(last)} with D1, because it lies with the bark on and the flight of 2031" in told
    assert "larvae are likely in it, which fly in 2032" in told
    assert f"Be done by {day(finish_by(own))} with T1" in told
    assert told.index("with D1") < told.index("with T1")
    dry = LYING.replace("condition: tight", "condition: dried")
    assert f"Be done by {day(finish_by(own))} with D1" in flat(section(page(site_plan(weather(), trees=(dry,))), FIRST))


def test_a_green_tree_that_is_to_be_taken_down_is_not_called_wood_on_the_ground() -> None:
    green = TREES[3].replace("attacked: never", "attacked: never, removal: {by: dismantle, hours: 5}")
    told = flat(section(page(site_plan(weather(), trees=(green,))), FIRST))
    assert "with T4, because felled green wood draws beetles and the first beetles fly" in told
    assert "may not have to come down" not in told
    assert "on the ground" not in told


def test_a_sentence_says_by_when_why_and_how_sure() -> None:
    plan = site_plan(weather(), more=", elevation: 2300")
    coming, next_one = plan.flights
    told = flat(section(page(plan), FIRST))
    assert f"Be done by {day(finish_by(coming))} with T3, because grown beetles are likely in it" in told
    assert f"the first beetles fly about {day(coming.onset)}; this is fairly sure." in told
    assert f"Be done by {day(finish_by(next_one))} with T1, T2, because larvae are likely in them" in told
    assert f"the first beetles fly about {day(next_one.onset)}; this is well founded." in told
    assert "Nothing is due for T4: no beetles are expected in it" in told
    assert told.index("with T3") < told.index("with T1, T2") < told.index("Nothing is due")
    assert "Why: Attacked in 2029: nobody has looked" in told
    assert "How sure: what lives there is fairly sure, the dates are well founded." in told
    assert "they rest on 12 years of daily weather of Testing Knoll" in told


@pytest.mark.parametrize(
    ("on", "words"),
    [
        (date(2031, 5, 7), "Be done by Wed 7 May 2031 with T3, because"),
        (date(2031, 5, 8), "Be done at once with T3: Wed 7 May 2031 is past,"),
        (date(2031, 5, 20), "Be done at once with T3: Wed 7 May 2031 is past,"),
        (date(2031, 5, 21), "Do T3 now: grown beetles are likely in it, the first beetles flew about Wed 21 May 2031"),
        (date(2031, 6, 14), "until half are out, about Sun 15 Jun 2031, work still stops the rest"),
        (date(2031, 6, 15), "Late for T3: grown beetles are likely in it, and half of the beetles were out about"),
        (date(2031, 7, 10), "work stops only the rest, until about Thu 10 Jul 2031"),
    ],
)
def test_the_sentence_keeps_up_with_the_flight(on: date, words: str) -> None:
    told = flat(section(page(site_plan(None, on=on, trees=TREES[2:3])), FIRST))
    assert words in told


def test_pieces_of_one_tree_may_have_different_days() -> None:
    lower = TREES[0].replace(", upper", "")
    plan = site_plan(weather(), trees=(lower,))
    found = {piece.flight_to_beat for piece in plan.broods[0].pieces if piece.flight_to_beat}
    assert found == {2031, 2032}
    told = flat(section(page(plan), FIRST))
    assert re.search(r"with T1 \(logs [\d-]+\), because", told)
    assert re.search(r"with T1 \(log 1 and stump\), because", told)


def test_wood_that_only_draws_beetles_is_due_too() -> None:
    down = "{id: W1, species: white, status: windthrown, dbh: 14, height: 60, attacked: never, down_since: 2030-10-04}"
    told = flat(section(page(site_plan(None, trees=(down,))), FIRST))
    assert "with W1, because beetles take green wood on the ground first and the first beetles fly" in told
    assert "Green spruce on the ground holds no beetles yet" in told


def test_a_tree_that_may_stay_is_named() -> None:
    strip = TREES[2].replace("attacked: 2029", "attacked: 2029, attack: strip")
    assert "T3 may not have to come down at all" in flat(section(page(site_plan(None, trees=(strip,))), FIRST))
    assert "may not have to come down" not in page(site_plan(None, trees=TREES[2:3]))


def test_every_caution_stands_with_its_days_and_they_add_up() -> None:
    plan = site_plan(weather())
    coming = plan.flights[0]
    card = page(plan).split(f"How the day of {coming.year} is reckoned")[1].split("\n\n")[0]
    told = flat(card)
    start = finish_by(coming) + timedelta(days=sum(caution.days for caution in coming.cautions))
    assert len(coming.cautions) == 3
    rows = chain(plan.season, coming, Units()).rows
    assert rows[0] == ("Half of the beetles are out, in the middle one of 12 years", "", day(start))
    assert day(start) in told
    costs = [int(found) for found in re.findall(r"  (-\d+|0)  \w{3} \d", card)]
    assert costs == [-caution.days for caution in coming.cautions]
    assert f"So be done by {day(finish_by(coming))}" in told
    assert "an early year (one in 10)".capitalize() in told


def test_the_other_rule_stands_beside_with_the_days_between() -> None:
    plan = site_plan(weather())
    coming = plan.flights[0]
    other = beside(plan.season, coming.year)
    assert other is not None
    apart = (finish_by(other) - finish_by(coming)).days
    assert apart != 0
    way = "later" if apart > 0 else "earlier"
    told = flat(section(page(plan), "When beetles fly here"))
    assert f"be done by {day(finish_by(other))}, {abs(apart)} days {way}." in told
    assert f"says {day(finish_by(other))}, {abs(apart)} days {way}." in flat(section(page(plan), FIRST))
    assert "other rule" not in page(site_plan(None))


@pytest.mark.parametrize(
    ("days", "more", "words"),
    [
        (weather(), "", "because 12 years on record can date a flight and 3 are enough"),
        (weather(), ", flight_dates: calendar", "because the site says flight_dates: calendar"),
        (weather(2029), ", flight_dates: weather", "because the site says flight_dates: weather"),
        (weather(2029), "", "because only 1 year on record can date a flight"),
        (weather(2030), "", "because no year on record can date a flight"),
        (None, "", "because the site names no daily weather"),
    ],
)
def test_it_says_which_rule_and_why(days, more: str, words: str) -> None:  # type: ignore[no-untyped-def]
    assert words in flat(section(page(site_plan(days, more=more)), "When beetles fly here"))


def test_each_year_on_record_has_its_line() -> None:
    plan = site_plan(weather())
    assert plan.season.weather is not None
    table = section(page(plan), "The years on record")
    read = years_read(plan.season.weather, ON)
    dated = [year for year in read if year.spring is not None and not year.left_out]
    assert len(dated) == 12
    for year in dated:
        spring = year.spring
        assert spring is not None
        days = [spring.fifth_day, spring.onset, spring.median, spring.end]
        shown = [f"{one.day} {MONTHS[one.month - 1]}" for one in days if one is not None]
        row = next(line for line in table.splitlines() if line.startswith(str(year.year)))
        parents = f"{half_up(100 * one_year_parents(spring.prior_warm_days))}"
        assert row.split()[1:5] == [str(spring.prior_warm_days), parents, "%", str(spring.needed)]
        assert " ".join(row.split()[5:13]) == " ".join(shown)
        assert row.endswith(" %")
    assert "2018 is left out: the model needs the year before" in flat(table)
    assert section(page(site_plan(None)), "The years on record") == ""


def test_a_summer_that_is_not_over_gives_no_one_year_brood() -> None:
    days = {one: read for one, read in weather().items() if one < date(2030, 8, 15)}
    table = section(page(site_plan(days)), "The years on record")
    rows = {line[:4]: line.split()[-1] for line in table.splitlines() if re.match(r"20\d\d +\d", line)}
    assert rows["2030"] == "-"
    assert rows["2029"] == "%"


def test_a_warm_day_is_said_in_both_units_and_no_word_of_the_trade_is_used() -> None:
    for metric in (False, True):
        text = page(site_plan(weather()), metric)
        assert "15 C (59 F)" in section(text, "The season, week by week")
        assert not re.search("model run|quantile|threshold", text)


def test_without_weather_the_strip_has_dates_only_and_says_what_would_help() -> None:
    text = page(site_plan(None))
    strip = section(text, "The season, week by week")
    assert "Warm days" not in strip
    assert "Years flying" not in strip
    assert "Dates" in strip
    assert "with its daily files under weather: in the site" in flat(section(text, "What to look at to know better"))


def test_what_to_look_at_names_the_open_questions() -> None:
    told = flat(section(page(site_plan(None)), "What to look at to know better"))
    assert "Under the bark: question 1 above." in told
    assert "Under the bark" not in page(site_plan(None, trees=TREES[:1]))


def test_the_station_is_named_with_its_distance_and_height() -> None:
    text = flat(section(page(site_plan(weather(), more=", elevation: 3000")), "What this rests on"))
    assert "Weather: Testing Knoll, close to the site and 703 ft below it; made up" in text
    assert "214.4 m below it" in flat(page(site_plan(weather(), more=", elevation: 3000"), metric=True))


def weekend_days(first: date, last: date) -> int:
    return sum((first + timedelta(days=number)).weekday() >= 5 for number in range((last - first).days + 1))


def test_the_working_days_left_stand_every_fourth_week() -> None:
    plan = site_plan(weather())
    first, second = (finish_by(flight) for flight in plan.flights)
    left = days_left(plan, to_beat(plan))
    assert left[date(2030, 10, 28)] == weekend_days(ON, first)
    assert left[date(2031, 4, 28)] == weekend_days(date(2031, 4, 28), first)
    after = first + timedelta(days=7 - first.weekday())
    assert left[after] == weekend_days(after, second)
    assert max(left) <= second
    strip = strip_of(plan.season, plan.flights, to_beat(plan))
    parts = strip_columns(strip, left)
    size = -(-len(strip.weeks) // len(parts))
    for number, part in enumerate(parts):
        weeks = strip.weeks[number * size :]
        row = next(line for line in part.lines if line.startswith("Days left"))
        shown = {found.start() - LABEL: int(found[0]) for found in re.finditer(r"\d+", row)}
        assert list(shown) == [column for column in range(0, min(size, len(weeks)), 4) if weeks[column].first in left]
        assert all(days == left[weeks[column].first] for column, days in shown.items())
    assert flight_result(plan)["strip"][0]["working_days_left"] == weekend_days(ON, first)


def test_without_a_crew_or_a_date_no_days_are_left() -> None:
    assert "Days left" in page(site_plan(None))
    assert "Days left" not in page(site_plan(None, trees=TREES[3:]))
    assert "Days left" not in page(site_plan(None, crew=""))


def columns(strip: Strip) -> tuple[list[tuple[int, str]], list[str]]:
    """The months with the week over which each stands, and the lines of letters, the parts put together again."""
    parts = strip_columns(strip, {})
    size = -(-len(strip.weeks) // len(parts))
    months: list[tuple[int, str]] = []
    letters = ["", "", "", ""]  # as deep as four dates in one week
    for number, part in enumerate(parts):
        lines = [line for line in part.lines if line]
        months += [
            (number * size + found.start() - LABEL, found[0]) for found in re.finditer("[A-Z][a-z]{2}", lines[1])
        ]
        at = next(at for at, line in enumerate(lines) if line.startswith("Dates"))
        shown = [line[LABEL:] for line in lines[at:]]
        letters = [line.ljust(number * size) + more for line, more in zip_longest(letters, shown, fillvalue="")]
    return months, letters


def test_a_short_strip_names_its_months() -> None:
    lines = page(site_plan(None, on=date(2031, 6, 9), trees=TREES[2:3])).splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("THE SEASON"))
    assert lines[at + 1 : at + 4] == ["              2031", "                 Jul", "Dates         H---O"]


@settings(max_examples=30)
@given(st.dates(date(2030, 11, 1), date(2032, 12, 31)), st.sampled_from([None, "some", "this"]), st.integers(0, 2))
def test_each_letter_stands_in_the_column_of_its_week(on: date, record: str | None, ahead: int) -> None:
    days = None if record is None else weather()
    if days is not None and record == "this":
        days |= {one: read for one, read in weather(2031, 2032).items() if one <= on}
    plan = site_plan(days, on=on)
    flights = [flight_year(plan.season, plan.flights[0].year + number) for number in range(ahead + 1)]
    strip = strip_of(plan.season, flights, {flight.year for flight in flights})
    months, letters = columns(strip)
    first = strip.weeks[0].first
    starts_early = first + timedelta(days=6) < on
    wanted: dict[int, list[str]] = {}
    for flight in flights:
        for what, when in (("D", finish_by(flight)), ("F", flight.onset), ("H", flight.half), ("O", flight.end)):
            if first <= when < strip.weeks[-1].first + timedelta(days=7):
                wanted.setdefault((when - first).days // 7, []).append(what)
    if starts_early:
        wanted.setdefault((on - first).days // 7, []).append("N")
    for column in range(len(strip.weeks)):
        shown = sorted(line[column] for line in letters if column < len(line) and line[column] in LETTERS.values())
        assert shown == sorted(wanted.get(column, []))
    assert months
    for column, name in months:
        week = strip.weeks[column].first
        assert name in {MONTHS[(week + timedelta(days=number)).month - 1] for number in (0, 6)}


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize(
    ("days", "on"),
    [
        (weather(), ON),
        (weather(), date(2030, 12, 31)),
        (weather(2018, 2031), date(2031, 5, 12)),
        (weather(2018, 2031), date(2031, 8, 20)),
        (None, date(2032, 2, 29)),
        (weather(2029), date(2032, 2, 29)),
    ],
)
def test_it_fits_the_paper(days, on: date, metric: bool) -> None:  # type: ignore[no-untyped-def]
    text = page(site_plan(days, on=on), metric)
    assert max(map(len, text.splitlines())) <= 80
    assert text.isascii()
    assert not any(line != line.rstrip() for line in text.splitlines())


@pytest.mark.parametrize("month", [6, 12])
def test_the_far_north_has_sensible_words(month: int) -> None:
    plan = site_plan(None, on=date(2031, month, 21), where="latitude: 68.3, longitude: -133.7")
    told = flat(page(plan))
    assert "The dates are not sure: they are those of a calendar that is from memory" in told


def test_mid_season_this_years_days_stand_on_the_strip() -> None:
    plan = site_plan(weather(2018, 2031), on=date(2031, 5, 30))
    strip = section(page(plan), "The season, week by week")
    assert re.search(r"^This year     [.\d ]+$", strip, re.MULTILINE)
    assert "N now" in strip
    starts = chain(plan.season, plan.flights[0], Units()).rows[0][0]
    assert starts == "Half of the beetles are out, if this year goes on as the middle one of 12 years did"
    assert "This year" not in section(page(site_plan(weather())), "The season, week by week")


@pytest.mark.parametrize("days", [weather(), weather(2018, 2031), None])
def test_the_data_have_the_shape_of_the_schema_and_say_the_same(days) -> None:  # type: ignore[no-untyped-def]
    plan = site_plan(days)
    result = flight_result(plan)
    whole = {
        "format": 1,
        "program": {"name": "barkwright", "version": "0"},
        "command": "flight",
        "on": ON.isoformat(),
        "diagnostics": [],
        "result": result,
    }
    jsonschema.validate(whole, schemas.schema("flight"))
    for record, flight in zip(result["flight"], plan.flights, strict=True):
        assert record["rule"] == ("weather" if days else "calendar")
        assert [caution["days"] for caution in record["cautions"]] == [caution.days for caution in flight.cautions]
        assert (record["beside"] is None) == (days is None)
    assert (result["station"] is None) == (days is None)
    assert bool(result["years"]) == (days is not None)
    dates = [mark for week in result["strip"] for mark in week["dates"]]
    assert {mark["flight"] for mark in dates if mark["what"] == "finish by"} == to_beat(plan)


def test_beside_holds_the_dates_of_the_other_rule() -> None:
    plan = site_plan(weather())
    other = beside(plan.season, plan.flights[0].year)
    record = flight_result(plan)["flight"][0]["beside"]
    assert other is not None
    assert record is not None
    assert (record["rule"], record["onset"]) == ("calendar", "2031-05-21")
    assert (record["finish_by"], record["margin_days"]) == ("2031-05-07", 14)


def test_the_order_names_the_other_rule_beside_its_own() -> None:
    with with_weather(weather()):
        plan = plan_order(inventory_of(), ON)
        text = flat(section(order_text(plan, Units(), "quiet-bend.yaml"), "What this rests on"))
    other = beside(plan.season, plan.flights[0].year)
    assert other is not None
    assert f"Beside that, the regional calendar says {day(finish_by(other))}" in text
    assert text.count("Beside that") == 1
    assert "Beside that" not in order_text(plan_order(inventory_of(), ON), Units(), "quiet-bend.yaml")


def test_why_prints_what_each_caution_costs() -> None:
    with with_weather(weather()):
        text = why_text(plan_ways(inventory_of(), ON), "T3/1", Units(), "quiet-bend.yaml")
    told = section(text, "What lives in it")
    coming = site_plan(weather()).flights[0]
    costs = [int(found) for found in re.findall(r"  (-\d+|0)  \w{3} \d", told)]
    assert costs == [-caution.days for caution in coming.cautions]
    assert "The regional calendar has the first beetles of 2031" in flat(told)


def test_a_far_station_is_given_in_the_readers_units() -> None:
    site = inventory_of(where="latitude: 55, longitude: -122").site.model_copy(update={"weather": ("x.csv",)})
    read = patch("barkwright.season.station.read_weather", lambda *_: Reading(made_weather.of(weather(2029)), ()))
    with read:
        _, notes = weather_of(site)
    (far,) = [note.message for note in notes if "from the site" in note.message]
    assert "69 miles" in far
    assert "111 km" in Units(metric=True).sentence(far)


def made(*weeks: Week, years: int = 0, before: bool = False) -> list[str]:
    """The lines of a strip of made-up weeks."""
    return list(strip_columns(Strip(weeks, years, before), {})[0].lines)


def week(number: int, warm: float | None = None, flying: int | None = None, *marks: Mark) -> Week:
    return Week(date(2031, 3, 3) + timedelta(days=7 * number), warm, None, flying, marks)


def test_warm_days_are_rounded_half_up_and_what_is_not_known_is_asked() -> None:
    values = (0.0, 0.49, 0.5, 1.5, 2.4, 6.5, 7.0, None)
    lines = made(*(week(number, value) for number, value in enumerate(values)))
    assert "Warm days     ..12277?" in lines


@pytest.mark.parametrize(
    ("years", "counts", "shown"),
    [
        (9, (0, 1, 8, 9), ".18*"),
        (3, (0, 1, 2, 3), ".12*"),
        (10, (0, 1, 5, 9, 10), ".159*"),
        (14, (0, 1, 7, 13, 14), ".159*"),
        (40, (0, 1, 2, 22, 39, 40), ".1169*"),  # 0.25 and 0.5 of a tenth are shown as one
    ],
)
def test_years_flying_are_counted_or_shown_in_tenths(years: int, counts: tuple[int, ...], shown: str) -> None:
    lines = made(*(week(number, 0.0, count) for number, count in enumerate(counts)), years=years)
    assert f"Years flying  {shown}" in lines


def test_dashes_run_from_the_first_beetles_to_the_end_and_letters_of_one_week_stand_below_each_other() -> None:
    marks = (("finish by", 0), ("first beetles", 0), ("half out", 2), ("over", 4))
    days = [(what, number, date(2031, 3, 4) + timedelta(days=7 * number)) for what, number in marks]
    held = {number: tuple(Mark(what, day, 2031) for what, at, day in days if at == number) for number in range(6)}  # type: ignore[arg-type]
    now = Mark("now", date(2031, 3, 3), None)
    weeks = [week(number, None, None, *((now,) if number == 0 else ()), *held[number]) for number in range(6)]
    lines = made(*weeks)
    at = lines.index("Dates         D-H-O")
    assert lines[at + 1] == "              F"
    tail = made(week(0, None, None, now), *weeks[1:], before=True)
    assert "Dates         --H-O" in tail


def test_what_is_said_of_the_warm_days_needed_is_what_the_table_shows() -> None:
    cool, warm = (warm_days_until(0.5, one_year_parents(days)) for days in (60, 200))
    assert cool < warm  # the published half emergence: 13 and 27 warm days
    assert "the more warm days are needed until half of them are out" in flat(page(site_plan(weather())))
