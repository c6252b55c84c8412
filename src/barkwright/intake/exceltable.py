"""An Excel workbook (.xlsx): the cells of its worksheets, within bounds, values in place of formulas."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from datetime import date, datetime, time
from typing import Any

from barkwright.intake.grid import Grid, NoTableError, bounded, clean, sheet_limits

ZIP, OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_AS_CSV = "or save the worksheet as CSV (UTF-8) there"
_BROKEN = "open it in the spreadsheet program and save it again as .xlsx, or as CSV"
_BLOCK = 1 << 20
_LAST_ROW = 1_048_576  # of a worksheet


class NoExcelError(Exception):
    """The library that reads workbooks is not installed."""


def is_workbook(content: bytes) -> bool:
    """Does the file begin like a workbook or another file of an office program?"""
    return content.startswith((ZIP, b"PK\x05\x06", OLE))


def worksheets(content: bytes) -> tuple[Grid, ...]:
    """The worksheets that hold anything, in their order. Raises NoTableError, and NoExcelError without the library."""
    if content.startswith(OLE):
        message = "the file is an old Excel file (.xls), or is protected by a password"
        raise NoTableError(message, f"save it as .xlsx without a password, {_AS_CSV}")
    formulas = _proven(content)
    try:
        import openpyxl  # type: ignore[import-untyped]
    except ImportError:
        raise NoExcelError from None
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False)
            grids = tuple(_grid(sheet) for sheet in book.worksheets)
            if formulas:
                plain = openpyxl.load_workbook(io.BytesIO(content), read_only=True, keep_links=False)
                grids = tuple(_with_formulas(grid, plain[grid.name], book[grid.name]) for grid in grids)
    except (NoTableError, MemoryError):
        raise
    except Exception as fault:  # whatever the library stumbles over, the file is the cause
        raise NoTableError(f"the workbook cannot be read: {_said(fault)}", _BROKEN) from None
    return tuple(grid for grid in grids if grid.rows)


def _proven(content: bytes) -> bool:
    """Refuse what is no workbook or unpacks to too much; True if a cell may hold a formula."""
    limits = sheet_limits()
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            parts = packed.infolist()
            names = {part.filename for part in parts}
            if "mimetype" in names and "content.xml" in names:
                raise NoTableError("the file is an OpenDocument spreadsheet (.ods)", f"save it as .xlsx, {_AS_CSV}")
            if "EncryptedPackage" in names or any(part.flag_bits & 1 for part in parts):
                raise NoTableError("the file is protected by a password", f"save it without a password, {_AS_CSV}")
            if "[Content_Types].xml" not in names or not any(re.search(r"workbook\d*\.xml$", one) for one in names):
                raise NoTableError("the file is a packed file without a workbook in it", "name a .xlsx or CSV file")
            if sum(part.file_size for part in parts) > limits.most_bytes or len(parts) > 2000:
                message = f"the workbook unpacks to more than {limits.most_bytes // 1_000_000} MB"
                raise NoTableError(message, f"keep only the worksheet with the trees, {_AS_CSV}")
            looked = [_looked(packed, part) for part in parts]  # every part is looked through
            if sum(marks for _, marks in looked) > limits.most_marks:
                raise NoTableError(
                    "the workbook holds too much to be read", f"keep only the worksheet with the trees, {_AS_CSV}"
                )
            return any(formula for formula, _ in looked)
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, OSError, RuntimeError, EOFError, ValueError) as fault:
        raise NoTableError(f"the workbook cannot be read: {_said(fault)}", _BROKEN) from None


def _looked(packed: zipfile.ZipFile, part: zipfile.ZipInfo) -> tuple[bool, int]:
    """Is it a worksheet with a formula, and how many marks has it? Refuses XML that defines entities or never ends."""
    with packed.open(part) as stream:
        tail, formula, marks = b"", False, 0
        while block := stream.read(_BLOCK):
            seen = tail + block
            if b"<!ENTITY" in seen or b"<!DOCTYPE" in seen or (not tail and seen[:2] in (b"\xff\xfe", b"\xfe\xff")):
                raise NoTableError("the workbook defines entities, which no spreadsheet program writes", _BROKEN)
            if len(block) == _BLOCK and b">" not in block:
                raise NoTableError("the workbook holds text without end, which no spreadsheet program writes", _BROKEN)
            formula = formula or b"<f>" in seen or b"<f " in seen
            marks += block.count(b"<")
            tail = block[-16:]
    return formula and "worksheets/" in part.filename, marks


def _grid(sheet: Any) -> Grid:
    rows: list[tuple[int, tuple[str, ...]]] = []
    cells = 0
    for number, values in _rows(sheet):
        kept = tuple(_text(value) for value in values)
        while kept and not kept[-1]:
            kept = kept[:-1]
        if kept:
            cells += len(kept)
            bounded(len(rows) + 1, cells, len(kept), number)
            rows.append((number, kept))
    hidden = () if sheet.sheet_state == "visible" else ("the worksheet is hidden in the workbook",)
    return Grid(clean(sheet.title), tuple(rows), hidden)


def _rows(sheet: Any) -> Iterator[tuple[int, tuple[Any, ...]]]:
    sheet.reset_dimensions()  # what the file says about its size is not to be trusted
    wide = 0
    for number, values in enumerate(sheet.iter_rows(values_only=True), 1):
        wide += len(values)
        if number > _LAST_ROW or wide > 20 * sheet_limits().most_cells:
            raise NoTableError("a worksheet has more cells than a spreadsheet program can show", _BROKEN)
        yield number, values


def _with_formulas(grid: Grid, plain: Any, shown: Any) -> Grid:
    """The grid with a doubt if it has formulas whose values the file does not hold."""
    empty = 0
    for (_, formulas), (_, values) in zip(_rows(plain), _rows(shown), strict=False):
        for formula, value in zip(formulas, values, strict=False):
            empty += value is None and isinstance(formula, str) and formula.startswith("=")
    if not empty:
        return Grid(grid.name, grid.rows, (*grid.notes, "cells with formulas are read by the values they last showed"))
    cells = "1 cell holds a formula" if empty == 1 else f"{empty:,} cells hold formulas"
    doubt = f"{cells} without a value: open the workbook in the spreadsheet program and save it again"
    return Grid(grid.name, grid.rows, grid.notes, (*grid.doubts, doubt))


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ", "minutes")
    if isinstance(value, date):
        return value.isoformat()
    return clean(str(value)[: sheet_limits().most_letters])


def _said(fault: BaseException) -> str:
    return clean(str(fault))[:120] or type(fault).__name__
