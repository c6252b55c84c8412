"""A table of cells before anybody knows what they mean, and the refusals of a file that is none."""

from __future__ import annotations

import re
import unicodedata
from functools import cache

from barkwright.datafile import load
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Usual:
    """What the middle tree of a sheet usually measures, and how widely the logarithm of it is spread."""

    usual: float
    spread: float


@dataclass(frozen=True, slots=True)
class SheetLimits:
    """data/intake/sheets.yaml; what each means stands there."""

    checked_on: str
    basis: str
    most_bytes: int
    most_marks: int
    most_rows: int
    most_lines: int
    most_columns: int
    most_cells: int
    most_letters: int
    header_rows: int
    sample_rows: int
    across_in: Usual
    along_ft: Usual
    log_ft: Usual
    slenderness: Usual
    mixed: float
    stated: float
    language: float
    odd: float
    certain: float
    both_filled: float


@dataclass(frozen=True, slots=True)
class Grid:
    """The cells of one table: each row with its number in the file, empty rows left out, text without dirt."""

    name: str  # of the worksheet; empty for a text file
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    notes: tuple[str, ...] = ()  # what had to be recognised to read it
    doubts: tuple[str, ...] = ()


class NoTableError(Exception):
    """A file that is no table of trees, in the words of a diagnostic."""

    def __init__(self, message: str, hint: str, line: int = 1) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.line = line


def clean(cell: str) -> str:
    """A cell's text in one line: blanks and line breaks as one blank, without what steers a terminal."""
    if cell.isascii() and cell.isprintable():
        return cell.strip()
    kept = (one if one.isprintable() else " " for one in unicodedata.normalize("NFC", cell))
    return re.sub(r"\s+", " ", "".join(kept)).strip()


def bare(text: str) -> str:
    """The text for comparing: small letters without accents, marks as blanks. 'Höjd (m)' -> 'hojd m'."""
    low = text.casefold().translate(_LETTERS)
    if not low.isascii():
        low = "".join(one for one in unicodedata.normalize("NFKD", low) if not unicodedata.combining(one))
    return re.sub(r"[^\w#%\"'✓✔]+|_", " ", low).strip()


def bounded(rows: int, cells: int, columns: int, line: int) -> None:
    """Refuse a table that has grown too large."""
    limits = sheet_limits()
    hint = "keep only the trees of this site, and the columns about them"
    if columns > limits.most_columns:
        raise NoTableError(f"a row has more than {limits.most_columns} cells", hint, line)
    if rows > limits.most_rows:
        raise NoTableError(f"the table has more than {limits.most_rows:,} rows", hint, line)
    if cells > limits.most_cells:
        raise NoTableError(f"the table has more than {limits.most_cells:,} cells", hint, line)


@cache
def sheet_limits() -> SheetLimits:
    """The limits and usual sizes of field sheets. Ours."""
    return load("intake/sheets.yaml", SheetLimits)


_LETTERS = str.maketrans({"ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "đ": "d", "’": "'"})
