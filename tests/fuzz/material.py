"""Sound files to begin with, odd values to put into them, and strategies that damage the one with the other."""

from __future__ import annotations

import io
import json
import re
import zipfile
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st

from barkwright.inventory.progress import BarkEnd  # noqa: F401 - the words below are its
from barkwright.study.phrases import PHRASES

ROOT = Path(__file__).parents[2]
START = date(2021, 4, 1)

ODD = (
    "", "~", "true", "no", "nan", ".inf", "-.inf", "1e400", "-1e400", "1e308", "5e-324", "-0", "0", "-1", "1" * 399,
    "9" * 5000, "0x1F", "1_000", "12,5", "1/0", "3-1/2 in", "12' 6\"", "1e99 km", "½", "٣٤", "1.5.2", "16.5 kg", "1:30",
    "0001-01-01", "9999-12-31", "1950-01-01", "2200-12-31", "2027-02-29", "2028-02-29", "2026-13-45", "12/31/2026",
    "é", "\u202eevil", "\u200b", "\x1b[31m", "\x00", "\x07", "\x85", "\u2028", "\ufeff", "\ufffe", "😀", "a\u0301",
    '"\\e[2J"', '"\\ud800"', '"\\0"', '"\\u202e"', "'", '"', "''", "[", "]", "{", "}", "[[[[", "{a: ", "- ", "? ", ": ",
    "#", "&a 1", "*a", "!!python/object:os.system x", "!t x", "<<: {a: 1}", "%YAML 9.9", "---", "...", "|", ">-", "`",
    "@", "x" * 300, "key_" * 500,
    "../../etc/passwd", "/dev/zero", "C:\\x", "http://example.org/", "=1+1", "T1/1", "{0}",
    "%s", "{tree.dbh}", "null", "[]", "{}", "[1, 2]", "{from: 2026-01-01}", "1e5", "-9999", "1000000", "9" * 20,
)  # fmt: skip
WORD = re.compile(r"[^\s:,\[\]{}]+")
JOURNAL = """\
barkwright-journal: 1
site: Tamarack Bend, house 12
entries:
  - {id: 1, recorded: '2026-11-21T10:00+00:00', did: felled, date: 2026-11-20, pieces: [T1], by: Ana, hours: 3.5}
  - id: 2
    recorded: 2026-11-22
    did: treated
    date: 2026-11-21
    pieces: [T1/1, T1/2]
    method: debark
    bark: lying
    left: bark not burnt yet
    cut: {log_length_ft: 8.0, stump_height_ft: 0.5, trim_ft: 0.0, treat_over_in: 5.0}
  - {id: 3, recorded: 2026-11-23, did: looked, date: 2026-11-22, pieces: [T1], stages: [larvae], looked: [top, bottom]}
  - {id: 4, recorded: 2026-11-23, did: called, date: 2026-11-22, pieces: [T1], appointment: 2026-12-01, note: utility}
  - {id: 5, recorded: 2026-11-24, did: undone, date: 2026-11-24, undoes: 1}
"""
ISSUED = json.dumps(
    {
        "format": 1,
        "on": "2026-11-20",
        "jobs": [
            {
                "tree": "T1", "pieces": ["T1/1", "T1/2"], "work": "fell", "way": None, "first": "2026-11-28",
                "last": "2026-11-29", "crew": "the two of us", "hours": 3.25,
            },
            {
                "tree": "site", "pieces": [], "work": "chip", "way": "chip", "first": "2026-12-05",
                "last": "2026-12-05", "crew": None, "hours": 1,
            },
        ],
        "ways": {"T1/1": "chip", "T1/2": "chip"},
        "facts": {"start": "2026-11-28"},
    },
    indent=1,
)  # fmt: skip
DRAFT = json.dumps(
    {
        "barkwright-draft": 1, "command": "new", "units": "imperial",
        "answers": {
            "place": "53.1, -122.4", "T1.species": "white", "T1.status": "standing", "T1.girth": "girth 52 in",
            "T1.height": "72 ft", "T1.attacked": "2026", "T1.found": "larvae", "T1.line": "out-of-reach",
            "T1.more": "yes", "T2.species": "engelmann", "T2.status": "stump", "own": "chain-saw; chipper 9 in 310/day",
        },
    },
    indent=1,
)  # fmt: skip
SHEET = """\
Tag,Species,DBH (cm),Height (m),Attacked,Notes,Date,Line
1,Picea glauca,42.5,22,2026,"frass, pitch",2026-10-20,far
2,white spruce,38,0,2025,,2026-10-20,12 m
3,Pinus contorta,30,18,,not a spruce,,
4,SW,"41,2",20.5,never,dead top,2026-10-21,?
"""
SHEET_2 = "Plot;Tree;SPCD;DIA;HT;STATUSCD;AGENTCD\n7;1;94;12.3;61;2;10\n7;2;93;9.1;44;1;\n7;3;108;8;40;2;10\n"


def examples(number: int) -> Any:
    """So many made-up cases in the usual run, forty times as many in a search (`--hypothesis-profile=search`)."""
    usual = getattr(settings.default, "derandomize", True)
    return settings(max_examples=number if usual else 40 * number)


def _weather() -> tuple[str, ...]:
    days = [START + timedelta(days=n) for n in range(12)]
    plain = "\n".join(
        ["date,tmax_c,tmin_c,precip_mm", *(f"{d},{10 + d.day % 7}.25,{d.day % 5}.5,0.4" for d in days), ""]
    )
    noaa = "\n".join([
        "STATION,NAME,DATE,PRCP,TMAX,TMIN,WT03",
        *(f'"US1","KNOLL, MT","{d}","0.29","{60 + d.day % 20}","{40 + d.day % 9}",""' for d in days), "",
    ])  # fmt: skip
    ghcn = "\n".join([
        '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"',
        *(f'"US1","{d}","45.5","-110.2","1402.1","KNOLL","{100 + d.day}",",,7","{d.day}",",I,7"' for d in days), "",
    ])  # fmt: skip
    canada = "\n".join([
        '"Longitude (x)","Latitude (y)","Station Name","Climate ID","Date/Time","Year","Month","Day","Data Quality",'
        '"Max Temp (°C)","Max Temp Flag","Min Temp (°C)","Min Temp Flag","Total Precip (mm)","Total Precip Flag",'
        '"Spd of Max Gust (km/h)","Spd of Max Gust Flag"',
        *(f'"-122.5","54.1","KNOLL","123","{d}","{d:%Y}","{d:%m}","{d:%d}","","{10 + d.day % 7}.5","","2.5","E","0",'
          f'"T","<31",""' for d in days), "",
    ])  # fmt: skip
    return plain, noaa, ghcn, canada


@cache
def seeds(reader: str) -> tuple[str, ...]:
    """Sound files, and some with one fault, of what a reader reads."""
    inventories = [*sorted((ROOT / "examples").rglob("*.yaml")), *sorted((ROOT / "tests/inventories").rglob("*.yaml"))]
    small = [one.read_bytes() for one in inventories if one.name != "local.yaml" and one.stat().st_size < 9000]
    local = (ROOT / "examples/kestrel-flats/local.yaml").read_text(encoding="utf-8")
    known = {
        "yaml": (local, JOURNAL, "a: [1, {b: 'c', d: \"e\"}]\nf: |\n  text\n  more\ng: >-\n  text\n"),
        "inventory": tuple(one.decode("utf-8", "replace") for one in small),
        "into": tuple(one.decode("utf-8", "replace") for one in small),
        "journal": (JOURNAL,),
        "issued": (ISSUED,),
        "weather": _weather(),
        "local": (local,),
        "sheet": (SHEET, SHEET_2),
        "draft": (DRAFT, DRAFT.replace('"new"', '"tree"')),
        "answer": (*PHRASES, "white", "53.1, -122.4", "54 12 N, 123 5 30 W", "girth 52 in", "stick 2 ft, 28 in, 80 ft",
                   "chain saw and chipper 9 in at 310 a day", "14.2, 12.9, 8; 12, 11, 8, x2",
                   "larvae, adults", "2026-10-20"),
        "try": PHRASES,
    }  # fmt: skip
    return known[reader]


@cache
def workbook() -> bytes:
    """A small workbook of trees, with a date, a formula and a second worksheet."""
    import openpyxl

    book = openpyxl.Workbook()
    rows = [
        ("Tag", "Species", "DBH cm", "Height m", "Seen"),
        ("A1", "white spruce", 42.5, 22, START),
        ("A2", "SW", 38, 0, None),
    ]
    for row in rows:
        book.active.append(row)
    book.active.append(("A3", "white spruce", "=30+1", 20, "x"))
    book.create_sheet("notes").append(("nothing", "here"))
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def _line_drop(draw: Any, lines: list[str], at: int) -> None:
    del lines[at]


def _line_twice(draw: Any, lines: list[str], at: int) -> None:
    lines.insert(at, lines[at])


def _line_moved(draw: Any, lines: list[str], at: int) -> None:
    lines.insert(draw(st.integers(0, len(lines) - 1)), lines.pop(at))


def _line_shifted(draw: Any, lines: list[str], at: int) -> None:
    lines[at] = draw(st.sampled_from((" ", "  ", "    ", "\t", "- ", "- - - ", "[" * 40, "{a: " * 40))) + lines[at]


def _line_cut(draw: Any, lines: list[str], at: int) -> None:
    lines[at] = lines[at][: draw(st.integers(0, len(lines[at])))]


def _word_odd(draw: Any, lines: list[str], at: int) -> None:
    words = list(WORD.finditer(lines[at]))
    if words:
        one = words[draw(st.integers(0, len(words) - 1))]
        lines[at] = lines[at][: one.start()] + draw(ODDITIES) + lines[at][one.end() :]


def _word_stolen(draw: Any, lines: list[str], at: int) -> None:
    """A word of one line in place of a word of another."""
    words = list(WORD.finditer(lines[at]))
    other = WORD.findall(lines[draw(st.integers(0, len(lines) - 1))])
    if words and other:
        one = words[draw(st.integers(0, len(words) - 1))]
        lines[at] = lines[at][: one.start()] + draw(st.sampled_from(other)) + lines[at][one.end() :]


def _put_in(draw: Any, lines: list[str], at: int) -> None:
    here = draw(st.integers(0, len(lines[at])))
    lines[at] = lines[at][:here] + draw(ODDITIES) + lines[at][here:]


def _letter_gone(draw: Any, lines: list[str], at: int) -> None:
    if lines[at]:
        here = draw(st.integers(0, len(lines[at]) - 1))
        lines[at] = lines[at][:here] + lines[at][here + 1 :]


CHANGES = (
    _word_odd,
    _word_odd,
    _word_odd,
    _word_stolen,
    _put_in,
    _line_drop,
    _line_twice,
    _line_moved,
    _line_shifted,
    _line_cut,
    _letter_gone,
)
ODDITIES = (
    st.sampled_from(ODD) | st.text(max_size=6) | st.dates().map(str) | st.floats().map(repr) | st.integers().map(str)
)


@st.composite
def damaged_text(draw: Any, known: tuple[str, ...], most: int = 5) -> str:
    """One of some sound texts with a few changes to its lines and words."""
    text = draw(st.sampled_from(known))
    for change in draw(st.lists(st.sampled_from(CHANGES), min_size=1, max_size=most)):
        lines = text.split("\n")
        change(draw, lines, draw(st.integers(0, len(lines) - 1)))
        text = "\n".join(lines)
    return text


@st.composite
def damaged(draw: Any, known: tuple[str, ...]) -> bytes:
    """The same as bytes: with other line ends, in another encoding, cut off, or with a byte that is none of a text."""
    text = draw(damaged_text(known))
    form = draw(st.sampled_from(("as it is",) * 8 + ("\r\n", "\r", "\ufeff", "utf-16", "latin-1", "cut", "byte")))
    if form in ("\r\n", "\r"):
        text = text.replace("\n", form)
    elif form == "\ufeff":
        text = form + text
    content = text.encode(form if form in ("utf-16", "latin-1") else "utf-8", "replace")
    if form == "cut":
        content = content[: draw(st.integers(0, len(content)))]
    elif form == "byte" and content:
        at = draw(st.integers(0, len(content) - 1))
        content = content[:at] + bytes([draw(st.integers(0, 255))]) + content[at + 1 :]
    return content


@st.composite
def damaged_workbook(draw: Any) -> bytes:
    """A workbook with a part of it damaged, gone or twice, packed again; or with its packed bytes damaged."""
    content = workbook()
    if draw(st.booleans()):
        for _ in range(draw(st.integers(1, 4))):
            at = draw(st.integers(4, len(content) - 1))
            content = content[:at] + draw(st.binary(min_size=1, max_size=4)) + content[at + draw(st.integers(0, 4)) :]
        return content
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        parts = {name: packed.read(name) for name in packed.namelist()}
    names = sorted(parts)
    for _ in range(draw(st.integers(1, 3))):
        name = draw(st.sampled_from(names))
        parts[name] = _changed_part(draw, parts.get(name, b""))
    if draw(st.integers(0, 4)) == 0:
        parts.pop(draw(st.sampled_from(names)), None)
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", draw(st.sampled_from((zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED)))) as packed:
        for name, part in parts.items():
            packed.writestr(name, part)
    return held.getvalue()


_XML = re.compile(r'(?<=>)[^<>]+(?=<)|(?<=")[^"<>]*(?=")')


def _changed_part(draw: Any, part: bytes) -> bytes:
    text = part.decode("utf-8", "replace")
    values = list(_XML.finditer(text))
    if not values or draw(st.integers(0, 5)) == 0:
        return draw(damaged_text((text or " ",), 2)).encode("utf-8", "replace")
    one = values[draw(st.integers(0, len(values) - 1))]
    odd = draw(ODDITIES | st.sampled_from(("A1048576", "XFD1", "ZZZZ9", "-1", "s", "d", "e", "1e9", "100000000")))
    escaped = odd.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")
    return (text[: one.start()] + escaped + text[one.end() :]).encode("utf-8", "replace")
