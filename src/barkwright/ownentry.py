"""One entry of the user's own files, asked field by field: every fault is told once, at its place."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from barkwright.diagnostics import Code, Diagnostic, Place
from barkwright.ownfiles import near
from barkwright.yamldoc import Document, Loc

YOURS = "your own knowledge"  # what an entry rests on whose basis is ours: the user's
BASES = ("ours", "from memory", "common practice, no source")
LONGEST = 300  # letters of a text
MOST_ENTRIES = 500  # of one part of one file; ours
MOST_ODD_KEYS = 50  # told of one entry; ours
SAYS = ("source", "basis", "note")


class Entry:
    """A mapping at a place of a document. A field that is missing or faulty is None, and the entry is then not sound.

    `name` stands before each message: region 'heron-valley'.
    """

    def __init__(self, document: Document, at: Loc, name: str, found: list[Diagnostic]) -> None:
        self.document = document
        self.at = at
        self.name = name
        self.sound = True
        self.found = found
        node = document.node(at)
        self._fields = node.value if node.kind == "mapping" else {}
        if node.kind != "mapping":
            self.fault(
                "odd-shape", (), f"expected keys with values, not a {node.kind}", "see 'barkwright schema local'"
            )

    def fault(self, code: Code, key: Loc | str, message: str, hint: str, at_key: bool = False) -> None:
        """Something wrong with the value of a key, or with the key itself where `at_key`."""
        at: Loc = (*self.at, *((key,) if isinstance(key, str) else key))
        node = self.document.node(at)
        where = self.document.key_place(at) if at_key else self.document.place(at)
        value = node.text if node.kind == "scalar" and node.text else None
        self.found.append(Diagnostic("error", code, f"{self.name}: {message}", where, None, value, hint))
        self.sound = False

    @property
    def where(self) -> Place:
        """Where the entry stands."""
        return self.document.key_place(self.at)

    def has(self, key: str) -> bool:
        """Is the key there?"""
        return key in self._fields

    def only(self, known: Sequence[str]) -> None:
        """No key but these, and those that every entry has."""
        odd = [key for key in self._fields if key not in (*known, *SAYS)]
        for key in odd[:MOST_ODD_KEYS]:
            self.fault("unknown-key", key, f"unknown key '{key}'", near(key, (*known, *SAYS)), at_key=True)

    def needs(self, *keys: str) -> None:
        """Each of these keys is there."""
        for key in keys:
            if key not in self._fields:
                self.fault("missing-key", (), f"{key} is missing", f"add {key}:")

    def number(self, key: str, least: float, most: float, unit: str) -> float | None:
        """A number between two bounds, both included, without its unit."""
        if key not in self._fields:
            return None
        value = self._fields[key].value
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            written = self._fields[key].text
            code: Code = "wrong-unit" if written[:1].isdigit() else "bad-number"
            self.fault(code, key, f"{key} '{written}' is no plain number", f"write a number, in {unit}")
            return None
        if not least <= value <= most:
            self.fault("out-of-range", key, f"{key} {value:g} is out of range", f"{least:g} to {most:g} {unit}")
            return None
        return float(value)

    def text(self, key: str) -> str | None:
        """Some words, on one line."""
        if key not in self._fields:
            return None
        value = self._fields[key].value
        words = " ".join(value.split()) if isinstance(value, str) else ""
        if not words:
            self.fault("bad-value", key, f"{key} is no text", "write some words, in quotes where in doubt")
        elif len(words) > LONGEST:
            self.fault("bad-value", key, f"{key} is longer than {LONGEST} letters", "say it shorter")
        return words if words and len(words) <= LONGEST else None

    def word(self, key: str, known: Sequence[str]) -> str | None:
        """One of a few words."""
        text = self.text(key)
        if text is not None and text not in known:
            self.fault("bad-choice", key, f"{key} '{text}' is not one of {', '.join(known)}", near(text, known))
            return None
        return text

    def rests_on(self) -> str:
        """What the entry rests on: its source in words, or its basis. An entry says one of the two."""
        self.text("note")
        source, basis = self.text("source"), self.word("basis", BASES)
        if not self.has("source") and not self.has("basis"):
            message = "it says neither its source nor its basis"
            self.fault("uncited", (), message, "add source: and where it comes from, or basis: ours", at_key=True)
        return source or (basis if basis and basis != "ours" else YOURS)


def entries_by_id(document: Document, part: str, word: str, found: list[Diagnostic]) -> Iterator[tuple[str, Entry]]:
    """The entries of a part that is a mapping from ids to entries."""
    written = document.data.get(part)
    if written is None:
        return
    if not isinstance(written, dict):
        message = f"{part}: is made of ids, each with its keys below it"
        found.append(Diagnostic("error", "odd-shape", message, document.place((part,)), hint=f"write {part}: and ids"))
        return
    if too_many(document, part, len(written), found):
        return
    for name in written:
        entry = Entry(document, (part, name), f"{word} '{name}'", found)
        if entry.sound:
            yield name, entry


def listed_entries(document: Document, part: str, word: str, found: list[Diagnostic]) -> Iterator[tuple[str, Entry]]:
    """The entries of a part that is a list of entries with an id each."""
    written = document.data.get(part)
    if written is None:
        return
    if not isinstance(written, list):
        message = f"{part}: is a list of entries"
        found.append(Diagnostic("error", "odd-shape", message, document.place((part,)), hint="begin each with - id:"))
        return
    if too_many(document, part, len(written), found):
        return
    for number, each in enumerate(written):
        name = each.get("id") if isinstance(each, dict) else None
        called = f"{word} '{name}'" if isinstance(name, str) and name else f"{word} {number + 1}"
        entry = Entry(document, (part, number), called, found)
        if entry.sound:
            entry.needs("id")
            yield entry.text("id") or "", entry


def too_many(document: Document, part: str, count: int, found: list[Diagnostic]) -> bool:
    """Are these more entries than are read? If so, that is told."""
    if count <= MOST_ENTRIES:
        return False
    message = f"{part}: has {count:,} entries, more than {MOST_ENTRIES:,}"
    found.append(
        Diagnostic("error", "too-large", message, document.key_place((part,)), hint="keep what this site needs")
    )
    return True


class Taken:
    """Which ids are taken already, by an entry of these files."""

    def __init__(self) -> None:
        self._places: dict[str, Place] = {}

    def free(self, name: str, entry: Entry, key: str | None = None) -> bool:
        """Is the id free? If not, that is told."""
        if name in self._places:
            first = self._places[name]
            message = f"this id is taken by the entry in line {first.line} of {first.file}"
            entry.fault("duplicate-id", key if key else (), message, "one id, one entry", at_key=key is None)
            return False
        self._places[name] = entry.where
        return True
