"""A user's own rules: laid over the shipped ones by id, marked local, and proven with the place of each fault."""

from pathlib import Path

import pytest
from bench_site import ADULTS, ON, bench, piece, site, window

from barkwright.treatment.local import rule_book
from barkwright.treatment.rulebook import shipped

GOOD = """\
  - id: no-spud-here
    title: the spud broke
    ways: [debark-spud-burn-bark]
    when: [{fact: piece.butt_dob_in, at_least: 8 in}]
    then: {verdict: ruled out}
    because: "Logs of {piece.butt_dob_in} are not spudded here."
    grade: C
    basis: ours
    checked_on: 2026-11-01
"""


def written(folder: Path, rules: str, head: str = "rules:\n") -> str:
    path = folder / "own.yaml"
    path.write_text(head + rules, encoding="utf-8")
    return str(path)


def test_a_rule_of_ones_own_is_added_fires_and_says_local(tmp_path):
    made = site(local=(written(tmp_path, GOOD),))
    table = bench(made)
    assert table.book.diagnostics == ()
    way = next(one for one in table.ways(made.trees[0], piece(butt=8.0), ADULTS) if one.id == "debark-spud-burn-bark")
    one = window(way, ON)
    assert one.verdict == "ruled out"
    assert (one.reasons[0].because, one.reasons[0].local) == ("Logs of 8 in are not spudded here.", True)
    thin = next(one for one in table.ways(made.trees[0], piece(butt=7.9), ADULTS) if one.id == "debark-spud-burn-bark")
    assert window(thin, ON).verdict != "ruled out"


def test_a_rule_with_a_shipped_id_takes_its_place(tmp_path):
    book = rule_book((written(tmp_path, GOOD.replace("no-spud-here", "stump-high")),))
    assert len(book.rules) == len(shipped().rules)
    mine = next(one for one in book.rules if one.id == "stump-high")
    assert mine.local
    assert mine.templates == frozenset({"debark-spud-burn-bark"})


FAULTS = [
    ("piece.butt_dob_in, at", "piece.but_dob_in, at", "unknown-fact", 5, 19, "did you mean 'piece.butt_dob_in'?"),
    ("8 in}", "8 cm}", "wrong-unit", 5, 48, "write it in in"),
    ("8 in}", "8}", "wrong-unit", 5, 48, "write it in in"),
    ("8 in}", "500 in}", "never-fires", 5, 48, "it runs from 0 to 120 in"),
    ("8 in}", "9 in, below: 8 in}", "never-fires", 5, 48, "the lower bound comes first"),
    ("at_least: 8 in", "is: thick", "bad-condition", 5, 42, "write a number and its unit, in"),
    ("fact: piece.butt_dob_in, at_least: 8 in", "fact: day.bark, is: slippery", "never-fires", 5, 33, "one of sl"),
    ("fact: piece.butt_dob_in, at_least: 8 in", "fact: day.bark, above: 3", "bad-condition", 5, 36, "write is: or in:"),
    ("fact: piece.butt_dob_in, at_least: 8 in", "fact: piece.kind, is: stump", "never-fires", 5, 11, "look at pieces"),
    ("{fact: piece.butt_dob_in, at_least: 8 in}",
     "{fact: brood.level, is: none}, {fact: day.adults, is: true}", "never-fires", 5, 43, "drop one of the two"),
    ("{piece.butt_dob_in} are", "{piece.size} are", "unknown-fact", 7, 14, "did you mean 'piece.kind'?"),
    ("debark-spud-burn-bark", "debark-spud-burn", "unknown-name", 4, 12, "did you mean 'debark-spud-burn-bark'?"),
    ("ways: [debark-spud-burn-bark]", "methods: [debrak]", "bad-choice", 4, 15, "did you mean 'debark'?"),
    ("    basis: ours\n", "", "uncited", 2, 9, "sources: [...], or basis: ours"),
    ("grade: C", "grade: B", "uncited", 8, 12, "add sources:, or grade C"),
    ("basis: ours", 'sources: ["haak2000, abstract"]', "unknown-source", 9, 15, "did you mean 'haack2000'?"),
    ("basis: ours", "bases: ours", "unknown-key", 9, 5, "did you mean 'basis'?"),
    ("    title: the spud broke\n", "", "missing-key", 2, 5, "add title:"),
    ("ruled out}", "ruled out, needs: [a-dog]}", "unknown-name", 6, 40, "one of ask-access"),
    ("ways: [debark-spud-burn-bark]", "methods: chip", "bad-value", 4, 14, "write a list of methods, like [chip, d"),
    ("checked_on: 2026-11-01", "checked_on: last week", "bad-value", 10, 17, "write a day, like 2026-10-31"),
    ("because: \"", "because: 3 #", "bad-value", 7, 14, "write text"),
    ("ruled out}", "ruled out, wish: perhaps}", "bad-value", 6, 38, "true or false"),
]  # fmt: skip


@pytest.mark.parametrize(("right", "wrong", "code", "line", "column", "hint"), FAULTS)
def test_a_fault_is_told_at_its_place_with_what_to_do(tmp_path, right, wrong, code, line, column, hint):
    assert right in GOOD
    book = rule_book((written(tmp_path, GOOD.replace(right, wrong)),))
    first = next(one for one in book.diagnostics if one.code == code)
    assert first.where is not None
    assert (first.where.line, first.where.column) == (line, column)
    assert hint in (first.hint or "")
    assert not any(one.local for one in book.rules)


def test_a_value_of_the_wrong_form_is_told_as_it_is_written(tmp_path):
    book = rule_book((written(tmp_path, GOOD.replace("ways: [debark-spud-burn-bark]", "methods: chip")),))
    assert [one.message for one in book.diagnostics] == ["methods: 'chip' is not a list of methods"]


def test_rules_that_force_opposite_ends_are_refused(tmp_path):
    own = GOOD.replace("debark-spud-burn-bark", "split-maul-stack").replace("verdict: ruled out", "end: done")
    own = own.replace(
        "{fact: piece.butt_dob_in, at_least: 8 in}",
        "{fact: brood.level, is: likely}, {fact: day.dry_by_flight, is: unlikely}",
    )
    book = rule_book((written(tmp_path, own),))
    assert [one.code for one in book.diagnostics] == ["rules-contradict"]
    assert "split-late" in book.diagnostics[0].message


def test_two_rules_of_ones_own_may_not_share_an_id_nor_deny_each_other(tmp_path):
    twice = rule_book((written(tmp_path, GOOD + GOOD),))
    assert [one.code for one in twice.diagnostics] == ["duplicate-id"]
    (tmp_path / "more").mkdir()
    other = GOOD.replace("no-spud-here", "spud-here").replace("verdict: ruled out", "verdict: fits")
    denied = rule_book((written(tmp_path / "more", GOOD + other),))
    assert [one.code for one in denied.diagnostics] == ["rules-contradict", "rules-contradict"]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("rules: [", "not-yaml"),
        ("- a\n", "odd-shape"),
        ("rulez: []\n", "unknown-key"),
        ("rules: 3\n", "odd-shape"),
        ("", "empty"),
    ],
)
def test_a_file_that_is_no_rulebook_is_refused(tmp_path, text, code):
    book = rule_book((written(tmp_path, text, head=""),))
    assert code in [one.code for one in book.diagnostics]
    assert book.rules == shipped().rules


def test_a_file_that_is_not_there_is_told(tmp_path):
    book = rule_book((str(tmp_path / "none.yaml"),))
    assert [one.code for one in book.diagnostics] == ["unreadable"]


def test_rates_in_the_same_file_are_left_to_their_own_reader(tmp_path):
    assert rule_book((written(tmp_path, GOOD + "rates: {}\n"),)).diagnostics == ()


def test_a_rule_may_name_a_source_that_only_its_writer_knows(tmp_path):
    own = GOOD.replace("basis: ours", "source: a bulletin of the district, 2024").replace("grade: C", "grade: B")
    made = site(local=(written(tmp_path, own),))
    table = bench(made)
    assert table.book.diagnostics == ()
    way = next(one for one in table.ways(made.trees[0], piece(butt=8.0), ADULTS) if one.id == "debark-spud-burn-bark")
    assert window(way, ON).reasons[0].own_source == "a bulletin of the district, 2024"


def test_the_same_rule_in_two_files_is_refused(tmp_path):
    first = written(tmp_path, GOOD)
    (tmp_path / "more").mkdir()
    (fault,) = rule_book((first, written(tmp_path / "more", GOOD))).diagnostics
    assert (fault.code, fault.where.line) == ("duplicate-id", 2)
    assert first in fault.message


@pytest.mark.parametrize(
    ("mine", "other", "denied"),
    [
        ("", "", True),
        ("region: [interior-plateau]", "", True),
        ("", "region: [interior-plateau]", True),
        ("region: [interior-plateau]", "region: [interior-plateau, kenai]", True),
        ("region: [interior-plateau]", "region: [kenai]", False),
        ("until: 2026-12-31", "from: 2027-01-01", False),
        ("from: 2027-01-01", "until: 2026-12-31", False),
        ("until: 2027-01-01", "from: 2027-01-01", True),  # both hold on that day
        ("until: 2026-12-31", "until: 2026-12-31", True),
        ("from: 2027-01-01", "from: 2027-01-01", True),
    ],
)
def test_rules_deny_each_other_only_where_and_when_both_hold(tmp_path, mine, other, denied):
    second = GOOD.replace("no-spud-here", "spud-here").replace("verdict: ruled out", "verdict: fits")
    rules = "".join(
        one.replace("    grade", f"    {more}\n    grade") if more else one
        for one, more in ((GOOD, mine), (second, other))
    )
    book = rule_book((written(tmp_path, rules),))
    assert [one.code for one in book.diagnostics] == (["rules-contradict"] * 2 if denied else [])
