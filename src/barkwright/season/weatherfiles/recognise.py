"""Which format a file is in, told from its header and never from its name; and the file, read."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from barkwright.diagnostics import Diagnostic, Place
from barkwright.record import dataclass
from barkwright.season.weatherfiles import canada, ghcn, plain, summaries
from barkwright.season.weatherfiles.part import Part, refused
from barkwright.season.weatherfiles.strangers import Stranger, by_bytes, by_dates, by_header, by_line
from barkwright.season.weatherfiles.table import DELIMITERS, Table, cells, decoded, table_of

HEADER_WITHIN = 60  # lines; ours: older Canadian copies have about 25 lines above their header
SHOWN_HEADERS = 12


@dataclass(frozen=True, slots=True)
class Format:
    """A format: does a header fit it, and how is a table with that header read?"""

    kind: str
    fits: Callable[[Sequence[str]], bool]
    read: Callable[[Table, Sequence[str], str | None], Part]
    lower: bool = False  # names are handed over in lower case, else in upper


FORMATS = (
    Format(canada.KIND, canada.is_canada, canada.read_canada, lower=True),
    Format(ghcn.KIND, ghcn.is_ghcn, ghcn.read_ghcn),
    Format(summaries.KIND, summaries.is_summaries, summaries.read_summaries),
    Format(plain.KIND, plain.is_plain, plain.read_plain, lower=True),
)


@dataclass(frozen=True, slots=True)
class Header:
    """A line that may be a header."""

    at: int
    delimiter: str
    names: tuple[str, ...]  # as written


def read_part(content: bytes, file: str, units: str | None) -> Part:
    """The days in the bytes of one file, or the errors that say what it is instead."""
    stranger = by_bytes(content)
    if stranger:
        return _foreign(file, stranger, 1)
    text, notes = decoded(content, file)
    if text is None:
        return Part(file, "", errors=list(notes))
    table = table_of(text, file)
    headers = list(_headers(table))
    if not headers:
        hint = "download it again"
        return Part(file, "", errors=[Diagnostic("error", "empty", "the file is empty", Place(file, 1, 1), hint=hint)])
    for header in headers:
        part = _read(table, header, units)
        if part is not None:
            part.notes[:0] = notes
            return part
    return _unknown(table, headers[0])


def _headers(table: Table) -> Iterator[Header]:
    for at, line in enumerate(table.lines[:HEADER_WITHIN]):
        if not line.strip() or line.startswith("#"):
            continue
        delimiter = max(DELIMITERS, key=line.count)
        names = cells(line, delimiter)
        if names is not None:
            yield Header(at, delimiter, tuple(name.strip() for name in names))
        elif len(line) > 200:
            yield Header(at, delimiter, (line[:200],))


def _read(table: Table, header: Header, units: str | None) -> Part | None:
    """The file read by one format's reader, or refused as what it is; None where this is no header that is known."""
    table = Table(table.file, table.lines, table.cut, header.at, header.delimiter, header.names)
    upper = tuple(_tidy(name).upper() for name in header.names)
    stranger = by_header(upper) or by_line(table.lines[header.at])
    if stranger:
        return _foreign(table.file, stranger, header.at + 1)
    for one in FORMATS:
        names = tuple(name.lower() for name in upper) if one.lower else upper
        if one.fits(names):
            twice = next((name for name in names if name and names.count(name) > 1), None)
            if twice is not None:
                message = f"the column {twice} stands twice in the header"
                return refused(table, one.kind, "weather-file", message, "download the file again")
            return _not_daily(table, upper) or one.read(table, names, units)
    return None


def _not_daily(table: Table, names: Sequence[str]) -> Part | None:
    if "DATE" not in names:
        return None
    at = names.index("DATE")
    first = (cells(line, table.delimiter) for line in table.lines[table.header_at + 1 : table.header_at + 41])
    stranger = by_dates([row[at].strip() for row in first if row and len(row) > at])
    return _foreign(table.file, stranger, table.header_at + 2) if stranger else None


def _tidy(name: str) -> str:
    """A name of a header without what encodings make of a degree sign."""
    return "".join(letter for letter in name if letter.isascii()).strip()


def _foreign(file: str, stranger: Stranger, line: int) -> Part:
    message = f"this is {stranger.what}, not a daily record"
    return Part(
        file, "", errors=[Diagnostic("error", "weather-file", message, Place(file, line, 1), hint=stranger.instead)]
    )


def _unknown(table: Table, header: Header) -> Part:
    seen = ", ".join(name[:40] or "(empty)" for name in header.names[:SHOWN_HEADERS])
    more = f" and {len(header.names) - SHOWN_HEADERS} more" if len(header.names) > SHOWN_HEADERS else ""
    message = f"this is no daily weather file that is known; its first line reads {seen}{more}"
    hint = f"known are {', '.join(one.kind for one in FORMATS)}; the last begins with date,tmax_c,tmin_c"
    where = Place(table.file, header.at + 1, 1)
    return Part(table.file, "", errors=[Diagnostic("error", "weather-file", message, where, hint=hint)])
