"""Whole plans of invented sites: they hold, they do not depend on how the site is written, and more is never worse."""

import re
from dataclasses import replace
from datetime import date, timedelta

import pytest
from made_sites import ON, planned, shape, site_text

from barkwright.plan import Plan, plan_flight
from barkwright.schedule.best import best_plan
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.verify import verify
from barkwright.season import flight as flights

TIGHT = "[sat]"
LATE = "2027-04-20"


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize(
    ("days", "start"), [("[mon, tue, wed, thu, fri]", "2026-10-26"), (TIGHT, "2026-10-26"), (TIGHT, LATE)]
)
def test_every_plan_passes_the_checker(seed: int, days: str, start: str) -> None:
    plan = planned(site_text(seed, 6, days=days, start=start))
    assert plan.broken == ()
    assert plan.schedule.jobs


@pytest.mark.slow
def test_a_late_start_leaves_trees_standing_and_says_what_would_save_them() -> None:
    plan = planned(site_text(3, 14, days=TIGHT, start="2027-05-15"))
    assert plan.broken == ()
    left = plan.schedule.unmet
    assert left
    assert sum(one.infested_ft2 for one in left) == pytest.approx(plan.schedule.infested_left_ft2)
    felled = {job.tree for job in plan.schedule.jobs if job.work == "fell"}
    standing = {tree.id for tree in plan.inventory.trees if tree.status == "standing"}
    logs = {piece.id for tree in plan.work.trees for piece in tree.stem.pieces if piece.kind == "log"}
    assert not [name for one in left if one.tree in felled & standing for name in one.pieces if name in logs]
    assert all(one.why.endswith(".") and one.change.endswith(".") for one in left)


@pytest.mark.parametrize(
    "seed", [pytest.param(0, marks=pytest.mark.slow), 1, pytest.param(2, marks=pytest.mark.slow), 3, 4]
)
def test_trees_in_another_order_make_the_same_plan(seed: int) -> None:
    assert shape(planned(site_text(seed, 9))) == shape(planned(site_text(seed, 9, shuffled=True)))


def test_a_count_is_the_same_as_that_many_entries() -> None:
    text = site_text(5, 3)
    line = next(line for line in text.splitlines() if "id: T2," in line)
    entries = "\n".join(line.replace("id: T2,", f"id: {name},") for name in ("T2a", "T2b", "T2c"))
    counted = line.replace("id: T2,", "id: T2, count: 3,")
    assert shape(planned(text.replace(line, entries))) == shape(planned(text.replace(line, counted)))


def test_centimetres_and_inches_make_the_same_plan() -> None:
    text = site_text(6, 6).replace("15 in", "38.1 cm").replace("nearest_live_spruce: 80", "nearest_live_spruce: 80 ft")
    text = text.replace("elevation: 2400", "elevation: 2400 ft")
    metric = re.sub(r"dbh: ([\d.]+)", lambda m: f"dbh: {float(m[1]) * 2.54!r} cm", text)
    metric = re.sub(r"height: ([\d.]+)", lambda m: f"height: {float(m[1]) * 0.3048!r} m", metric)
    assert shape(planned(text)) == shape(planned(metric))


def test_a_metric_file_makes_the_plan_of_the_imperial_one() -> None:
    text = site_text(6, 5, more="cutting: {stump_height: 0.5, log_length: 8, fuel_length: 16, treat_over: 5}")
    metric = text.replace("units: imperial", "units: metric")
    feet = ("elevation", "nearest_live_spruce", "height", "stump_height", "log_length")
    inches = ("fuel_length", "treat_over", "dbh")
    for key, size in [*((key, 0.3048) for key in feet), *((key, 2.54) for key in inches)]:
        metric = re.sub(rf"\b{key}: ([\d.]+)", lambda m, k=key, by=size: f"{k}: {float(m[1]) * by!r}", metric)
    assert shape(planned(text)) == shape(planned(metric))


SEEDS = [0, 2, *(pytest.param(seed, marks=pytest.mark.slow) for seed in (1, *range(3, 23)))]


def size(seed: int) -> int:
    """Trees of a metamorphic site: 1 to 12."""
    return 1 + (seed * 5 + 4) % 12


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("start", ["2027-03-20", LATE])
def test_more_hands_never_leave_more_infested_bark(seed: int, start: str) -> None:
    left = [
        planned(site_text(seed, size(seed), people, days=TIGHT, start=start)).schedule.infested_left_ft2
        for people in (1, 2, 3)
    ]
    assert left == sorted(left, reverse=True)


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("start", ["2027-03-20", LATE])
def test_one_more_machine_never_leaves_more_infested_bark(seed: int, start: str) -> None:
    none = planned(site_text(seed, size(seed), days=TIGHT, start=start, hired=False)).schedule.infested_left_ft2
    one = planned(site_text(seed, size(seed), days=TIGHT, start=start)).schedule.infested_left_ft2
    two = planned(site_text(seed, size(seed), days=TIGHT, start=start, chippers=2)).schedule.infested_left_ft2
    assert two <= one + 1e-6
    assert one <= none + 1e-6


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("start", ["2027-03-20", LATE])
def test_a_later_onset_never_leaves_more_infested_bark(seed: int, start: str, monkeypatch: pytest.MonkeyPatch) -> None:
    text = site_text(seed, size(seed), days=TIGHT, start=start)
    left = []
    real = flights.day_of
    for later in (0, 5, 14):
        monkeypatch.setattr(flights, "day_of", lambda text, year, by=later: real(text, year) + timedelta(days=by))
        flights.flight_year.cache_clear()
        left.append(planned(text).schedule.infested_left_ft2)
    monkeypatch.undo()
    flights.flight_year.cache_clear()
    assert left == sorted(left, reverse=True)


def test_the_budget_is_hard_and_what_it_does_not_reach_is_said() -> None:
    free = planned(site_text(4, 6))
    paid = sum(line.amount for line in free.schedule.costs if line.paid)
    short = planned(site_text(4, 6, more=f"limits: {{budget: {int(paid * 2 / 3)}}}"))
    assert short.broken == ()
    assert sum(line.amount for line in short.schedule.costs if line.paid) <= int(paid * 2 / 3)
    assert any("budget" in one.why for one in short.schedule.unmet)


def test_the_site_takes_no_more_chips_than_it_said() -> None:
    text = site_text(11, 7)
    assert chips(planned(text)) > 3
    limited = planned(text + "limits: {chips_site_takes: 3 yd3}\n")
    assert limited.broken == ()
    assert chips(limited) <= 3
    assert limited.schedule.infested_left_ft2 == 0  # other ways take their place


def chips(plan: Plan) -> float:
    """Loose chips that the plan leaves on the site [yd3]."""
    chosen = {choice.piece: choice.way for choice in plan.schedule.choices}
    return sum(
        plan.work.yields(tree.tree, piece, way).chips_yd3
        for tree in plan.work.trees
        for piece, _, ways in tree.pieces()
        for way in ways
        if way.id == chosen[piece.id] and way.then == "chips"
    )


def test_the_same_site_makes_the_same_plan_twice() -> None:
    first, second = (planned(site_text(7, 8)).schedule for _ in range(2))
    assert first == second


def test_a_site_without_hands_leaves_everything_and_says_so() -> None:
    text = re.sub(r"crew: .*\n.*\n", "", site_text(1, 3))
    plan = planned(text)
    assert plan.broken == ()
    assert plan.schedule.infested_left_ft2 == pytest.approx(plan.schedule.infested_before_ft2)


def _again(work: SiteWork) -> Schedule:
    return best_plan(replace(work, trees=work.trees))


def test_planning_does_not_depend_on_what_was_planned_before() -> None:
    plan = planned(site_text(9, 5))
    assert _again(plan.work) == plan.schedule
    assert verify(plan.schedule, plan.work) == ()
    assert plan_flight(plan.inventory, ON).horizon == plan.flight.horizon


def test_any_number_of_hired_machines_can_be_planned_with() -> None:
    hired = ("splitter", "log-arch", "skid-steer", "excavator", "winch")
    lines = "".join(f"\n  - {{kind: {kind}, rent_per_day: 200}}" for kind in hired)
    text = site_text(1, 2)
    start = text.index("\ncalendar:")
    plan = planned(text[:start] + lines + text[start:])
    assert plan.broken == ()
    assert plan.schedule.jobs


@pytest.mark.parametrize("seed", range(3))
def test_what_is_to_be_avoided_is_done_only_where_nothing_else_stops_the_brood(seed: int) -> None:
    avoided = {"debark", "burn"}
    text = site_text(seed, 4)
    plan, free = planned(text + "wishes: {avoid: [debark, burn]}\n"), planned(text)
    assert plan.broken == ()
    assert plan.schedule.infested_left_ft2 == 0
    against = []
    for choice in plan.schedule.choices:
        ways = {way.id: way for way in plan.ways[choice.piece]}
        liked = any(
            way.method not in avoided
            and window.verdict != "ruled out"
            and window.end == "done"
            and window.first < plan.flights[0].onset
            for way in ways.values()
            for window in way.windows
        )
        if choice.way and liked and ways[choice.way].method in avoided:
            against.append(choice.piece)
    assert against == []
    methods = {way.id: way.method for ways in free.ways.values() for way in ways}
    done = {methods[choice.way] for choice in free.schedule.choices if choice.way}
    assert done & avoided  # it would be cheaper


def test_every_piece_says_why_it_is_treated_so_or_not_at_all() -> None:
    dead = "{butt: 12, top: 11, length: 8}"
    more = (
        f"  - {{id: L1, species: white, status: logs, felled_on: 2022-10-01, attacked: 2019, logs: [{dead}]}}\n"
        "  - {id: S1, species: white, status: stump, felled_on: 2022-10-01, attacked: 2019, diameter: 12, height: 1}\n"
        "  - {id: G1, species: white, dbh: 12, height: 60, attacked: never}\n"
    )
    plan = planned(site_text(4, 2).replace("crew:", more + "crew:", 1))
    whys = {choice.piece: choice.why for choice in plan.schedule.choices}
    assert {"L1/1", "S1/stump", "G1/1", "T1/1"} <= set(whys)
    assert all(why is not None and why.endswith(".") for why in whys.values())
    assert "No brood is expected" in whys["L1/1"]
    assert "No brood is expected" in whys["S1/stump"]


@pytest.mark.parametrize(("on", "begun"), [(date(2027, 5, 20), False), (date(2027, 5, 21), True)])
def test_on_the_first_day_of_the_flight_it_is_too_late_and_the_order_says_so(on: date, begun: bool) -> None:
    """On the Interior Plateau beetles fly from 21 May on (bc-guide)."""
    plan = planned(site_text(4, 2, people=2, start=on.isoformat()), on)
    whys = [one.why for one in plan.schedule.unmet]
    assert ("Its flight begins before any work can." in whys) is begun


def test_a_green_tree_that_is_to_come_down_and_cannot_be_dealt_with_says_that_it_stays() -> None:
    out = "{line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}"
    row = f"  - {{id: G2, species: white, dbh: 12, attacked: never, removal: {{by: fell, hours: 3}}, near: {out}}}\n"
    text = site_text(4, 1, hired=False).replace("crew:", row + "crew:", 1).replace("permit: held", "permit: refused")
    text = "\n".join(line for line in text.split("\n") if "drawknife" not in line and "maul" not in line)
    plan = planned(text.replace("diggable: true, services_located: true", "diggable: false"))
    why = next(choice.why for choice in plan.schedule.choices if choice.piece == "G2/1")
    assert why.startswith("It stays standing, green as it is")
