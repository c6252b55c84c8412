"""The season as a picture: every day at its place on one scale."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest
from made_up import ON, SAT, plan
from picture_kit import EXAMPLES, ends, holds_to_the_sheet, labels, shapes, site, uprights, yard

from barkwright.inventory.model import Burning, Span
from barkwright.output.blocks import Picture
from barkwright.output.measures import Units
from barkwright.output.pictures.season import season_picture
from barkwright.output.view import View

LAST = date(2027, 8, 7)  # a week after the flight of the made-up plan ends


def drawn(made: Any) -> Picture:
    picture = season_picture(made if isinstance(made, View) else View(made, Units(), "made up"))
    assert picture is not None
    return picture


def place(on: date, last: date = LAST, first: date = ON) -> float:
    """Where a day begins on a sheet of 400 with an edge of 2, all days alike."""
    return 2 + 396 * (on - first).days / ((last - first).days + 1)


def test_the_onset_stands_at_its_day() -> None:
    heavy = uprights(drawn(plan()), heavy=True)
    assert place(date(2027, 5, 22)) in [pytest.approx(x, abs=0.01) for x in heavy]


def test_finish_by_is_the_margin_before_the_onset() -> None:
    picture = drawn(plan())
    assert place(date(2027, 5, 8)) in [pytest.approx(x, abs=0.01) for x in uprights(picture, dashed=True)]
    assert "finish by 8 May" in [label.text for label in labels(picture)]
    assert "Finish by Sat 8 May 2027." in picture.alt


def test_the_hill_reaches_from_the_onset_to_the_end_and_is_highest_at_the_half() -> None:
    hill = shapes(drawn(plan()), "cross")[0].points
    assert min(x for x, _ in hill) == pytest.approx(place(date(2027, 5, 22)), abs=0.01)
    assert max(x for x, _ in hill) == pytest.approx(place(date(2027, 7, 31)), abs=0.01)
    summit = min(hill, key=lambda point: point[1])
    step = 70 / 24 * 396 / 256  # between two points of the outline
    assert summit[0] == pytest.approx(place(date(2027, 6, 20)), abs=step)


def test_jobs_and_hires_stand_on_their_days() -> None:
    picture = drawn(plan())
    day = 396 / ((LAST - ON).days + 1)
    middle = place(SAT) + day / 2
    for fill in ("solid", "lines"):
        (bar,) = shapes(picture, fill)
        assert sum(x for x, _ in bar.points) / 4 == pytest.approx(middle, abs=0.01)
    assert any(label.text.startswith("Hired chipper, 9 in: 28 Nov") for label in labels(picture))


def test_a_week_of_work_is_drawn_seven_times_a_day() -> None:
    made = plan()
    run = replace(made.schedule.rentals[0], first=date(2027, 1, 4), last=date(2027, 1, 17))
    made.schedule = replace(made.schedule, rentals=(run,))
    (bar,) = shapes(drawn(made), "lines")
    assert bar.points[1][0] - bar.points[0][0] == pytest.approx(14 * 396 / ((LAST - ON).days + 1))


def test_free_days_are_the_crews_days() -> None:
    made = plan()  # Saturdays and Sundays
    weekends = [ON + timedelta(days=n) for n in range((LAST - ON).days + 1)]
    count = len([one for one in weekends if one.weekday() >= 5])
    picture = drawn(made)
    assert f"Days that the crew has free: {count}" in [label.text for label in labels(picture)]
    until = len([one for one in weekends if one.weekday() >= 5 and one <= date(2027, 5, 8)])
    assert f"The crew has {until} free days until 8 May 2027" in picture.alt
    assert "25 weeks until the flight of 2027" in picture.alt  # 178 days


def test_burning_windows_are_cut_to_the_picture() -> None:
    made = plan()
    windows = (Span(**{"from": date(2026, 10, 15), "to": date(2027, 3, 31)}),)
    burning = Burning(permit="unknown", windows=windows)
    made.inventory = made.inventory.model_copy(
        update={"site": made.inventory.site.model_copy(update={"burning": burning})}
    )
    picture = drawn(made)
    (bar,) = shapes(picture, "dots")
    assert bar.points[0][0] == pytest.approx(2)
    assert bar.points[1][0] == pytest.approx(place(date(2027, 4, 1)))
    assert "permit not known" in picture.alt


def test_work_that_is_due_sooner_has_its_own_line() -> None:
    picture = drawn(site(yard()))
    texts = [label.text for label in labels(picture)]
    assert "work due 20 May" in texts
    assert not any(text.startswith("finish by") for text in texts)


def test_two_flights_and_eighteen_months_stay_readable() -> None:
    picture = drawn(site(yard()))
    assert len(shapes(picture, "cross")) == 2
    months = [label for label in labels(picture) if len(label.text) == 3 and label.text.istitle()]
    assert len(months) >= 6
    rows: dict[float, list[tuple[float, float]]] = {}
    for label in labels(picture):
        rows.setdefault(label.y, []).append(ends(label))
    for row in rows.values():
        ordered = sorted(row)
        assert all(one[1] <= two[0] + 0.01 for one, two in pairwise(ordered))
    assert {"2027", "2028"} <= {label.text for label in labels(picture) if label.strong}


@pytest.mark.parametrize("name", ["yard-tree", "removal-24"])
@pytest.mark.parametrize("metric", [False, True])
def test_it_holds_to_the_sheet(name: str, metric: bool) -> None:
    holds_to_the_sheet(drawn(site((EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8"), metric)))


def test_a_flight_under_way_begins_at_the_edge() -> None:
    made = plan()
    flight = replace(
        made.flights[0], onset=ON - timedelta(days=20), half=ON - timedelta(days=2), end=ON + timedelta(days=30)
    )
    made.flights = (flight,)
    picture = drawn(made)
    assert "under way" in picture.alt
    assert min(x for x, _ in shapes(picture, "cross")[0].points) == pytest.approx(2)
    holds_to_the_sheet(picture)


def test_nothing_to_do_and_nothing_that_flies_is_no_picture() -> None:
    made = plan()
    made.schedule = replace(made.schedule, jobs=())
    made.flights = ()
    assert season_picture(View(made, Units(), "made up")) is None


def test_all_that_matters_is_told_in_words() -> None:
    picture = drawn(plan())
    for words in (
        "Treating the wood: Sat 28 Nov 2026",
        "Hired chipper, 9 in",
        "First beetles fly Sat 22 May 2027",
        "Sat 22 May - Sat 31 Jul 2027, half are out by Sun 20 Jun 2027",
    ):
        assert words in picture.alt


def test_characters_stand_in_the_order_of_time() -> None:
    lines = drawn(plan()).lines
    flight = next(line for line in lines if line.startswith("flight 2027"))
    treating = next(line for line in lines if line.startswith("treating"))
    months = lines[0]
    assert treating.index("█") < months.index("Dec") < months.index("2027") < flight.index("▁")
    assert months.index("May") <= flight.index("▁") <= months.index("Jun")
