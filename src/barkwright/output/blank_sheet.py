"""The blank field sheet: for paper, for a phone's spreadsheet, and in characters."""

from __future__ import annotations

import csv
import io
import textwrap

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from barkwright.datafile import load
from barkwright.output.names import printable
from barkwright.record import dataclass
from barkwright.sources import DATA

TITLE = "Field sheet: spruce with beetles, one row a tree"
WIDE = 100  # letters of a line in characters
_KEPT = "\xa0"  # a blank at which no line ends


@dataclass(frozen=True, slots=True)
class BlankColumn:
    """A column of the blank sheet."""

    head: str
    paper: str
    share: int
    marks: tuple[str, ...]
    example: str
    metric: str  # the example where units are metric, if it is another one


@dataclass(frozen=True, slots=True)
class BlankSheet:
    """data/output/blank_sheet.yaml."""

    checked_on: str
    basis: str
    columns: tuple[BlankColumn, ...]
    codes: tuple[tuple[str, str], ...]
    safety: str


def blank_columns() -> tuple[BlankColumn, ...]:
    """The columns in their order."""
    return _sheet().columns


def blank_csv(units: str) -> str:
    """A table with the names of the columns and one row as an example, which the reader of sheets passes over."""
    sheet, metric = _sheet(), units == "metric"
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow([_with_units(one.head, units) for one in sheet.columns])
    rows.writerow([one.metric if metric and one.metric else one.example for one in sheet.columns])
    return out.getvalue()


def blank_html(units: str, rows: int, place: str | None) -> str:
    """A page to print, with a row of big boxes for each tree and the codes at the foot of every page."""
    loader = FileSystemLoader(DATA / "output")
    template = Environment(loader=loader, autoescape=True, undefined=StrictUndefined).get_template("blank_sheet.html")
    sheet = _sheet()
    columns = [
        {"paper": _with_units(one.paper, units), "share": one.share, "marks": one.marks}
        for one in sheet.columns
        if one.paper
    ]
    asked = {"text": printable, "title": TITLE, "place": place or "", "rows": rows, "safety": sheet.safety}
    codes = [(name, _with_units(said, units)) for name, said in sheet.codes]
    return template.render(columns=columns, codes=codes, **asked) + "\n"


def blank_text(units: str, rows: int, place: str | None) -> str:
    """The sheet in characters, a block of lines a tree."""
    sheet = _sheet()
    lines = [TITLE, "", f"Place: {printable(place or ''):<40} Day: {'_' * 12}  By: {'_' * 16}", ""]
    for number in range(1, rows + 1):
        fields = [_field(one, units) for one in sheet.columns if one.paper]
        lines += textwrap.wrap(
            "   ".join(fields), WIDE, break_long_words=False, initial_indent=f"{number:>2}. ", subsequent_indent="    "
        )
        lines.append("")
    lines += [*textwrap.wrap(sheet.safety, WIDE), ""]
    for name, said in sheet.codes:
        lines += textwrap.wrap(f"{name}: {_with_units(said, units)}", WIDE, subsequent_indent="  ")
    return "\n".join(lines).replace(_KEPT, " ") + "\n"


def _field(one: BlankColumn, units: str) -> str:
    name = _with_units(one.paper, units).replace("- ", "").replace(" ", _KEPT)
    filled = _KEPT.join(one.marks) if one.marks else "_" * max(4, one.share)
    return f"{name}{_KEPT}{filled}"


def _with_units(text: str, units: str) -> str:
    metric = units == "metric"
    said = {
        "across": "cm" if metric else "in",
        "along": "m" if metric else "ft",
        "breast": "1.3 m" if metric else "4.5 ft",
    }
    return text.format(**said) if "{" in text else text


def _sheet() -> BlankSheet:
    return load("output/blank_sheet.yaml", BlankSheet)
