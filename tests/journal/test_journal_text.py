"""The journal as a file: what is wrong with one is said with its place, and what stands there is never changed."""

from __future__ import annotations

from datetime import date

import pytest

from barkwright.journal.entries import Cut, Entry, Journal
from barkwright.journal.reading import read_journal, still_to_come
from barkwright.journal.writing import begun, with_entries

HEAD = "barkwright-journal: 1\nsite: Heron Lake\nentries:\n"
DONE = "  - {id: 1, recorded: 2026-11-20, did: treated, date: 2026-11-20, pieces: [T1/1], method: chip}\n"
FAULTS = [
    ("", "empty", 1),
    ("entries: []\n", "bad-version", 1),
    ("barkwright-journal: 2\n", "bad-version", 1),
    ("barkwright-journal: true\n", "bad-version", 1),
    ("[]\n", "odd-shape", 1),
    (HEAD.replace("site", "sitte"), "unknown-key", 2),
    ("barkwright-journal: 1\nentries: 3\n", "odd-shape", 2),
    (HEAD + "  - 3\n", "odd-shape", 4),
    (HEAD + DONE.replace("did: treated", "did: treatet"), "bad-value", 4),
    (HEAD + DONE.replace("method: chip", "method: chop"), "bad-value", 4),
    (HEAD + DONE.replace("method: chip", "metod: chip"), "unknown-key", 4),
    (HEAD + DONE.replace(", method: chip", ""), "missing-key", 4),
    (HEAD + DONE.replace("did: treated, ", ""), "missing-key", 4),
    (HEAD + DONE.replace("date: 2026-11-20", "date: 2026-11-31"), "bad-value", 4),
    (HEAD + DONE.replace("id: 1", "id: one"), "bad-value", 4),
    (HEAD + DONE.replace("pieces: [T1/1]", "pieces: T1/1"), "bad-value", 4),
    (HEAD + DONE.replace("method: chip", "method: chip, looked: [base]"), "unknown-key", 4),
    (HEAD + DONE + DONE, "duplicate-id", 5),
    (HEAD + DONE + "  - {id: 2, recorded: x, did: undone, date: 2026-11-21, undoes: 7}\n", "unknown-name", 5),
    (HEAD + DONE + "".join(
        f"  - {{id: {n}, recorded: x, did: undone, date: 2026-11-21, undoes: 1}}\n" for n in (2, 3)
    ), "duplicate-id", 6),
    (HEAD + DONE + "  - {id: 2, recorded: x, did: undone, date: 2026-11-21}\n", "missing-key", 5),
    (HEAD + "  - &a {id: 1}\n", "not-plain", 4),
    (HEAD + DONE.replace("T1/1", "T1\x1b[31m"), "control-character", 4),
]  # fmt: skip


@pytest.mark.parametrize(("text", "code", "line"), FAULTS)
def test_a_fault_is_said_once_with_its_line(text, code, line):
    journal, found = read_journal(text, "heron.journal.yaml")
    assert journal is None
    assert [one.code for one in found] == [code]
    assert found[0].where is not None
    assert found[0].where.line == line
    assert found[0].hint


def test_an_entry_of_a_day_to_come_is_told_with_its_line():
    text = HEAD + DONE + DONE.replace("id: 1", "id: 2").replace("date: 2026-11-20", "date: 2027-02-01")
    journal, _ = read_journal(text, "heron.journal.yaml")
    assert journal is not None
    told = still_to_come(journal, text, "heron.journal.yaml", date(2026, 11, 27))
    assert [(one.code, one.where.line if one.where else 0) for one in told] == [("entry-in-future", 5)]
    assert "entry 2 is dated 2027-02-01" in told[0].message
    assert still_to_come(journal, text, "heron.journal.yaml", date(2027, 2, 1)) == ()
    later = text.replace("recorded: 2026-11-20", "recorded: 2027-02-01")
    journal, _ = read_journal(later, "heron.journal.yaml")
    assert journal is not None
    assert still_to_come(journal, later, "heron.journal.yaml", date(2026, 11, 27)) == ()


def test_a_journal_without_entries_is_sound():
    journal, found = read_journal(begun("Heron: 'Lake' # 7"), "heron.journal.yaml")
    assert found == ()
    assert journal == Journal()


def entries() -> tuple[Entry, ...]:
    cut = Cut(log_length_ft=8, stump_height_ft=0.5, trim_ft=0, treat_over_in=5)
    return (
        Entry(
            id=1, recorded="2026-11-20T10:00", did="treated", on=date(2026, 11, 20), pieces=("T1/1", "T 2/limbs"),
            method="debark", left="bark: 'not' burnt # yet", by="Åsa \\ \"Bo\"", hours=3.5, cut=cut,
        ),
        Entry(
            id=2, recorded="2026-11-21", did="looked", on=date(2026, 11, 21), pieces=("T1",), stages=("larvae",),
            looked=("base", "sunny"), note="yes",
        ),
        Entry(id=3, recorded="2026-11-22", did="undone", on=date(2026, 11, 22), undoes=1),
    )  # fmt: skip


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_what_is_written_is_read_back_and_what_was_there_stays(end):
    before = (begun("Heron Lake") + "# a word of my own\n").replace("\n", end)
    text = before
    for entry in entries():
        longer = with_entries(text, [entry])
        assert longer.startswith(text)
        text = longer
    journal, found = read_journal(text, "heron.journal.yaml")
    assert found == ()
    assert journal is not None
    assert journal.entries == entries()
    assert end == "\n" or text.count("\n") == text.count("\r\n")


def test_an_entry_goes_on_a_line_of_its_own_where_the_last_one_has_no_end():
    text = with_entries(begun("x"), entries()[:1]).rstrip("\n")
    journal, found = read_journal(with_entries(text, entries()[1:]), "x")
    assert found == ()
    assert journal is not None
    assert [one.id for one in journal.entries] == [1, 2, 3]


def test_entries_that_are_taken_back_or_still_to_come_do_not_hold():
    journal = Journal(entries())
    assert [one.id for one in journal.standing(date(2026, 11, 30))] == [2]
    assert [one.id for one in journal.standing(date(2026, 11, 20))] == []
    assert [one.id for one in Journal(entries()[:2]).standing(date(2026, 11, 20))] == [1]
    assert journal.next_id == 4
