"""From the bytes of a file to a header and rows that know their lines, whatever line ends and encoding it has."""

from __future__ import annotations

import csv
from collections.abc import Iterator

from barkwright.diagnostics import Diagnostic, Place
from barkwright.record import dataclass
from barkwright.season.weatherfiles.faults import Faults

DELIMITERS = (",", ";", "\t")
LONGEST_LINE = 20_000  # characters; ours: the widest daily file has about 200 columns


@dataclass(frozen=True, slots=True)
class Table:
    """A text file, line by line; `lines[header_at]` is its header."""

    file: str
    lines: list[str]
    cut: bool  # the last line has no end, so it may be the first part of a longer one
    header_at: int = 0
    delimiter: str = ","
    header: tuple[str, ...] = ()

    def place(self, line: int = 0, column: int = 1) -> Place:
        """A place in the file; line 0 is the header."""
        return Place(self.file, line or self.header_at + 1, column)

    def column(self, line: int, index: int) -> int:
        """Where the field number `index` of a line begins, counted from 1."""
        text, at, quoted = self.lines[line - 1], 0, False
        for position, letter in enumerate(text):
            if at == index:
                return position + 1
            if letter == '"':
                quoted = not quoted
            elif letter == self.delimiter and not quoted:
                at += 1
        return len(text) + 1 if at == index else 1


def decoded(content: bytes, file: str) -> tuple[str | None, tuple[Diagnostic, ...]]:
    """The text of a file: UTF-8 with or without its mark, UTF-16 with one, or else Windows-1252, and then said."""
    where = Place(file, 1, 1)
    try:
        if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
            text, other = content.decode("utf-16"), "UTF-16"
        else:
            text, other = content.decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        text, other = content.decode("cp1252", errors="replace"), "Windows-1252"
    if "\0" in text:
        hint = "download the file again, as CSV"
        return None, (Diagnostic("error", "weather-file", "this is no text file", where, hint=hint),)
    if not other:
        return text, ()
    message = f"the file is not in UTF-8 and was read as {other}: check the station's name"
    return text, (Diagnostic("note", "weather-read", message, where),)


def table_of(text: str, file: str) -> Table:
    """The text as lines, its header not yet known."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    cut = lines[-1].strip() != "" and not lines[-1].rstrip().endswith('"')
    while lines and not lines[-1].strip():
        lines.pop()
    return Table(file, lines, cut)


def cells(line: str, delimiter: str) -> list[str] | None:
    """The fields of one line; None where a quote is left open or the line is longer than any row."""
    if len(line) > LONGEST_LINE:
        return None
    if '"' not in line:
        return line.split(delimiter)
    if line.count('"') % 2:
        return None
    return next(csv.reader((line,), delimiter=delimiter), [])


def rows(table: Table, faults: Faults) -> Iterator[tuple[int, list[str]]]:
    """Line number and fields of every row with as many fields as the header; the others become faults."""
    width, last = len(table.header), len(table.lines)
    for number in range(table.header_at + 2, last + 1):
        line = table.lines[number - 1]
        if not line.strip() or line.startswith("#"):
            continue
        faults.rows += 1
        row = cells(line, table.delimiter)
        if row is None:
            faults.add("an open quote", number, 1, "a quote is left open, so the row is left out", line)
            continue
        if len(row) > width and not any(row[width:]):
            row = row[:width]
        if len(row) != width:
            message = f"the row has {len(row)} fields and the header {width}, so it is left out"
            faults.add("a wrong number of fields", number, 1, message, line)
            continue
        if number == last and table.cut:
            message = "the last line has no line end and may be cut off, so it is left out"
            faults.add("a cut end", number, 1, message, line, "end the file with an empty line if it is whole")
            faults.lines.discard(number)
            continue
        yield number, row
