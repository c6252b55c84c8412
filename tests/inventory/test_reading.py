import math
from datetime import date
from decimal import Decimal

import pytest

from barkwright.inventory.kinds import capacities, working_share
from barkwright.inventory.model import Inventory
from barkwright.inventory.reading import read_inventory

ON = date(2026, 11, 25)
SITE = "barkwright: 1\nsite: {{name: Reed Bend, units: {units}, latitude: 53.9, longitude: -123, {more}}}\n"

IMPERIAL = (
    SITE.format(units="imperial", more="elevation: 2350, nearest_live_spruce: 60, slope_percent: 8")
    + """
trees:
  - {id: T1, species: white, dbh: 16.5, height: 72, near: {line: 35, building: 80}}
  - {id: T2, species: white, girth: 40.7, height: 66.5, broken_at: 51}
  - {id: D1, species: white, status: logs, felled_on: 2026-10-01, logs: [
      {butt: 14.2, top: 12.9, length: 8.5},
      {butt: 5, top: 5, length: 8}]}
  - {id: S1, species: white, status: stump, diameter: 19, height: 1.2}
cutting: {stump_height: 0.5, log_length: 8, trim: 0.25, fuel_length: 16, treat_over: 5}
equipment:
  - {kind: chipper, capacity: 9, working_capacity: 7, owned: true}
  - {kind: truck, capacity: 2000, owned: true}
limits: {chips_site_takes: 6}
"""
)
METRIC = (
    SITE.format(units="metric", more="elevation: 716.28, nearest_live_spruce: 18.288, slope_percent: 8")
    + """
trees:
  - {id: T1, species: white, dbh: 41.91, height: 21.9456, near: {line: 10.668, building: 24.384}}
  - {id: T2, species: white, girth: 103.378, height: 20.2692, broken_at: 15.5448}
  - {id: D1, species: white, status: logs, felled_on: 2026-10-01, logs: [
      {butt: 36.068, top: 32.766, length: 2.5908},
      {butt: 12.7, top: 12.7, length: 2.4384}]}
  - {id: S1, species: white, status: stump, diameter: 48.26, height: 0.36576}
cutting: {stump_height: 0.1524, log_length: 2.4384, trim: 0.0762, fuel_length: 40.64, treat_over: 12.7}
equipment:
  - {kind: chipper, capacity: 22.86, working_capacity: 17.78, owned: true}
  - {kind: truck, capacity: 907.18474, owned: true}
limits: {chips_site_takes: 4.587329147904}
"""
)
MIXED = (
    SITE.format(units="metric", more="elevation: 2350 ft, nearest_live_spruce: 20 yd, slope_percent: 8%")
    + """
trees:
  - {id: T1, species: white, dbh: 16-1/2 in, height: 72', near: {line: 35 ft, building: "960 in"}}
  - {id: T2, species: white, girth: 1.03378 m, height: "66' 6\\"", broken_at: 17 yd}
  - {id: D1, species: white, status: logs, felled_on: 2026-10-01, logs: [
      {butt: 14.2 in, top: 327.66 mm, length: 8½ ft},
      {butt: 5 in, top: 127 mm, length: 8 ft}]}
  - {id: S1, species: white, status: stump, diameter: 19", height: 14.4 in}
cutting: {stump_height: 6 in, log_length: 8 ft, trim: 3 in, fuel_length: 16 in, treat_over: 5 in}
equipment:
  - {kind: chipper, capacity: 9 in, working_capacity: 7 in, owned: true}
  - {kind: truck, capacity: 1 ton, owned: true}
limits: {chips_site_takes: 162 ft3}
"""
)


def read(text: str) -> Inventory:
    inventory, found = read_inventory(text, "site.yaml", ON)
    assert [str(one) for one in found if one.severity == "error"] == []
    assert inventory is not None
    return inventory


def flat(value, at=()):
    if isinstance(value, dict):
        return {deep: one for key, inside in value.items() for deep, one in flat(inside, (*at, key)).items()}
    if isinstance(value, tuple):
        return {deep: one for n, inside in enumerate(value) for deep, one in flat(inside, (*at, n)).items()}
    return {at: value}


@pytest.mark.parametrize("other", [METRIC, MIXED], ids=["metric", "mixed"])
def test_the_same_site_in_other_units_is_the_same_inventory(other):
    one, two = flat(read(IMPERIAL).model_dump()), flat(read(other).model_dump())
    assert one.keys() == two.keys()
    for at in one.keys() - {("site", "units")}:
        if isinstance(one[at], float):
            assert math.isclose(one[at], two[at], rel_tol=0, abs_tol=1e-9), at
        else:
            assert one[at] == two[at], at


@pytest.mark.parametrize("other", [METRIC, MIXED], ids=["metric", "mixed"])
def test_what_thresholds_look_at_is_the_same_float(other):
    """Five inches are not 4.999999999 in because they were written as 12.7 cm."""
    inventory = read(other)
    assert inventory.cutting.treat_over_in == inventory.trees[2].logs[1].top_in == 5
    assert inventory.equipment[0].working_capacity == 7


def test_a_count_becomes_trees_of_their_own_and_calls_follow():
    text = SITE.format(units="imperial", more="") + (
        "trees:\n  - {id: A, species: red, dbh: 12, count: 3}\n"
        "  - {id: B, species: red, status: logs, logs: [{butt: 9, top: 8, length: 8, count: 2}]}\n"
        "calls: [{what: line off, for: [A, B], date: 2026-12-01}]\n"
    )
    inventory = read(text)
    assert [tree.id for tree in inventory.trees] == ["A.1", "A.2", "A.3", "B"]
    assert {tree.count for tree in inventory.trees} == {1}
    assert [log.count for log in inventory.trees[3].logs] == [1, 1]
    assert inventory.calls[0].trees == ("A.1", "A.2", "A.3", "B")


def test_ids_are_text_as_written_and_money_is_exact():
    text = SITE.format(units="imperial", more="") + (
        "trees: [{id: 007, species: red, dbh: 12}, {id: 7, species: red, dbh: 12}, {id: no, species: red, dbh: 12}]\n"
        "limits: {budget: 1499.10}\n"
    )
    inventory = read(text)
    assert [tree.id for tree in inventory.trees] == ["007", "7", "no"]
    assert inventory.limits.budget == Decimal("1499.1")


def test_words_stand_where_a_distance_is_not_known():
    text = SITE.format(units="imperial", more="nearest_live_spruce: none") + (
        "trees: [{id: A, species: red, dbh: 12, near: {line: out-of-reach, road: 12 m}}]\n"
    )
    inventory = read(text)
    near = inventory.trees[0].near
    assert (inventory.site.nearest_live_spruce_ft, near.line, near.building) == ("none", "out-of-reach", "not-checked")
    assert near.road == pytest.approx(12 / 0.3048, abs=1e-9)


def test_the_girth_of_a_tree_is_its_diameter_times_pi():
    assert read(IMPERIAL).trees[1].breast_height_in == pytest.approx(40.7 / math.pi, abs=1e-9)


@pytest.mark.parametrize("kind", capacities())
def test_the_capacity_of_a_kind_has_a_unit_a_range_and_a_share(kind):
    told = capacities()[kind]
    if told.capacity is not None:
        assert told.range[0] < told.range[1]
        assert 0 < working_share(kind) <= 1
        assert told.measure.expected("metric").endswith(told.metric)


@pytest.mark.parametrize("day", ["0", "00", "1764028800", "20261001", "2026-10-01T00:00", "true"])
def test_what_is_no_written_day_is_no_day(day):
    text = SITE.format(units="imperial", more="") + (
        f"trees: [{{id: A, species: red, status: felled, dbh: 12, felled_on: {day}}}]\n"
    )
    inventory, found = read_inventory(text, "site.yaml", ON)
    assert inventory is None
    assert [one.code for one in found] == ["bad-date"]


@pytest.mark.parametrize("key", ["barkwright: true\n", "barkwright: '1'\n", "barkwright: 2\n"])
def test_only_the_number_of_the_format_is_its_version(key):
    text = SITE.format(units="imperial", more="").replace("barkwright: 1\n", key)
    inventory, found = read_inventory(text + "trees: [{id: A, species: red, dbh: 12}]\n", "site.yaml", ON)
    assert inventory is None
    assert [one.code for one in found] == ["bad-version"]


def test_all_faults_are_told_at_once_in_file_order():
    text = (
        SITE.format(units="imperial", more="")
        + "trees:\n"
        + "".join(f"  - {{id: T{n}, species: oak, dbh: 900}}\n" for n in range(30))
    )
    _, found = read_inventory(text, "site.yaml", ON)
    assert [(one.code, one.where.line) for one in found] == [
        (code, 4 + n) for n in range(30) for code in ("bad-choice", "out-of-range")
    ]


@pytest.mark.parametrize(
    ("right", "wrong", "hint"),
    [
        ("people: 2", "people: two", "write 2"),
        ("people: 2", "people: 3 men", "write 3"),
        ("people: 2", "people: 2.5", "write a whole number, like 2"),
        ("people: 2", "people: many", "write a whole number, like 2"),
        ("attacked: 2026", "attacked: last year", "write a year like 2026, or unknown or never"),
        ("attacked: 2026", "attacked: '2026'", "write 2026"),
    ],
)
def test_a_count_or_a_year_is_never_asked_for_in_inches(right, wrong, hint):
    text = """\
barkwright: 1
site: {name: Reed Bend, units: imperial, latitude: 53.98, longitude: -123.02}
trees:
  - {id: T1, species: white, dbh: 14, attacked: 2026}
crew:
  - {name: us, people: 2, hours_per_day: 6}
"""
    assert right in text
    _, found = read_inventory(text.replace(right, wrong), "site.yaml", date(2026, 11, 25))
    assert [one.hint for one in found if one.severity == "error"] == [hint]
