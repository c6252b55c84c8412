"""Inputs made to take long or to fill the memory: each for one reader, at any size up to what is taken in at all."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import zipfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from material import SHEET, seeds

ROOT = Path(__file__).parents[2]
SECONDS, MEGABYTES = 5, 1_000  # what one refusal may take
LETTERS = 3_990_000  # just below what a YAML file may have
HEAD = "barkwright: 1\nsite: {name: x, units: imperial, latitude: 53, longitude: -122}\n"
TREE = "trees: [{id: T1, species: white, dbh: 12}]\n"
BOOK = {
    "[Content_Types].xml": (
        '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType='
        '"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>'
        '<Override PartName="/xl/worksheets/sheet1.xml" ContentType='
        '"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>'
        '<Override PartName="/xl/sharedStrings.xml" ContentType='
        '"application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/></Types>'
    ),
    "_rels/.rels": (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" '
        'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" '
        'Target="xl/workbook.xml"/></Relationships>'
    ),
    "xl/workbook.xml": (
        '<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" '
        'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">'
        '<sheets><sheet name="trees" sheetId="1" r:id="rId1"/></sheets></workbook>'
    ),
    "xl/_rels/workbook.xml.rels": (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" '
        'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" '
        'Target="worksheets/sheet1.xml"/><Relationship Id="rId2" '
        'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" '
        'Target="sharedStrings.xml"/></Relationships>'
    ),
}
NAMESPACE = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
TITLES = '<row r="1">' + "".join(
    f'<c r="{place}1" t="inlineStr"><is><t>{name}</t></is></c>' for place, name in (("A", "species"), ("B", "dbh cm"))
) + "</row>"  # fmt: skip


@dataclass(frozen=True)
class Bomb:
    """What is made, for which reader, and of which size: the content at a share of the full size."""

    name: str
    reader: str
    content: Callable[[float], bytes]
    sparse: int = 0  # bytes of nothing behind the content


def _times(text: str, share: float, letters: int = LETTERS) -> str:
    return text * int(letters * share / len(text))


def _numbered(form: str, share: float, most: int) -> str:
    return "".join(form.format(n) for n in range(int(most * share)))


def _laughs(share: float) -> bytes:
    names = [f"l{n}" for n in range(max(3, int(60 * share)))]
    lines = ["l: &l0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"{two}: &{two} [{', '.join([f'*{one}'] * 9)}]" for one, two in zip(names, names[1:], strict=False)]
    return "\n".join(lines).encode()


def _workbook(sheet: str, strings: str = "", more: Mapping[str, bytes] | None = None) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
        for name, part in BOOK.items():
            packed.writestr(name, part)
        packed.writestr("xl/worksheets/sheet1.xml", f"<worksheet {NAMESPACE}>{sheet}</worksheet>")
        packed.writestr("xl/sharedStrings.xml", f"<sst {NAMESPACE}>{strings}</sst>")
        for name, content in (more or {}).items():
            packed.writestr(name, content)
    return held.getvalue()


def _rows(cells: str, share: float, most: int) -> str:
    return f"<sheetData>{TITLES}{_numbered(f'<row>{cells}</row>', share, most)}</sheetData>"


def _nested(share: float) -> bytes:
    inner = b"PK\x05\x06" + b"\0" * 18
    for _ in range(int(200 * share) + 2):
        held = io.BytesIO()
        with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
            packed.writestr("x.zip", inner)
        inner = held.getvalue()
    return _workbook(f"<sheetData>{TITLES}</sheetData>", more={"xl/embeddings/x.zip": inner})


def _overlapping(share: float) -> bytes:
    """A packed file whose directory names the same packed bytes again and again."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, part in BOOK.items():
            packed.writestr(name, part)
        packed.writestr("xl/worksheets/sheet1.xml", b" " * int(140_000_000 * share))
        for n in range(int(1900 * share)):
            again = zipfile.ZipInfo(f"xl/x{n}.xml")
            last = packed.infolist()[len(BOOK)]
            again.header_offset, again.compress_type = last.header_offset, last.compress_type
            again.CRC, again.compress_size, again.file_size = last.CRC, last.compress_size, 1
            packed.filelist.append(again)
    return held.getvalue()


def _rule(line: str) -> bytes:
    return (
        f"rules:\n- id: x\n  title: y\n  {line}\n  then: {{verdict: ruled out}}\n  grade: C\n  checked_on: 2026-11-01\n"
        + "".join(f"  {key}: b\n" for key in ("because", "source") if f"{key}:" not in line)
    ).encode()


def _entries(form: str, most: int) -> Callable[[float], bytes]:
    return lambda share: f"barkwright-journal: 1\nentries:\n{_numbered(form, share, most)}".encode()


def _issued_jobs(share: float) -> bytes:
    record = json.loads(seeds("issued")[0])
    record["jobs"] = record["jobs"] * int(70_000 * share)
    return json.dumps(record).encode()


_ANSWERS = {
    "line": "out-of-reach", "building": "80 ft", "road": "out-of-reach", "neighbour": "unknown", "hazard": "lean",
    "where": "by the gate", "species": "white", "status": "standing", "girth": "girth 52 in", "height": "72 ft",
    "attacked": "2026", "found": "larvae", "looked": "base,sunny", "seen": "2026-10-20", "exit-holes": "none",
    "crown": "green", "more": "yes",
}  # fmt: skip


def _draft_trees(share: float) -> bytes:
    answers = {"place": "53.1, -122.4"}
    for n in range(1, int(200 * share) + 2):
        answers |= {f"T{n}.{key}": value for key, value in _ANSWERS.items()}
    return json.dumps({"barkwright-draft": 1, "command": "new", "units": "imperial", "answers": answers}).encode()


def _sheet_rows(row: str, most: int, head: str = "species,dbh_cm,height_m\n") -> Callable[[float], bytes]:
    return lambda share: (head + _numbered(row, share, most)).encode()


def _years(share: float) -> bytes:
    return ("STATION,NAME,DATE,TMAX,TMIN\n" + _numbered("S{0},,2021-07-01,60,40\n", share, 199_000)).encode()


_M, _ISSUED = 63_900_000, 31_900_000
BOMBS: Sequence[Bomb] = (
    Bomb("aliases of aliases", "inventory", _laughs),
    Bomb("brackets that never close", "inventory", lambda s: _times("[", s).encode()),
    Bomb("braces inside braces", "inventory", lambda s: _times("{a: ", s).encode()),
    Bomb("dashes inside dashes", "inventory", lambda s: _times("- ", s).encode()),
    Bomb("questions inside questions", "inventory", lambda s: _times("? ", s).encode()),
    Bomb("brackets in text", "inventory", lambda s: ("a: [" + _times("'[' ", s)).encode()),
    Bomb("quotes that do not match", "inventory", lambda s: _times("a: 'b\n", s).encode()),
    Bomb("an open quote", "inventory", lambda s: ('a: "' + _times("b\n ", s)).encode()),
    Bomb("one long line", "inventory", lambda s: _times("x", s).encode()),
    Bomb("one long line with colons", "inventory", lambda s: _times("x:", s).encode()),
    Bomb("blanks", "inventory", lambda s: ("a: x" + _times(" ", s) + "\n b").encode()),
    Bomb("remarks without a tree", "inventory", lambda s: _times("#\n", s).encode()),
    Bomb("64 MB in one word", "inventory", lambda s: b"x" * int(_M * s)),
    Bomb("64 MB that are not UTF-8", "inventory", lambda s: b"x: " + b" " * int(_M * s) + b"\xff"),
    Bomb("more than is read", "inventory", lambda s: b"a: 1\n", sparse=1 << 30),
    Bomb("a long name", "inventory", lambda s: f"{HEAD.replace('x', _times('x', s))}{TREE}".encode()),
    Bomb("a long id", "inventory", lambda s: (HEAD + TREE.replace("T1", _times("T", s))).encode()),
    Bomb("a long species", "inventory", lambda s: (HEAD + TREE.replace("white", _times("white ", s))).encode()),
    Bomb("a long size", "inventory", lambda s: (HEAD + TREE.replace("12", _times("1", s))).encode()),
    Bomb("a long size in words", "inventory", lambda s: (HEAD + TREE.replace("12", "1 " + _times("a ", s))).encode()),
    Bomb("a long sum of money", "inventory",
         lambda s: f"{HEAD}{TREE}limits: {{budget: {_times('a', s)}1}}\n".encode()),
    Bomb("a long day", "inventory", lambda s: f"{HEAD}{TREE}calendar: {{start: {_times('2026-', s)}}}\n".encode()),
    Bomb("a long unknown key", "inventory", lambda s: f"{HEAD}{TREE}? {_times('k', s)}\n: 1\n".encode()),
    Bomb("200,000 unknown keys", "inventory", lambda s: (HEAD + TREE + _numbered("dbh{0}: 1\n", s, 199_000)).encode()),
    Bomb("the same key 400,000 times", "inventory", lambda s: _numbered("a: \n", s, 199_000).encode()),
    Bomb("400,000 keys", "inventory", lambda s: _numbered("k{0}:\n", s, 400_000).encode()),
    Bomb("390,000 wrong words in a list", "inventory",
         lambda s: (HEAD + TREE.replace("}]", f", hazards: [{_numbered('leen,', s, 390_000)}]}}]")).encode()),
    Bomb("390,000 trees that are none", "inventory",
         lambda s: f"{HEAD}trees: [{_numbered('1, ', s, 390_000)}]\n".encode()),
    Bomb("120,000 trees with faults", "inventory",
         lambda s: f"{HEAD}trees:\n{_numbered('- {{id: T1, dbh: x}}', s, 0)}{_numbered(chr(10) + '- {{id: T{0}, dbh: x}}', s, 70_000)}\n"
         .encode()),
    Bomb("70,000 empty trees", "inventory", lambda s: f"{HEAD}trees:\n{_numbered('- {{id: T}}' + chr(10), s, 130_000)}".encode()),
    Bomb("trees without end by count", "inventory",
         lambda s: f"{HEAD}trees:\n{_numbered('- {{id: T{0}, species: white, dbh: 12, count: 200}}' + chr(10), s, 40_000)}"
         .encode()),
    Bomb("logs without end by count", "inventory",
         lambda s: (f"{HEAD}trees:\n- id: T\n  species: white\n  status: logs\n  logs:\n"
                    + _numbered("  - {{butt: 12, top: 11, length: 8, count: 999999}}\n", s, 50_000)).encode()),
    Bomb("20,000 weather files", "inventory",
         lambda s: (HEAD.replace("}", f", weather: [{_numbered('w{0}.csv, ', s, 200_000)}]}}") + TREE).encode()),
    Bomb("a journal of 100,000 entries", "journal",
         _entries("- {{id: {0}, recorded: a, did: located, date: 2026-11-20}}\n", 100_000)),
    Bomb("a journal of 32,000 entries", "journal",
         _entries("- {{id: {0}, recorded: a, did: felled, date: 2026-11-20, pieces: [T1]}}\n", 32_000)),
    Bomb("a journal that takes itself back", "journal",
         _entries("- {{id: 1, recorded: a, did: undone, date: 2026-11-20, undoes: 1}}\n", 36_000)),
    Bomb("a journal of unknown trees", "journal",
         _entries("- {{id: 1{0}, recorded: a, did: felled, date: 2026-11-20, pieces: [X{0}]}}\n", 32_000)),
    Bomb("a journal of wrong entries", "journal", _entries("- {{idd: {0}, methode: x, didd: y}}\n", 56_000)),
    Bomb("a journal entry of 190,000 keys", "journal",
         lambda s: ("barkwright-journal: 1\nentries:\n- id: 1\n" + _numbered("  hour{0}: 1\n", s, 190_000)).encode()),
    Bomb("a journal of 190,000 parts", "journal", lambda s: _numbered("entrie{0}: 1\n", s, 190_000).encode()),
    Bomb("an issued order of brackets", "issued", lambda s: _times("[", s, _ISSUED).encode()),
    Bomb("an issued order of empty lists", "issued", lambda s: ("[" + _times("[],", s, _ISSUED) + "[]]").encode()),
    Bomb("an issued order of 16,000,000 numbers", "issued", lambda s: ('{"jobs":[' + _times("1,", s, _ISSUED) + "1]}").encode()),
    Bomb("an issued order of wrong jobs", "issued", lambda s: ('{"jobs":[' + _times("{},", s, _ISSUED) + "{}]}").encode()),
    Bomb("an issued order of unknown keys", "issued",
         lambda s: ("{" + _numbered('"k{0}":1,', s, 2_400_000) + '"x":1}').encode()),
    Bomb("an issued order of 70,000 jobs", "issued", _issued_jobs),
    Bomb("an issued order with a long number", "issued", lambda s: ('{"format":' + _times("1", s, _ISSUED) + "}").encode()),
    Bomb("local rates without end", "local", lambda s: ("rates:\n" + _numbered("  peel{0}: {{}}\n", s, 190_000)).encode()),
    Bomb("local rates of 190,000 keys", "local",
         lambda s: ("rates:\n  peel-slipping:\n" + _numbered("    lo{0}: 1\n", s, 190_000)).encode()),
    Bomb("local parts without end", "local", lambda s: _numbered("rules{0}: 1\n", s, 190_000).encode()),
    Bomb("local rules that are none", "local", lambda s: ("rules: [" + _numbered("1,", s, 390_000) + "]").encode()),
    Bomb("local rules with unknown keys", "local",
         lambda s: ("rules:\n- id: x\n" + _numbered("  titl{0}: 1\n", s, 190_000)).encode()),
    Bomb("490 sound local rules", "local",
         lambda s: ("rules:\n" + _numbered(
             "- {{id: r{0}, title: a, methods: [chip], when: [{{fact: piece.butt_dob_in, at_least: 14 in}}], "
             "then: {{verdict: ruled out}}, because: b, grade: C, source: c, checked_on: 2026-11-01}}\n", s, 490)).encode()),
    Bomb("a local fact of one long word", "local",
         lambda s: f"rules: [{{id: x, title: y, when: [{{fact: {_times('piece', s)}, is: true}}], grade: C}}]".encode()),
    Bomb("a local rule of 70,000 conditions", "local", lambda s: _rule(
        f"when: [{_numbered('{{fact: piece.butt_dob_in, at_least: 14 in}},', s, 70_000)}]")),
    Bomb("a local rule of 290,000 unknown ways", "local", lambda s: _rule(f"ways: [{_numbered('debarkk{0},', s, 290_000)}]")),
    Bomb("a local rule of 290,000 sources", "local", lambda s: _rule(f"sources: [{_numbered('hack{0},', s, 290_000)}]")),
    Bomb("a local rule of one long sentence", "local", lambda s: _rule(f"because: '{_times('{piece.butt}', s)}'")),
    Bomb("local regions without end", "local", lambda s: ("regions:\n" + _numbered("- id: r{0}\n", s, 190_000)).encode()),
    Bomb("490 local rates with odd keys", "local",
         lambda s: ("rates:\n" + _numbered("  peel{0}: {{" + "".join(f"lo{n}: 1, " for n in range(180)) + "x: 1}}\n", s, 490)).encode()),
    Bomb("390 local rules with odd keys", "local",
         lambda s: ("rules:\n" + _numbered("- {{" + "".join(f"titl{n}: 1, " for n in range(199)) + "x: 1}}\n", s, 390)).encode()),
    Bomb("490 local rules of odd conditions", "local",
         lambda s: ("rules:\n" + _numbered("- {{id: x{0}, title: y, because: z, grade: C, basis: ours, checked_on: 2026-11-01, "
                                           "when: [" + "{{fact: piece.but, at_leest: 14}}," * 49 + "]}}\n", s, 490)).encode()),
    Bomb("local machine rates without end", "local",
         lambda s: ("machine_rates:\n" + _numbered("  m{0}: {{kind: chippe}}\n", s, 90_000)).encode()),
    Bomb("a weather file of 1 GB of nothing", "weather", lambda s: b"date,tmax_c,tmin_c\n", sparse=1 << 30),
    Bomb("64 MB of nothing as weather", "weather", lambda s: b"date,tmax_c,tmin_c\n" + b"\0" * int(_M * s)),
    Bomb("weather in 16,000 columns", "weather",
         lambda s: ("date,tmax_c,tmin_c" + "," * int(19_900 * s) + "\n2021-04-01,1,2\n").encode()),
    Bomb("weather in a line of 64 MB", "weather", lambda s: _times("date,tmax_c,tmin_c,", s, _M).encode()),
    Bomb("weather in 64 MB of quotes", "weather", lambda s: ("date,tmax_c,tmin_c\n" + _times('"\n', s, 1_900_000)).encode()),
    Bomb("weather in a million lines", "weather",
         lambda s: ("date,tmax_c,tmin_c\n" + _numbered("2021-04-01,12,2\n", s, 1_000_000)).encode()),
    Bomb("weather of 200,000 stations", "weather", _years),
    Bomb("weather of 200,000 bad days", "weather",
         lambda s: ("date,tmax_c,tmin_c\n" + _numbered("2021-99-99,1x,2\n", s, 199_000)).encode()),
    Bomb("weather of one day 200,000 times", "weather",
         lambda s: ("date,tmax_c,tmin_c\n" + _numbered("2021-04-01,12.{0},2\n", s, 199_000)).encode()),
    Bomb("64 MB of line ends as weather", "weather", lambda s: b"date,tmax_c,tmin_c\r\n" + b"\x85" * int(_M / 2 * s)),
    Bomb("a sheet of a million columns", "sheet",
         lambda s: ("species,dbh" + _numbered(",c{0}", s, 1_000_000) + "\nwhite,12\n").encode()),
    Bomb("a sheet of 64 MB of commas", "sheet", lambda s: (SHEET + _times(",", s, _M)).encode()),
    Bomb("a sheet of 64 MB of quotes", "sheet", lambda s: (SHEET + _times('"', s, _M)).encode()),
    Bomb("a sheet in 64 MB of line ends", "sheet", lambda s: (SHEET + _times("\n", s, _M)).encode()),
    Bomb("a sheet of an open quote", "sheet", lambda s: (SHEET + '"' + _times("x\n", s, _M)).encode()),
    Bomb("a sheet in one cell of 64 MB", "sheet", lambda s: _times("x", s, _M).encode()),
    Bomb("a sheet of 30,000 trees", "sheet", _sheet_rows("white spruce,41,20\n", 29_990)),
    Bomb("a sheet of 2,000,000 rows", "sheet", _sheet_rows("white spruce,41,20\n", 2_000_000)),
    Bomb("a sheet of 30,000 unknown species", "sheet", _sheet_rows("wight sproose{0},41,20\n", 29_990)),
    Bomb("a sheet of 300 long columns", "sheet",
         lambda s: ("species,dbh," + ",".join("height of the tree" * 6 + str(n) for n in range(290)) + "\n"
                    + _times("white,41" + ",12 m 5 x" * 290 + "\n", s, 13_000 * 2_600)).encode()),
    Bomb("a workbook that unpacks to 4 GB", "sheet",
         lambda s: _workbook(f"<sheetData>{TITLES}</sheetData>", " " * int(149_000_000 * s))),
    Bomb("a workbook of 440,000 texts", "sheet",
         lambda s: _workbook(f"<sheetData>{TITLES}</sheetData>", _times("<si><t>x</t></si>", s, 7_500_000))),
    Bomb("a workbook of overlapping parts", "sheet", _overlapping),
    Bomb("a workbook in a workbook", "sheet", _nested),
    Bomb("a workbook of 2,000 parts", "sheet",
         lambda s: _workbook(f"<sheetData>{TITLES}</sheetData>", more={f"x{n}.xml": b"<a/>" for n in range(int(1990 * s))})),
    Bomb("a workbook of 30,000 parts", "sheet",
         lambda s: _workbook(f"<sheetData>{TITLES}</sheetData>", more={f"x{n}.xml": b"" for n in range(int(30_000 * s))})),
    Bomb("a workbook of 1,500,000 cells", "sheet",
         lambda s: _workbook(_rows("<c><v>41</v></c>" * 50, s, 30_000))),
    Bomb("a workbook of 440,000 cells", "sheet", lambda s: _workbook(_rows("<c><v>41</v></c>" * 15, s, 29_000))),
    Bomb("a workbook of 290,000 formulas", "sheet",
         lambda s: _workbook(_rows("<c><f>A1</f><v>41</v></c>" * 10, s, 28_500))),
    Bomb("a workbook of 880,000 empty rows", "sheet", lambda s: _workbook(_rows("", s, 880_000))),
    Bomb("a workbook of far cells", "sheet",
         lambda s: _workbook("<sheetData>" + TITLES + _numbered('<row r="{0}"><c r="XFD{0}"><v>1</v></c></row>', s, 60_000)
                             + "</sheetData>")),
    Bomb("a workbook with a row far below", "sheet",
         lambda s: _workbook(f'<sheetData>{TITLES}<row r="1048576"><c r="A1048576"><v>1</v></c></row></sheetData>')),
    Bomb("a workbook with a row that cannot be", "sheet",
         lambda s: _workbook(f'<sheetData>{TITLES}<row r="2000000000"><c><v>1</v></c></row></sheetData>')),
    Bomb("a workbook of elements inside elements", "sheet",
         lambda s: _workbook("<sheetData>" + TITLES + _times("<a>", s, 3_000_000) + _times("</a>", s, 4_000_000) + "</sheetData>")),
    Bomb("a workbook of attributes", "sheet",
         lambda s: _workbook("<sheetData " + _numbered('a{0}="" ', s, 1_000_000) + f">{TITLES}</sheetData>")),
    Bomb("a draft of 200 trees", "draft", _draft_trees),
    Bomb("a draft of 200 trees with a fault each", "draft", lambda s: _draft_trees(s).replace(b"52 in", b"9000 in")),
    Bomb("a draft of brackets", "draft", lambda s: _times("[", s, 990_000).encode()),
    Bomb("a draft of one long answer", "draft",
         lambda s: json.dumps({"barkwright-draft": 1, "command": "new", "units": "imperial", "answers": {
             "place": "1 N" + _times(" ", s, 900_000), "T1.species": _times("a ", s, 90_000)}}).encode()),
    Bomb("a change in 2,000,000 letters", "try", lambda s: ("one more person with " + _times("a ", s, 120_000)).encode()),
)  # fmt: skip

COMMANDS: Mapping[str, tuple[str, tuple[str, ...]]] = {  # the file's name, and the command that reads it
    "inventory": ("site.yaml", ("check", "site.yaml")),
    "journal": ("site.journal.yaml", ("tally", "site.yaml")),
    "issued": ("site.issued.json", ("order", "site.yaml")),
    "local": ("local.yaml", ("check", "site.yaml")),
    "weather": ("daily.csv", ("flight", "site.yaml", "--weather", "daily.csv")),
    "sheet": ("trees", ("new", "--from", "trees", "--lat", "53", "--lon", "-122", "--yes", "-o", "made.yaml")),
}


@dataclass(frozen=True)
class Measured:
    """What came of a bomb: the exit code, seconds of the processor, the most memory at once, and the first line said."""

    code: int
    seconds: float
    megabytes: float
    said: str


def set_off(bomb: Bomb, folder: Path, share: float = 1.0) -> Measured:
    """Give it to the program, in a process of its own that is ended where it takes far more than it may."""
    name, words = COMMANDS.get(bomb.reader, (bomb.reader, ()))
    local = "local: [local.yaml]\n" if bomb.reader == "local" else ""
    (folder / "site.yaml").write_text(HEAD + TREE + local, encoding="utf-8")
    with (folder / name).open("wb") as file:
        file.write(bomb.content(share))
        if bomb.sparse:
            file.truncate(bomb.sparse)
    start = "from barkwright.cli.start import run; run()" if words else _READ.format(str(Path(__file__).parent), bomb.reader, name)
    line = [sys.executable, "-c", f"{_LIMITS}; {start}", *words, *(("--on", "2026-11-27") if words else ())]
    process = subprocess.Popen(
        line, cwd=folder, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )
    assert process.stderr is not None
    said = process.stderr.read().decode("utf-8", "replace")
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    process.stderr.close()
    most = folder / "most"  # of the program alone: what the kernel tells of a child counts in whoever started it
    kilobytes = float(most.read_text()) if most.exists() else used.ru_maxrss
    spent = used.ru_utime + used.ru_stime
    return Measured(process.returncode, spent, kilobytes / 1024, said.partition("\n")[0])


_LIMITS = (
    "import atexit, resource as r; r.setrlimit(r.RLIMIT_CPU, (40, 45)); r.setrlimit(r.RLIMIT_DATA, (4 << 30, 4 << 30)); "
    "atexit.register(lambda: open('most', 'w').write(open('/proc/self/status').read().partition('VmHWM:')[2].split()[0]))"
)  # ends what has run away; what is allowed is asserted
_READ = "import sys; sys.path.insert(0, {!r}); from readers import READERS; READERS[{!r}](open({!r}, 'rb').read())"
