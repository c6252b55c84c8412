"""A text file with cells between commas, semicolons, tabs or bars, in any of the usual ways of writing letters."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Sequence

from barkwright.intake.grid import Grid, NoTableError, bounded, clean, sheet_limits

_SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
LONGEST_LINE = 1_000_000  # letters; ours
_AGAIN = "save it as CSV (UTF-8) in the program that wrote it"
_STRANGE = {
    b"%PDF": "a PDF", b"{\\rtf": "a text document", b"\x89PNG": "a picture", b"\xff\xd8\xff": "a photo",
    b"GIF8": "a picture",
    b"<!DOC": "a web page", b"<!doc": "a web page", b"<html": "a web page", b"<HTML": "a web page", b"<?xml": "XML",
    b"\x1f\x8b": "a packed file", b"7z\xbc\xaf": "a packed file", b"Rar!": "a packed file", b"SQLite": "a database",
}  # fmt: skip


def text_of(content: bytes) -> tuple[str, tuple[str, ...]]:
    """The text of a file, and how its letters were recognised where it is not plain UTF-8. Raises NoTableError."""
    for start, kind in _STRANGE.items():
        if content.startswith(start):
            raise NoTableError(f"the file is {kind}, not a table", _AGAIN)
    if content.startswith((b"\xff\xfe\x00\x00", b"\x00\x00\xfe\xff")):
        return _decoded(content, "utf-32", "UTF-32")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _decoded(content, "utf-16", "UTF-16")
    pairs = len(content[:4096]) // 2
    odd, even = content[1:4096:2].count(0), content[0:4096:2].count(0)
    if max(odd, even) * 2 > pairs > 1:
        return _decoded(content, "utf-16-le" if odd > even else "utf-16-be", "UTF-16 without its mark")
    if b"\x00" in content:
        raise NoTableError(
            "the file holds bytes that are no text", _AGAIN, content[: content.index(0)].count(b"\n") + 1
        )
    try:
        return content.removeprefix(b"\xef\xbb\xbf").decode("utf-8"), ()
    except UnicodeDecodeError:
        text = content.decode("cp1252", "replace")
        return text, (
            "its letters are not UTF-8: read as Western European (Windows, Latin-1); check names with accents",
        )


def grid_of(text: str, notes: Sequence[str], worth: Callable[[Grid], float]) -> Grid:
    """The cells, between whichever of the separators makes the table that is `worth` most. Raises NoTableError."""
    first = text.split("\n", 1)[0].strip().casefold()
    if first.startswith("sep=") and len(first) == 5 and first[4] in _SEPARATORS:
        return _read(text.split("\n", 1)[1], first[4], notes, 2)
    head = text[:200_000]
    there = [one for one in _SEPARATORS if one in head] or [","]
    if len(there) == 1:
        return _read(text, there[0], notes)
    best = max(there, key=lambda one: _trial(head, one, worth))
    return _read(text, best, notes)


def _trial(head: str, separator: str, worth: Callable[[Grid], float]) -> float:
    lines = head.split("\n")[: sheet_limits().header_rows + 20]
    try:
        grid = _read("\n".join(lines)[:100_000], separator, ())
    except NoTableError:
        return -1.0
    width = max((len(cells) for _, cells in grid.rows), default=0)
    same = sum(len(cells) == width for _, cells in grid.rows) / max(len(grid.rows), 1)
    return worth(grid) + (0.5 * same if width > 1 else 0.0)


def _read(text: str, separator: str, notes: Sequence[str], line: int = 1) -> Grid:
    limits = sheet_limits()
    rows: list[tuple[int, tuple[str, ...]]] = []
    cells = 0
    reader = csv.reader(_lines(text), delimiter=separator)
    start = line
    if text.count("\n") + text.count("\r") > limits.most_lines:
        hint = "keep only the trees of this site"
        raise NoTableError(f"the file has more than {limits.most_lines:,} lines", hint)
    try:
        for row in reader:
            number, start = start, line + reader.line_num
            if any(row):
                kept = tuple(clean(cell) for cell in row)
                while kept and not kept[-1]:
                    kept = kept[:-1]
                if kept:
                    cells += len(kept)
                    bounded(len(rows) + 1, cells, len(kept), number)
                    rows.append((number, kept))
    except csv.Error as error:
        where = line + reader.line_num
        hint = "look at that line in the program that wrote the table, and save it again as CSV"
        if "field limit" in str(error):
            raise NoTableError(
                f"a cell in line {start} has more than {limits.most_letters:,} letters: is a quote open there?",
                hint,
                start,
            ) from None
        raise NoTableError(f"line {where} cannot be read as a table: {error}", hint, where) from None
    said = () if separator == "," else (f"cells are between {_SEPARATORS[separator]}",)
    return Grid("", tuple(rows), (*notes, *said))


def _lines(text: str) -> Iterator[str]:
    """Lines with their breaks, of Windows, Unix and old Macs; other signs that split lines stay inside theirs."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n") if "\r" in text else text
    begin = 0
    while begin <= len(plain):  # one by one: a file of millions of empty lines is not laid out in the memory
        end = plain.find("\n", begin)
        end = len(plain) if end < 0 else end
        if end - begin > LONGEST_LINE:
            line = plain.count("\n", 0, begin) + 1
            raise NoTableError(f"line {line} has more than {LONGEST_LINE:,} letters", _AGAIN, line)
        yield f"{plain[begin:end]}\n"
        begin = end + 1


def _decoded(content: bytes, code: str, name: str) -> tuple[str, tuple[str, ...]]:
    try:
        text = content.decode(code).removeprefix("\ufeff")
    except UnicodeDecodeError:
        raise NoTableError(f"the file begins like {name} and is not", _AGAIN) from None
    if "\x00" in text:
        raise NoTableError("the file holds bytes that are no text", _AGAIN)
    return text, (f"its letters are {name}",)
