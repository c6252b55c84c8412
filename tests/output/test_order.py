"""The work order as a page: what stands where, and that nothing of the plan is lost on it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from made_up import SAT, plan

from barkwright.output.blocks import Card, Picture
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.order import order_page, order_text
from planned_sites import example

EXAMPLES = Path(__file__).parents[2] / "examples"
SITES = (("yard-tree", date(2026, 11, 25)), ("removal-24", date(2026, 11, 25)), ("woodlot-60", date(2027, 3, 1)))
IMPERIAL = Units()


def section(text: str, heading: str) -> str:
    found = re.search(rf"^{heading}[^\n]*\n(.*?)(?=^[A-Z][A-Z ,:0-9-]+ =+$|\Z)", text, re.MULTILINE | re.DOTALL)
    return found[1] if found else ""


@pytest.mark.parametrize(("name", "on"), SITES)
@pytest.mark.parametrize("units", [IMPERIAL, Units(metric=True)], ids=["imperial", "metric"])
def test_it_fits_the_paper(name: str, on: date, units: Units) -> None:
    text = order_text(example(name, on), units, f"{name}.yaml")
    assert max(map(len, text.splitlines())) <= 80
    assert all(char.isprintable() or char == "\n" for char in text)
    assert not any(line != line.rstrip() for line in text.splitlines())


@pytest.mark.parametrize(("name", "on"), SITES)
def test_metric_leaves_no_imperial_amount(name: str, on: date) -> None:
    text = order_text(example(name, on), Units(metric=True), f"{name}.yaml")
    text = text[: text.index("SOURCES ====")]
    text = re.sub(r"\(\d[\d.]*\s+ft\)", "", text)  # distances that save lives are given both ways
    text = text.replace("11 ft wide", "")  # the user's own words are not touched
    assert not re.findall(r"\d (?:in|ft|lb|sq ft|cu ft|cu yd|ft2|ft3|yd3|cords?)\b(?! (?:the\b|[A-Z]))", text)


@pytest.mark.parametrize(("name", "on"), SITES)
def test_questions_come_before_everything_but_the_glance(name: str, on: date) -> None:
    page = order_page(example(name, on), IMPERIAL, name)
    headings = [section.heading for section in page.sections]
    assert headings[0] == "At a glance"
    assert headings[1] == "Answer these first"
    assert headings.index("Day by day") < headings.index("Tree by tree") < headings.index("Sources")


@pytest.mark.parametrize(("name", "on"), SITES)
def test_every_day_of_work_and_every_tree_is_on_it(name: str, on: date) -> None:
    made = example(name, on)
    text = order_text(made, IMPERIAL, name)
    days = section(text, "DAY BY DAY")
    for job in made.schedule.jobs:
        for when, _ in job.day_hours:
            assert f"{when.day} {when:%b %Y}" in days
    cards = section(text, "TREE BY TREE")
    for tree in made.inventory.trees:
        stem = re.escape(tree.id.rstrip("0123456789"))
        assert re.search(rf"(?<![\w.]){re.escape(tree.id)}\b|(?<![\w.]){stem}\d+-{stem}\d+\b", cards), tree.id


@pytest.mark.parametrize(("name", "on"), SITES)
def test_every_number_of_a_question_on_a_job_is_asked(name: str, on: date) -> None:
    text = order_text(example(name, on), IMPERIAL, name)
    asked = {int(number) for number in re.findall(r"^(\d+)\. ", section(text, "ANSWER THESE FIRST"), re.MULTILINE)}
    used = {int(number) for number in re.findall(r"after question (\d+)", re.sub(r"\s+", " ", text))}
    assert used <= asked
    provisional = any(job.provisional for job in example(name, on).schedule.jobs)
    assert provisional == bool(used)


@pytest.mark.parametrize(("name", "on"), SITES)
def test_no_sentence_shows_the_inside_of_the_program(name: str, on: date) -> None:
    text = order_text(example(name, on), IMPERIAL, name)
    text = text[: text.index("SOURCES ====")]
    assert not re.findall(r"\b(?:None|True|False|nan|inf|[a-z]+_[a-z_]+|dataclass|ft2|ft3|yd3)\b", text)
    assert "  - \n" not in text
    assert ".." not in text
    assert " ." not in text


def test_one_tree_is_less_than_three_pages_with_its_pictures() -> None:
    text = order_text(example(*SITES[0]), IMPERIAL, "yard-tree.yaml")
    assert len(text.splitlines()) <= 207


def test_stems_stand_in_the_text_of_small_sites_and_in_the_page_of_all() -> None:
    small, large = (order_page(example(*site), IMPERIAL, "a file") for site in SITES[:2])
    for page, shown in ((small, True), (large, False)):
        cards = next(section for section in page.sections if section.heading == "Tree by tree").blocks
        stems = [
            block for card in cards if isinstance(card, Card) for block in card.blocks if isinstance(block, Picture)
        ]
        assert stems
        assert all(picture.screen_only != shown for picture in stems)
        assert all((stem.lines[1] in render(page)) == shown for stem in stems)


def test_like_questions_are_asked_once() -> None:
    text = order_text(plan(3), IMPERIAL, "x.yaml")
    assert text.count("Is a power line near") == 1
    assert "Is a power line near T1-T3?" in text


def test_like_jobs_of_a_day_are_said_together() -> None:
    days = section(order_text(plan(3), IMPERIAL, "x.yaml"), "DAY BY DAY")
    assert days.count("strip the bark with the drawknife") == 1
    assert "T1-T3 logs 1-2" in days
    assert "2 people, 6 h (3-14 h)" in re.sub(r"\s+", " ", days)


def test_a_big_site_puts_like_trees_on_one_card() -> None:
    small, big = (section(order_text(plan(n), IMPERIAL, "x.yaml"), "TREE BY TREE") for n in (11, 12))
    assert small.count("What lives") + small.count("Beetles  ") == 11
    assert big.count("Beetles  ") == 1
    assert "T1-T12: 12 trees" in big


def test_what_misses_its_date_stands_before_the_work() -> None:
    text = order_text(plan(1, unmet=True), IMPERIAL, "x.yaml")
    misses = section(text, "WHAT MISSES ITS DATE")
    assert "T1 log 2: 29 sq ft of infested bark." in misses
    assert "Why: Too few days are left." in misses
    assert "What would save it: One more weekend." in misses
    assert text.index("WHAT MISSES") < text.index("DAY BY DAY")
    assert "Not everything finishes in time" in text


def test_nobody_burns_alone_and_nobody_is_counted_for_a_professional() -> None:
    made = plan(1)
    job = made.schedule.jobs[0]
    burn = replace(job, what="burn the wood, stay until the ashes are cold", people=1, equipment=())
    fell = replace(job, id="J2", work="fell", what="have the tree service take it down", crew="tree service", people=1)
    made.schedule = replace(made.schedule, jobs=(burn, fell))
    days = re.sub(r"\s+", " ", section(order_text(made, IMPERIAL, "x.yaml"), "DAY BY DAY"))
    assert "1 person and another in sight" in days
    assert days.count("1 person") == 1


def test_work_waits_for_every_question_about_its_tree() -> None:
    made = plan(1)
    brood = replace(made.questions[0], code="look-under-bark", text="What lives in it?", rank=2)
    made.questions = (*made.questions, brood)
    days = section(order_text(made, IMPERIAL, "x.yaml"), "DAY BY DAY")
    assert "only after questions 1 and 2 are answered" in days
    asked = re.sub(r"\s+", " ", section(order_text(made, IMPERIAL, "x.yaml"), "ANSWER THESE FIRST"))
    assert "What you may see: A larva is a soft, white, legless grub" in asked


def test_without_a_file_the_option_is_named_that_takes_the_answer() -> None:
    made = plan(1)
    made.questions = (replace(made.questions[0], how="Ask them. Write what they say under `removal` of T1."),)
    assert "`removal`" in order_text(made, IMPERIAL, "x.yaml")
    without = order_text(made, IMPERIAL, "the options of this command")
    assert "`" not in without
    assert "Ask them. Say it with --removal." in without


def test_stripping_that_waits_for_spring_says_why_and_until_when() -> None:
    cards = re.sub(r"\s+", " ", section(order_text(example(*SITES[0]), IMPERIAL, "x.yaml"), "TREE BY TREE"))
    assert "Stripping waits because the bark slips from about Sat 15 May 2027" in cards
    assert "Once it is down it is done before Fri 21 May 2027" in cards


def test_flight_dates_from_memory_are_called_so() -> None:
    text = re.sub(r"\s+", " ", order_text(example(*SITES[2]), IMPERIAL, "x.yaml"))
    assert "These dates are from memory: ask your local forester." in text


def test_a_job_of_several_days_says_how_much_is_for_today() -> None:
    made = plan(1)
    sun = date(2026, 11, 29)
    job = replace(made.schedule.jobs[0], last=sun, day_hours=((SAT, 3.0), (sun, 1.0)))
    made.schedule = replace(made.schedule, jobs=(job,))
    days = re.sub(r"\s+", " ", section(order_text(made, IMPERIAL, "x.yaml"), "DAY BY DAY"))
    assert "1.5 h today of 2 h in all" in days
    assert "30 min today of 2 h in all" in days


@pytest.mark.parametrize(
    ("basis", "paid", "heading"),
    [
        ("yours", True, "COSTS ="),
        ("published proxy", True, "COSTS: AN ESTIMATE ="),
        ("placeholder", True, "COSTS: AN ESTIMATE ="),
        ("ours", False, "COSTS ="),
    ],
)
def test_a_price_on_other_figures_is_headed_an_estimate(basis: str, paid: bool, heading: str) -> None:
    made = plan(1)
    line = replace(made.schedule.costs[0], basis=basis, paid=paid)  # type: ignore[arg-type]
    made.schedule = replace(made.schedule, costs=(line,))
    assert heading in order_text(made, IMPERIAL, "x.yaml")


def test_a_price_nobody_gave_is_named_and_not_counted() -> None:
    made = plan(1)
    line = replace(
        made.schedule.costs[0], what="tree service for T1, no price yet", amount=Decimal(0), basis="placeholder"
    )
    made.schedule = replace(made.schedule, costs=(*made.schedule.costs, line))
    text = re.sub(r"\s+", " ", order_text(made, IMPERIAL, "x.yaml"))
    assert "USD 400, without what has no price yet: tree service for T1." in text
    assert "tree service for T1, 1 day: no price yet (placeholder)." in text


def test_wood_that_may_wait_has_its_last_day() -> None:
    made = plan(4)
    choices = tuple(replace(choice, wait_until=date(2028, 5, 7)) for choice in made.schedule.choices)
    made.schedule = replace(made.schedule, choices=choices)
    assert "Until Sun 7 May 2028: T1-T4 logs 1-2." in section(
        order_text(made, IMPERIAL, "x.yaml"), "WOOD THAT MAY WAIT"
    )


@pytest.mark.parametrize(("name", "on"), SITES)
def test_the_day_by_which_work_is_due_sooner_stands_on_a_card(name: str, on: date) -> None:
    text = " ".join(order_text(example(name, on), IMPERIAL, name).split())
    due = re.findall(r"is due sooner, the first by ([^:]+):", text)
    assert all(f"latest {day}".lower() in text.lower() for day in due)
    assert name != "yard-tree" or due == ["Thu 20 May 2027"]


def test_hostile_names_stay_on_the_paper() -> None:
    text = order_text(plan(1, name="\x1b[2J" + "W" * 300), IMPERIAL, "x" * 200 + "\x07.yaml")
    assert max(map(len, text.splitlines())) <= 80
    assert all(char.isprintable() or char == "\n" for char in text)


def test_of_distances_in_questions_of_danger_the_largest_holds_for_all() -> None:
    made = plan(5)
    made.questions = tuple(
        replace(question, how=f"{question.subject} may be {40 + 10 * n} ft tall; measure up to {50 + 10 * n} ft.")
        for n, question in enumerate(made.questions)
    )
    text = re.sub(r"\s+", " ", order_text(made, IMPERIAL, "x.yaml"))
    assert "T1-T5: Is a power line near each of them?" in text
    assert "Each of them may be 80 ft tall; measure up to 90 ft." in text


def test_questions_whose_dates_differ_are_not_merged() -> None:
    made = plan(2)
    made.questions = tuple(
        replace(question, rank=2, then=f"Done by {2027 + n}.") for n, question in enumerate(made.questions)
    )
    text = order_text(made, IMPERIAL, "x.yaml")
    assert "Done by 2027." in text
    assert "Done by 2028." in text


def test_a_subject_is_not_replaced_inside_a_longer_name() -> None:
    made = plan(12)
    made.questions = tuple(replace(question, text=f"Is a line near {question.subject}?") for question in made.questions)
    asked = section(order_text(made, IMPERIAL, "x.yaml"), "ANSWER THESE FIRST")
    assert asked.count("Is a line near each of them?") == 1


def test_a_reason_that_lists_its_pieces_is_said_without_them() -> None:
    made = plan(2, unmet=True)
    one = made.schedule.unmet[0]
    made.schedule = replace(
        made.schedule,
        unmet=tuple(
            replace(
                one,
                tree=tree,
                pieces=(f"{tree}/1", f"{tree}/2"),
                why=f"No way stops all the brood of {tree}/1, {tree}/2.",
            )
            for tree in ("T1", "T2")
        ),
    )
    misses = section(order_text(made, IMPERIAL, "x.yaml"), "WHAT MISSES ITS DATE")
    assert misses.count("No way stops all the brood in it.") == 1
    assert "T1, T2 logs 1-2: 59 sq ft" in misses


def test_bark_that_counts_in_part_is_said_so_that_the_areas_agree() -> None:
    made = example(*SITES[0])
    text = re.sub(r"\s+", " ", order_text(made, IMPERIAL, "x.yaml"))
    assert "150 sq ft now, none left when the beetles fly. It is 179 sq ft of bark, counted less" in text
    assert "strip 176 sq ft of bark" in text
    assert "strip 3 sq ft of bark off the stump" in text
    sure = plan(1)
    whole = sum(piece.bark_ft2 for stem in sure.stems for piece in stem.pieces)
    sure.schedule = replace(sure.schedule, infested_before_ft2=whole)
    assert "of bark, counted less" not in order_text(sure, IMPERIAL, "x.yaml")


def test_the_look_names_the_flight_that_it_follows() -> None:
    yard, removal = (order_text(example(*site), IMPERIAL, "x.yaml") for site in SITES[:2])
    assert "\nLOOK AGAIN FROM SUN 11 JUL 2027 FOR BEETLES FROM ELSEWHERE (FLIGHT OF 2027) =" in yard
    assert "\nLOOK AGAIN FROM SUN 1 AUG 2027, AFTER THE FLIGHT OF 2027 =" in removal


def test_what_somebody_says_on_the_telephone_has_room_on_a_small_sheet() -> None:
    yard, removal = (order_text(example(*site), IMPERIAL, "x.yaml") for site in SITES[:2])
    assert "Answer: day ____________ hours ______ price __________" in section(yard, "ANSWER THESE FIRST")
    assert "Answer: day" not in removal


def test_the_look_is_in_no_cost_of_unpaid_hands_either() -> None:
    assert "The look after the flight, 15 min, is not in it." in re.sub(
        r"\s+", " ", section(order_text(example(*SITES[0]), IMPERIAL, "x.yaml"), "COSTS")
    )
