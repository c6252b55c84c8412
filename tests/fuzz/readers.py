"""Every reader of the program as one function of bytes, which fails where the reader does not hold to its word.

A reader gives what it read, or says what is wrong: never both nothings, never an exception of its own. Shared by the
hypothesis tests, the coverage-guided search (`atheris_readers.py`) and the measured bombs.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path

from sheet_readers import read_field_sheet, read_into
from watch import ON, errors, told

from barkwright.cli.local import own_faults
from barkwright.costs.proxies import rate_table
from barkwright.diagnostics import Diagnostic
from barkwright.intake.described import one_tree_sheet
from barkwright.intake.draft import NoDraftError, with_draft
from barkwright.intake.interview import Interview, current
from barkwright.intake.replying import reply, sheet_of
from barkwright.intake.sheet import OPTIONS_FILE, SpecError
from barkwright.inventory.model import Inventory
from barkwright.inventory.reading import read_inventory
from barkwright.journal.applied import as_it_stands
from barkwright.journal.entries import Journal
from barkwright.journal.reading import read_journal
from barkwright.journal.writing import begun, with_entries
from barkwright.output.journal import journal_text
from barkwright.output.local import local_record
from barkwright.ownfiles import own_files
from barkwright.schedule.issued import issued_text, read_issued
from barkwright.season.ownregions import region_book
from barkwright.season.weatherfiles.reading import read_weather
from barkwright.stem.ownspecies import species_book
from barkwright.study.change import UnfitChangeError
from barkwright.study.phrases import read_phrase
from barkwright.treatment.local import own_rules, rule_book
from barkwright.treatment.rates import rate_book
from barkwright.yamldoc import decode, read_document

ROOT = Path(__file__).parents[2]
BOOKS = (own_files, rule_book, rate_book, region_book, species_book, rate_table)


@cache
def site() -> Inventory:
    """A small sound site, for what is read beside one."""
    text = (ROOT / "examples" / "yard-tree.yaml").read_text(encoding="utf-8")
    inventory, found = read_inventory(text, "yard-tree.yaml", ON)
    assert inventory is not None, found
    return inventory


def read_yaml(content: bytes) -> None:
    """Any YAML document."""
    text, found = decode(content, "f.yaml")
    if text is not None:
        document, found = read_document(text, "f.yaml")
        assert (document is None) == bool(found)
        if document is not None:
            repr(document.data)
    told(found, text or "")


def read_site_file(content: bytes) -> None:
    """An inventory."""
    text, found = decode(content, "site.yaml")
    if text is not None:
        inventory, found = read_inventory(text, "site.yaml", ON, lambda local: {"region": ("interior-plateau", *local)})
        assert (inventory is None) == errors(found)
        if inventory is not None:
            inventory.model_dump_json(by_alias=True)
    told(found, text or "")


def read_journal_file(content: bytes) -> None:
    """A journal, put into a site; one that is sound can be written on and is read again."""
    text, found = decode(content, "site.journal.yaml")
    if text is not None:
        journal, found = read_journal(text, "site.journal.yaml")
        assert (journal is None) == errors(found)
        if journal is not None:
            stands, found = as_it_stands(site(), journal, ON, "site.journal.yaml")
            assert {tree.id for tree in stands.trees} == {tree.id for tree in site().trees}
            assert _plain(journal_text(journal, "site.journal.yaml"))
            _written_again(journal)
    told(found, text or "")


def _written_again(journal: Journal) -> None:
    again, found = read_journal(with_entries(begun("x"), journal.entries), "again")
    assert again is not None, found
    assert [one.id for one in again.entries] == [one.id for one in journal.entries]


def _plain(text: str) -> bool:
    return text.replace("\n", "").isprintable()


def read_issued_file(content: bytes) -> None:
    """An order that was given out."""
    text, found = decode(content, "site.issued.json")
    if text is not None:
        order, found = read_issued(text, "site.issued.json")
        assert (order is None) == errors(found)
        if order is not None:
            again, _ = read_issued(issued_text(order), "again")
            assert again == order
    told(found, text or "")


@contextlib.contextmanager
def beside(content: bytes, name: str) -> Iterator[str]:
    """The content as a file, as long as it is needed."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, name)
        Path(path).write_bytes(content)
        yield path


def read_weather_file(content: bytes) -> None:
    """A file of daily weather, by the name that a site gives it."""
    with beside(content, "daily.csv") as path:
        for units in (None, "imperial"):
            reading = read_weather.__wrapped__((path,), units, None)
            assert (reading.weather is None) == errors(reading.diagnostics)
            told(reading.diagnostics if reading.weather is None else reading.weather.notes)


def read_local_file(content: bytes) -> None:
    """A file of local knowledge, read by every room."""
    with beside(content, "local.yaml") as path:
        try:
            told(own_faults((path,)))
            told(own_files((path,)).diagnostics)
            books = (rate_book((path,)), region_book((path,)), species_book((path,)), rate_table((path,)))
            own = [*own_rules((path,)), *(one for book in books for one in book.own)]
            local_record(tuple(own), (), None)
        finally:
            for book in BOOKS:
                book.cache_clear()


def read_draft(content: bytes) -> None:
    """Answers that were kept when a terminal closed."""
    text = content.decode("utf-8", "replace")
    for command in ("tree", "new"):
        try:
            after, refused = with_draft(Interview(command, ON), text)
        except NoDraftError:
            continue
        assert refused >= 0
        sheet_of(after)


def read_answer(content: bytes) -> None:
    """A line typed at the terminal, as the answer to every question in turn."""
    text = content.decode("utf-8", "replace").replace("\n", " ")
    interview = Interview("tree", ON)
    for usual in _ANSWERS:
        turn = reply(interview, text)
        assert not turn.refused or turn.said
        interview = turn.interview if not turn.refused else reply(interview, usual).interview
        if current(interview) is None:
            break


_ANSWERS = ("don't know",) * 4 + ("53.1, -122.4", "white", "standing", *("don't know",) * 20)


def read_tried(content: bytes) -> None:
    """A change in plain words."""
    text = content.decode("utf-8", "replace")
    try:
        change = read_phrase(text, site(), ON)
    except UnfitChangeError as fault:
        told((Diagnostic("error", "bad-value", str(fault), hint=fault.hint),))
    else:
        assert change.title
        change.inventory.model_dump_json()


def read_options(answers: Mapping[str, object]) -> None:
    """The options of `tree`, as the command line hands them on."""
    try:
        sheet = one_tree_sheet(answers, "imperial")
    except SpecError as fault:
        told((Diagnostic("error", "bad-value", str(fault)),))
        return
    inventory, found = read_inventory(sheet.text, OPTIONS_FILE, ON)
    assert (inventory is None) == errors(found)
    told(sheet.by_option(found))


READERS: Mapping[str, Callable[[bytes], None]] = {
    "yaml": read_yaml,
    "inventory": read_site_file,
    "journal": read_journal_file,
    "issued": read_issued_file,
    "weather": read_weather_file,
    "local": read_local_file,
    "sheet": read_field_sheet,
    "into": read_into,
    "draft": read_draft,
    "answer": read_answer,
    "try": read_tried,
}
