"""What the search has found: each input once broke a reader, kept it busy for long, or left a file nobody can read."""

from __future__ import annotations

import io
import json
import shutil
import zipfile

import pytest
from bomb_kit import HEAD, TREE
from bombs_of_tables import BOOK, workbook_of
from click.testing import CliRunner
from material import DRAFT, ISSUED, ROOT, SHEET
from readers import BOOKS, site
from watch import ON

from barkwright.cli.main import main
from barkwright.intake.assign import MOST_COUNTED
from barkwright.intake.csvtable import LONGEST_LINE
from barkwright.intake.draft import NoDraftError, with_draft
from barkwright.intake.grid import NoTableError, sheet_limits
from barkwright.intake.interview import Interview
from barkwright.intake.opening import open_sheet
from barkwright.intake.understood import Asked
from barkwright.inventory import report
from barkwright.inventory.checks.place import MOST_PATHS
from barkwright.inventory.reading import read_inventory
from barkwright.journal import reading
from barkwright.journal.reading import read_journal
from barkwright.output.names import shortened
from barkwright.ownfiles import own_files
from barkwright.schedule import issued
from barkwright.schedule.issued import read_issued
from barkwright.study.change import UnfitChangeError
from barkwright.study.phrases import LETTERS, read_phrase
from barkwright.treatment.local import MOST_LISTED, rule_book
from barkwright.treatment.rates import rate_book
from barkwright.yamldoc import read_document


def codes(found):
    return [one.code for one in found]


@pytest.fixture
def local(tmp_path):
    def write(*texts):
        paths = []
        for number, text in enumerate(texts):
            (tmp_path / f"{number}.yaml").write_text(text, encoding="utf-8")
            paths.append(str(tmp_path / f"{number}.yaml"))
        return tuple(paths)

    yield write
    for book in BOOKS:
        book.cache_clear()


@pytest.mark.parametrize("digits", [299, 300, 308, 309, 399, 5000])
def test_a_number_of_a_document_is_one_that_can_be_reckoned_with(digits):
    document, found = read_document(f"a: {'1' * digits}\n", "f")
    assert not found
    assert isinstance(float(document.data["a"]), float)


def test_a_rate_of_399_digits_is_refused(local):
    paths = local(f"rates:\n  peel-slipping: {{low: {'1' * 399}, likely: 9, high: 14, source: x}}\n")
    assert len(rate_book(paths).diagnostics) == 1


def test_a_change_of_5000_digits_is_refused():
    for phrase in (f"{'9' * 5000} more people", f"rent chipper 12 in at {'9' * 5000} a day", f"budget {'9' * 5000}"):
        with pytest.raises(UnfitChangeError, match=f"longer than {LETTERS}"):
            read_phrase(phrase, site(), ON)


def test_a_file_of_a_thousand_errors_is_not_told_to_its_end():
    words = ",".join(["leen"] * (report.MOST_ERRORS + 50))
    lines = "".join(f"dbh{n}: 1\n" for n in range(report.MOST_ERRORS + 50))
    for text in (
        HEAD + TREE.replace("}]", f", hazards: [{words}]}}]"),
        HEAD + TREE + lines,
        f"{HEAD}trees: [{words}]\n",
    ):
        inventory, found = read_inventory(text, "f", ON)
        assert inventory is None
        assert len(found) == report.MOST_ERRORS + 1
        assert codes(found).count("too-large") == 1


def test_trees_beyond_the_most_are_not_spelt_out(monkeypatch):
    import barkwright.inventory.checks.trees as trees

    monkeypatch.setattr(trees, "_once", lambda *_: pytest.fail("spelt out"))
    _, found = read_inventory(HEAD + TREE.replace("}]", ", count: 99999999}]"), "f", ON)
    assert "too-large" in codes(found)


@pytest.mark.parametrize("key", ["site", "local"])
def test_files_beyond_the_most_are_not_looked_for(key):
    names = ", ".join(f"w{n}.csv" for n in range(MOST_PATHS + 1))
    text = HEAD.replace("}", f", weather: [{names}]}}") + TREE if key == "site" else f"{HEAD}{TREE}local: [{names}]\n"
    assert codes(read_inventory(text, "f", ON)[1]) == ["too-large"]


def test_files_of_local_knowledge_are_of_a_size_together(local):
    half = "rules: []\n" + "#" * 2_500_000 + "\n"
    assert codes(own_files(local(half, half)).diagnostics) == ["too-large"]


@pytest.mark.parametrize(
    ("text", "told_of"),
    [
        ("".join(f"rules{n}: 1\n" for n in range(200)), 50),
        ("rules: [" + "1, " * 501 + "]\n", 1),
        ("rules:\n- {id: x, " + ", ".join(f"titl{n}: 1" for n in range(200)) + "}\n", 50),
        (f"rules:\n- {{id: x, title: y, sources: [{'haack, ' * (MOST_LISTED + 1)}]}}\n", 1),
        (f"rules:\n- {{id: x, title: y, because: '{'{piece.but}' * 400}'}}\n", 1),
        (f"rules:\n- {{id: x, title: y, when: [{{fact: {'piece' * 1000}, is: true}}]}}\n", 1),
    ],
)
def test_local_rules_without_end_are_refused_in_a_few_words(local, text, told_of):
    assert len(rule_book(local(text)).diagnostics) == told_of


def test_local_entries_without_end_are_refused_in_a_few_words(local):
    many = "rates:\n" + "".join(f"  peel{n}: {{}}\n" for n in range(501))
    assert codes(rate_book(local(many)).diagnostics) == ["too-large"]
    odd = "rates:\n  peel-slipping: {" + ", ".join(f"lo{n}: 1" for n in range(200)) + ", source: x}\n"
    for book in BOOKS:
        book.cache_clear()
    assert codes(rate_book(local(odd)).diagnostics) == ["unknown-key"] * 50


def test_a_journal_of_faults_is_not_told_to_its_end():
    most = reading.MOST_FAULTS
    entries = "barkwright-journal: 1\nentries:\n" + "- {idd: 1}\n" * most
    assert most <= len(read_journal(entries, "f")[1]) < most + 10
    entry = "barkwright-journal: 1\nentries:\n- {id: 1, " + ", ".join(f"hour{n}: 1" for n in range(most)) + "}\n"
    assert len(read_journal(entry, "f")[1]) == most // 10
    parts = "".join(f"entrie{n}: 1\n" for n in range(most))
    assert len(read_journal(parts, "f")[1]) == most // 10 + 1


def test_an_issued_order_is_refused_by_its_shape_before_its_values(monkeypatch):
    monkeypatch.setattr(issued._Issued, "model_validate_json", lambda _: pytest.fail("looked at one by one"))
    record = json.loads(ISSUED)
    for wrong in (
        {**record, "jobs": [{}] * 9}, {**record, "jobs": 1}, {**record, "ways": {"T1/1": 1}}, {"jobs": []}, [], 1,
        {**record, "jobs": [{**record["jobs"][0], "pieces": [1, 2]}]}, {**record, "more": 1},
    ):  # fmt: skip
        assert codes(read_issued(json.dumps(wrong), "f")[1]) == ["unreadable"]
    monkeypatch.setattr(issued, "MOST_LETTERS", 10)
    assert codes(read_issued(ISSUED, "f")[1]) == ["unreadable"]


def test_lines_without_end_are_no_sheet():
    for content, words in (
        (SHEET + "x" * (LONGEST_LINE + 1), "letters"), (SHEET + "\n" * (sheet_limits().most_lines + 1), "lines"),
        (SHEET + "\r" * (sheet_limits().most_lines + 1), "lines"),
    ):  # fmt: skip
        with pytest.raises(NoTableError, match=words):
            open_sheet(content.encode(), Asked())


@pytest.mark.parametrize(
    ("sheet", "words"),
    [
        ("<sheetData>" + "<row/>" * (sheet_limits().most_marks + 1) + "</sheetData>", "too much"),
        ("<sheetData " + "a" * (3 << 20) + "/>", "without end"),
    ],
)
def test_a_workbook_without_end_is_refused_before_it_is_read(sheet, words, monkeypatch):
    import openpyxl

    monkeypatch.setattr(openpyxl, "load_workbook", lambda *_, **__: pytest.fail("read"))
    with pytest.raises(NoTableError, match=words):
        open_sheet(workbook_of(sheet), Asked())


def test_entities_are_found_in_any_part_of_a_workbook():
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as packed:
        for name, part in BOOK.items():
            packed.writestr(name, part.replace("sheet1.xml", "sheet1.part"))
        packed.writestr("xl/worksheets/sheet1.part", '<!DOCTYPE a [<!ENTITY b "c">]><worksheet/>')
    with pytest.raises(NoTableError, match="entities"):
        open_sheet(held.getvalue(), Asked())


def test_columns_that_differ_are_counted_to_a_thousand():
    rows = "".join(f"white,12,{n},x{n}\n" for n in range(MOST_COUNTED + 500))
    doubts = [one.text for one in open_sheet(f"species,dbh_in,height_ft,height_ft\n{rows}".encode(), Asked()).doubts]
    assert any(f"{MOST_COUNTED:,} or more rows" in one for one in doubts), doubts


def test_a_word_without_end_is_cut_where_it_is_shown():
    assert len(shortened(f"tag !{'x' * 5000} is not allowed")) < 100


def test_a_draft_of_many_trees_is_read_tree_by_tree(monkeypatch):
    from barkwright.intake import replying

    answers = {"place": "53.1, -122.4"}
    for n in range(1, 31):
        answers |= {
            f"T{n}.species": "white",
            f"T{n}.status": "standing",
            f"T{n}.girth": "girth 52 in",
            f"T{n}.more": "yes",
        }
    calls = []
    read = replying.read_inventory
    monkeypatch.setattr(replying, "read_inventory", lambda *words: calls.append(1) or read(*words))
    text = json.dumps({**json.loads(DRAFT), "answers": answers})
    after, refused = with_draft(Interview("new", ON), text)
    assert (len(after.answers), refused) == (121, 0)
    assert len(calls) == 31  # one for each tree, the one that is asked next among them
    wrong = {**answers, "T2.girth": "girth 9000 in", "T3.species": "oak"}
    after, refused = with_draft(Interview("new", ON), json.dumps({**json.loads(DRAFT), "answers": wrong}))
    assert (len(after.answers), refused) == (119, 2)
    odd = {key: "?!" if key.endswith("girth") else value for key, value in answers.items()}
    with pytest.raises(NoDraftError, match="too many"):
        with_draft(Interview("new", ON), json.dumps({**json.loads(DRAFT), "answers": odd}))


def test_what_is_recorded_leaves_a_journal_that_can_be_read(tmp_path, monkeypatch):
    yard = shutil.copy(ROOT / "examples" / "yard-tree.yaml", tmp_path / "yard.yaml")
    done = CliRunner().invoke(main, ["done", str(yard), "--crown", "green", "--located", "--on", "2026-11-27"])
    assert (done.exit_code, "nothing is named" in done.stderr) == (2, True)
    monkeypatch.setattr("barkwright.cli.done._fit", lambda *_: None)  # whatever else may slip through
    done = CliRunner().invoke(main, ["done", str(yard), "--crown", "green", "--located", "--on", "2026-11-27"])
    assert (done.exit_code, "not recorded: entry 1: pieces is missing" in done.stderr) == (3, True)
    assert not (tmp_path / "yard.journal.yaml").exists()
