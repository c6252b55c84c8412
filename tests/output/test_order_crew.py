"""What the crew is told: hazards, distances, what to wear, what to lift, whom to call, and where to sign."""

from __future__ import annotations

import csv
import re
from collections import Counter
from datetime import date
from pathlib import Path

import pytest

import planned_sites
from barkwright.output.advice import all_advice
from barkwright.output.crew_json import briefing_record
from barkwright.output.hazards import hazards_of, known_hazards
from barkwright.output.measures import Units
from barkwright.output.order import order_text
from barkwright.output.order_briefing import topics_of
from barkwright.output.order_json import order_result
from barkwright.output.order_signoff import to_sign
from barkwright.output.protection import book
from barkwright.output.view import View
from barkwright.plan import Plan
from barkwright.sources import cite
from barkwright.treatment.lifting import log_pickup_limit_lb

ROOT = Path(__file__).parents[2]
ON = date(2026, 11, 25)
SITES = (
    "examples/yard-tree", "examples/removal-24", "examples/woodlot-60",
    "tests/inventories/good/heron-lake", "tests/inventories/good/metric", "tests/inventories/good/bare",
)  # fmt: skip
TABLE = {
    row["id"]: row
    for row in csv.DictReader(
        line
        for line in (ROOT / "shared/published/osha-rules.csv").read_text(encoding="utf-8").splitlines()
        if not line.startswith("#")
    )
}
RULES = [
    *((name, rule.paragraph, rule.known, rule.letter, rule.row, rule.sources) for name, rule in book().rules.items()),
    *((name, one.paragraph, one.known, None, one.row, one.sources) for name, one in book().worn.items()),
]
HAZARD_TREE = """
barkwright: 1
site: {{name: Quiet Bend, units: imperial, latitude: 53.1, longitude: -122.4, region: interior-plateau}}
trees:
  - id: T1
    species: white
    status: {status}
    dbh: 16
    height: 72
    attacked: 2026
    hazards: [{hazards}]
    near: {{line: {line}, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}}
    {more}
crew:
  - {{name: we, people: 2, hours_per_day: 6, days: [sat, sun], skills: [saw, felling], unpaid: true}}
equipment:
  - {{kind: chain-saw, owned: true}}
  - {{kind: drawknife, owned: true}}
"""


def planned(text: str) -> Plan:
    return planned_sites.planned(text, ON)


def example(name: str) -> Plan:
    return planned((ROOT / f"{name}.yaml").read_text(encoding="utf-8"))


def view(name: str, units: Units | None = None) -> View:
    return View(example(name), units or Units(), "site.yaml")


def one_tree(hazards: str = "", line: str = "out-of-reach", status: str = "standing", more: str = "") -> Plan:
    return planned(HAZARD_TREE.format(hazards=hazards, line=line, status=status, more=more))


def text_of(plan: Plan, units: Units | None = None) -> str:
    """The order with its lines run together, so that a sentence can be looked for."""
    return re.sub(r"\s+", " ", order_text(plan, units or Units(), "site.yaml"))


# ---- rules and their paragraphs -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "paragraph", "known", "letter", "row", "sources"), RULES, ids=[f"{one[0]}-{one[4]}" for one in RULES]
)
def test_each_paragraph_and_how_it_is_known_are_those_of_the_table(
    name: str, paragraph: str | None, known: str | None, letter: str | None, row: str | None, sources: tuple[str, ...]
) -> None:
    assert all(cite(source).locator for source in sources)
    if row is None:
        assert not paragraph or known == "memory" or not paragraph.startswith("29 CFR"), name
        return
    assert paragraph is not None
    published = TABLE[row]
    first = paragraph.replace("29 CFR ", "").split(")-(")[0]
    assert published["paragraph"].replace("29 CFR ", "").startswith(first), (name, published["paragraph"])
    words = {"read": "READ", "secondary": "SECONDARY", "memory": "MEMORY"}
    assert known is not None
    assert published["known"].startswith(words[known])
    assert (letter == "memory") == ("letter" in published["known"]), (name, published["known"])


def test_every_federal_paragraph_of_a_caution_is_in_the_table() -> None:
    listed = " ".join(row["paragraph"] for row in TABLE.values())
    for entry in all_advice():
        for source in map(cite, entry.sources):
            if source.key == "osha1910-266" and entry.id != "stop-weather":  # (h)(1)(ii): read, and not in the table
                first = source.locator.split("-(")[0].split(",")[0]
                assert f"1910.266{first}" in listed, entry.id


def test_what_is_known_from_memory_is_marked_so_on_the_sheet() -> None:
    text = text_of(example("examples/removal-24"))
    for shown in (
        "1910.266(d)(1)(iii)** gloves, (iv) legs, (v) boots, (vi)** head, (vii) eyes",
        "1910.266(h)(1)(iv)**",
        "1910.266(h)(2)(i))",
        "1926.1408 Table A*)",
        "1910.95** ears",
    ):
        # Table cells break anywhere, so the paragraphs of the table are looked for piece by piece.
        for part in re.split(r", | (?=[a-z])", shown):
            assert part in text, part
    assert "US federal rules for employers; for others good practice. Local rules come first." in text


# ---- lines ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "kilovolts", "people", "machines"),
    [
        ("distribution", "34.5", "10 ft (3.1 m)", "10 ft (3.1 m)"),  # L1
        ("transmission", "138", "13 ft (4 m)", "15 ft (4.6 m)"),  # L2, each started 10 kV counted
        ("transmission", "115", "12.4 ft (3.8 m)", "15 ft (4.6 m)"),  # L3
        ("service-drop", None, "10 ft (3.1 m)", "10 ft (3.1 m)"),
        ("transmission", None, "41.7 ft (12.7 m)", "45 ft (13.8 m)"),
        ("unknown", None, "41.7 ft (12.7 m)", "45 ft (13.8 m)"),
    ],
)
def test_the_distance_to_a_line_stands_in_the_briefing_and_on_the_card(
    kind: str, kilovolts: str | None, people: str, machines: str
) -> None:
    volts = f", line_kv: {kilovolts}" if kilovolts else ""
    plan = one_tree(line=f"35, line_kind: {kind}{volts}")
    text = text_of(plan)
    said = f"people, tools and limbs {people}, machines {machines}"
    assert text.count(said) == 2  # briefing and card
    assert ("voltage not given" in text) == (kilovolts is None)
    assert "Nearer is for the utility or a line-clearance arborist." in text
    (line,) = briefing_record(View(plan, Units(), ""))["approach"]
    assert line["people_ft"] == pytest.approx(float(people.split()[0]), abs=0.07)
    assert line["machines_ft"] == pytest.approx(float(machines.split()[0]), abs=0.07)


def test_138_kv_asks_for_no_less_than_the_rule_and_no_more_than_the_next_step() -> None:
    plan = one_tree(line="35, line_kind: transmission, line_kv: 138")
    (line,) = briefing_record(View(plan, Units(), ""))["approach"]
    assert 12.93 <= line["people_ft"] <= 13.0


def test_in_metric_a_distance_to_keep_is_never_shorter() -> None:
    text = text_of(one_tree(line="35, line_kind: service-drop"), Units(metric=True))
    assert "people, tools and limbs 3.1 m (10 ft), machines 3.1 m (10 ft)" in text


def test_a_site_without_lines_speaks_of_none() -> None:
    for name in ("examples/yard-tree", "examples/woodlot-60"):
        record = briefing_record(view(name))
        assert record["approach"] == []
        assert not record["emergency"]["utility"]
        assert "Power line" not in text_of(example(name)).split("DAY BY DAY")[0].split("EMERGENCY CARD")[1]


# ---- hazards and the drop zone --------------------------------------------------------------------------------------


@pytest.mark.parametrize("hazard", ["lean", "hung-up", "dead-top", "split-stem", "decay", "root-plate", "jackstraw"])
def test_each_hazard_stands_in_the_briefing_and_with_its_meaning_on_the_card(hazard: str) -> None:
    text = text_of(one_tree(hazards=hazard))
    means = known_hazards()[hazard].means
    assert text.count(means) == 1
    assert f"T1 ({known_hazards()[hazard].name})" in text
    assert means not in text_of(one_tree())


def test_a_tree_killed_by_beetles_is_a_danger_tree() -> None:
    bare = one_tree(more="found: {crown: bare, seen: 2026-10-12}")
    means = known_hazards()["beetle-killed"].means
    assert means in text_of(bare)
    assert "Take T1 down first; until then no other work within two tree lengths" in text_of(bare)
    assert means not in text_of(one_tree(more="found: {crown: green, seen: 2026-10-12}"))


@pytest.mark.parametrize("name", SITES)
def test_every_hazard_of_every_tree_is_on_the_order(name: str) -> None:
    shown = view(name)
    text = text_of(shown.plan)
    for tree in shown.trees.values():
        for code in hazards_of(shown, tree):
            assert set(tree.hazards) <= set(hazards_of(shown, tree))
            if briefing_record(shown)["topics"]:
                assert f"({known_hazards()[code].name})" in text
            assert known_hazards()[code].means in text


@pytest.mark.parametrize("name", ["examples/removal-24", "examples/woodlot-60", "examples/yard-tree"])
def test_the_drop_zone_is_two_upper_heights_in_feet_and_metres(name: str) -> None:
    shown = view(name)
    cards = text_of(shown.plan).split("TREE BY TREE")[1]
    felled = [tree for tree in shown.trees if tree in shown.felled]
    assert felled
    for tree in felled:
        height = shown.stems[tree].height_ft
        assert height is not None
        zone = -(-2 * height.high // 1)
        said = f"{zone:,.0f} ft ({-(-zone * 0.3048 // 1):,.0f} m)"
        own = re.search(rf" {re.escape(tree)}: (?!\d+ trees)(.{{2500}})", cards)
        if own:  # a card of its own
            assert f"{said} all round" in own[1], tree
        else:
            assert said in cards, tree


# ---- what to wear, machines -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "words"),
    [("chipper", "chipping"), ("saw-debarker", "stripping with the debarker on the saw"), ("splitter", "splitter")],
)
def test_a_machine_is_named_only_where_it_works(kind: str, words: str) -> None:
    for name in SITES:
        shown = view(name)
        runs = any(kind in job.equipment for job in shown.plan.schedule.jobs)
        tasks = {task["task"] for task in briefing_record(shown)["protection"]}
        assert (words in tasks) == runs, name
        moving = " ".join(line for topic in topics_of(shown) for line in topic.lines if line.startswith("Machines:"))
        assert (kind.replace("-", " ") in moving) == runs, name


def test_whoever_saws_is_told_what_to_wear_with_its_paragraph() -> None:
    tasks = {task["task"]: task for task in briefing_record(view("examples/removal-24"))["protection"]}
    worn = {one["what"]: (one["paragraph"], one["known"]) for one in tasks["felling"]["wear"]}
    assert worn["cut-resistant boots"] == ("29 CFR 1910.266(d)(1)(v)", "read")
    assert worn["helmet"] == ("29 CFR 1910.266(d)(1)(vi)", "memory")
    assert "felling" not in {task["task"] for task in briefing_record(view("examples/yard-tree"))["protection"]}


# ---- lifting --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SITES)
def test_what_is_too_heavy_follows_from_the_weights_of_the_plans_own_logs(name: str) -> None:
    shown = view(name)
    found = briefing_record(shown)["lifting"]
    ways = {piece: shown.way(piece) for piece in shown.pieces}
    logs = [
        shown.pieces[piece] for piece, way in ways.items() if way and way.method != "leave" and "/" in piece
        and shown.pieces[piece].kind == "log"
    ]  # fmt: skip
    if found is None:
        assert not logs or not briefing_record(shown)["topics"]
        return
    assert found["logs"] == len(logs)
    assert found["too_heavy_for_one"] == sum(log.lift_lb > log_pickup_limit_lb() for log in logs)
    for log in logs:  # nothing wider than the limit, and as long, is light enough to lift
        if log.length_ft >= found["log_length_ft"] and log.top_dob_in > found["widest_log_in"] + 1:
            assert log.lift_lb > found["one_person_lb"]


# ---- emergency card, sign-off ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SITES)
def test_the_emergency_card_says_where_and_leaves_room_for_the_rest(name: str) -> None:
    plan = example(name)
    text = order_text(plan, Units(), "site.yaml")
    if not briefing_record(View(plan, Units(), ""))["topics"]:
        assert "EMERGENCY CARD" not in text
        return
    card = re.sub(r"\s+", " ", text.split("EMERGENCY CARD", 1)[1].split("JOB BRIEFING")[0])
    site = plan.inventory.site
    assert f"{site.name}. Map point {site.latitude}, {site.longitude}" in card
    for blank in ("Address", "Emergency number", "Phone that works here", "ospital", "Kit at"):
        assert re.search(rf"{blank}[^_]*_{{6,}}", card), blank
    trained = re.search(r"Trained: _+ and _+", card)
    assert bool(trained) == (sum(crew.people for crew in plan.inventory.crew) > 1)
    assert ("Fire authority" in card) == _burns(plan)
    assert ("Utility" in card) == bool(briefing_record(View(plan, Units(), ""))["approach"])


def _burns(plan: Plan) -> bool:
    return any("burn" in (choice.way or "").split("-") for choice in plan.schedule.choices)


@pytest.mark.parametrize("name", SITES)
def test_every_piece_with_work_is_signed_for_exactly_once(name: str) -> None:
    shown = view(name)
    text = order_text(shown.plan, Units(), "site.yaml")
    rows = to_sign(shown)
    signed = Counter(piece.id for row in rows for piece in row.pieces)
    worked = {
        choice.piece
        for choice in shown.plan.schedule.choices
        if (way := shown.way(choice.piece)) is not None and (way.method != "leave")
    }
    assert set(signed) >= worked
    assert max(signed.values(), default=1) == 1
    where = text.split("SIGN OFF EACH PIECE", 1)[1].split("\n\nHOW IT IS DONE")[0] if not shown.small else text
    blanks = re.findall(r"(?:\d+|stump|top|limbs):______", where)
    if len(shown.trees) < 100:
        assert len(blanks) == len(signed)


def test_the_days_and_people_of_the_briefing_are_the_plans() -> None:
    shown = view("examples/removal-24")
    lines = " ".join(line for topic in topics_of(shown) for line in topic.lines)
    assert "Slope of 12 %" in lines
    assert "C1, Mon 7 Dec 2026, by a line-clearance arborist" in lines
    assert "G10 (question 1)" in lines
    assert "Felled by Ridge crew: G1-G10, U1-U4, S2." in lines
    assert "Slope" not in " ".join(line for topic in topics_of(view("examples/yard-tree")) for line in topic.lines)


def test_nobody_is_told_twice() -> None:
    """What the briefing and the cards say left the cautions."""
    text = text_of(example("examples/removal-24"))
    for once in ("cut-resistant leg protection from", "Look up before every cut", "warm up by turns"):
        cautions = text.split("CAUTIONS =")[1].split("LOOK AGAIN")[0]
        assert once not in cautions


# ---- the place, and who keeps how far -------------------------------------------------------------------------------

THREE, YARD = "examples/quote-three-trees", "examples/yard-tree"


def test_a_crew_is_told_the_place_and_the_card_has_its_address() -> None:
    text = text_of(example(THREE))
    place = text[text.index("THE PLACE =") : text.index("EMERGENCY CARD")]
    for said in ("Odalys Brandt, 555-0117", "east gate", "one truck and the chipper", "septic field", "by the client"):
        assert said in place
    card = text[text.index("EMERGENCY CARD") : text.index("JOB BRIEFING")]
    assert "Address: 12 Sable Fork Road, Quillmere (the client's" in card
    nothing = text_of(example(YARD))
    assert "THE PLACE" not in nothing
    assert "Address: ____" in nothing


def test_a_tree_taken_down_in_pieces_keeps_people_off_by_the_climbers_plan() -> None:
    text = text_of(example(THREE))
    cards = text[text.index("TREE BY TREE") :]
    b = cards[cards.index("B (tag 32)") : cards.index("C (tag 33)")]
    assert "Taken down in pieces: nobody stands under it or where pieces can fall" in b
    assert "Only if it is felled whole: two tree lengths, 156 ft (48 m)" in b
    assert "all round while it is felled" not in b
    assert "all round while it is felled" in cards[: cards.index("B (tag 32)")]
    assert "Felled by Fennimore's crew: A, C." in text
    assert "In pieces, by Fennimore's crew: B" in text
    assert "Climbing gear for B" in text
    assert "Climbing gear" not in text_of(example("examples/removal-24"))  # its climber comes from outside
    record = {tree["id"]: tree["in_pieces"] for tree in order_result(example(THREE))["trees"]}
    assert record == {"A": False, "B": True, "C": False}
    far = "128 ft (40 m) to 142 ft (44 m)"  # A and C alone
    assert far in text


def test_what_stands_inside_the_distance_is_named() -> None:
    keep = text_of(example(YARD)).split("Keep out")[1]
    said = "The building (85 ft) and the neighbour's ground (120 ft) are inside: tell them; nobody outdoors there"
    assert said in keep[:400]
    assert "The road (55 ft) is inside: nobody on it while it falls." in text_of(example("examples/removal-24"))
    assert "inside" not in text_of(one_tree()).split("Keep out")[1][:200]


def test_danger_trees_that_are_felled_come_down_first_and_from_the_others_one_keeps_off() -> None:
    assert "Take B down first; until then no other work within two tree lengths." in text_of(example(THREE))
    said = (
        "Take G1, G7, G9 down first; until then no other work within two tree lengths; O1, O2 stay up: no work within"
    )
    assert said in text_of(example("examples/removal-24"))


def test_logs_that_two_cannot_lift_call_for_the_cant_hook_that_is_owned() -> None:
    ready = text_of(example(YARD)).split("HAVE READY")[1].split("EMERGENCY")[0]
    assert "Yours: cant hook, chain saw and drawknife." in ready
    assert "cant hook" not in text_of(one_tree()).split("HAVE READY")[1].split("EMERGENCY")[0]
    assert "strip a heavy log where it lies and roll it over" in text_of(example(YARD))
