"""Bombs of tables: weather files, field sheets, workbooks."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Mapping, Sequence

from bomb_kit import FULL, Bomb, numbered, times
from material import SHEET

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


def workbook_of(sheet: str, strings: str = "", more: Mapping[str, bytes] | None = None) -> bytes:
    """A workbook with one worksheet, packed."""
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
    return f"<sheetData>{TITLES}{numbered(f'<row>{cells}</row>', share, most)}</sheetData>"


def _nested(share: float) -> bytes:
    inner = b"PK\x05\x06" + b"\0" * 18
    for _ in range(int(200 * share) + 2):
        held = io.BytesIO()
        with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
            packed.writestr("x.zip", inner)
        inner = held.getvalue()
    return workbook_of(f"<sheetData>{TITLES}</sheetData>", more={"xl/embeddings/x.zip": inner})


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


def _sheet_rows(row: str, most: int, head: str = "species,dbh_cm,height_m\n") -> Callable[[float], bytes]:
    return lambda share: (head + numbered(row, share, most)).encode()


def _years(share: float) -> bytes:
    return ("STATION,NAME,DATE,TMAX,TMIN\n" + numbered("S{0},,2021-07-01,60,40\n", share, 199_000)).encode()


TABLES: Sequence[Bomb] = (
    Bomb("a weather file of 1 GB of nothing", "weather", lambda s: b"date,tmax_c,tmin_c\n", sparse=1 << 30),
    Bomb("64 MB of nothing as weather", "weather", lambda s: b"date,tmax_c,tmin_c\n" + b"\0" * int(FULL * s)),
    Bomb(
        "weather in 16,000 columns",
        "weather",
        lambda s: ("date,tmax_c,tmin_c" + "," * int(19_900 * s) + "\n2021-04-01,1,2\n").encode(),
    ),
    Bomb("weather in a line of 64 MB", "weather", lambda s: times("date,tmax_c,tmin_c,", s, FULL).encode()),
    Bomb(
        "weather in 64 MB of quotes",
        "weather",
        lambda s: ("date,tmax_c,tmin_c\n" + times('"\n', s, 1_900_000)).encode(),
    ),
    Bomb(
        "weather in a million lines",
        "weather",
        lambda s: ("date,tmax_c,tmin_c\n" + numbered("2021-04-01,12,2\n", s, 1_000_000)).encode(),
    ),
    Bomb("weather of 200,000 stations", "weather", _years),
    Bomb(
        "weather of 200,000 bad days",
        "weather",
        lambda s: ("date,tmax_c,tmin_c\n" + numbered("2021-99-99,1x,2\n", s, 199_000)).encode(),
    ),
    Bomb(
        "weather of one day 200,000 times",
        "weather",
        lambda s: ("date,tmax_c,tmin_c\n" + numbered("2021-04-01,12.{0},2\n", s, 199_000)).encode(),
    ),
    Bomb("64 MB of line ends as weather", "weather", lambda s: b"date,tmax_c,tmin_c\r\n" + b"\x85" * int(FULL / 2 * s)),
    Bomb(
        "a sheet of a million columns",
        "sheet",
        lambda s: ("species,dbh" + numbered(",c{0}", s, 1_000_000) + "\nwhite,12\n").encode(),
    ),
    Bomb("a sheet of 64 MB of commas", "sheet", lambda s: (SHEET + times(",", s, FULL)).encode()),
    Bomb("a sheet of 64 MB of quotes", "sheet", lambda s: (SHEET + times('"', s, FULL)).encode()),
    Bomb("a sheet in 64 MB of line ends", "sheet", lambda s: (SHEET + times("\n", s, FULL)).encode()),
    Bomb("a sheet of an open quote", "sheet", lambda s: (SHEET + '"' + times("x\n", s, FULL)).encode()),
    Bomb("a sheet in one cell of 64 MB", "sheet", lambda s: times("x", s, FULL).encode()),
    Bomb("a sheet of 30,000 trees", "sheet", _sheet_rows("white spruce,41,20\n", 29_990)),
    Bomb("a sheet of 2,000,000 rows", "sheet", _sheet_rows("white spruce,41,20\n", 2_000_000)),
    Bomb("a sheet of 30,000 unknown species", "sheet", _sheet_rows("wight sproose{0},41,20\n", 29_990)),
    Bomb(
        "a sheet of 300 long columns",
        "sheet",
        lambda s: (
            "species,dbh,"
            + ",".join("height of the tree" * 6 + str(n) for n in range(290))
            + "\n"
            + times("white,41" + ",12 m 5 x" * 290 + "\n", s, 13_000 * 2_600)
        ).encode(),
    ),
    Bomb(
        "a workbook that unpacks to 4 GB",
        "sheet",
        lambda s: workbook_of(f"<sheetData>{TITLES}</sheetData>", " " * int(149_000_000 * s)),
    ),
    Bomb(
        "a workbook of 440,000 texts",
        "sheet",
        lambda s: workbook_of(f"<sheetData>{TITLES}</sheetData>", times("<si><t>x</t></si>", s, 7_500_000)),
    ),
    Bomb("a workbook of overlapping parts", "sheet", _overlapping),
    Bomb("a workbook in a workbook", "sheet", _nested),
    Bomb(
        "a workbook of 2,000 parts",
        "sheet",
        lambda s: workbook_of(
            f"<sheetData>{TITLES}</sheetData>", more={f"x{n}.xml": b"<a/>" for n in range(int(1990 * s))}
        ),
    ),
    Bomb(
        "a workbook of 30,000 parts",
        "sheet",
        lambda s: workbook_of(
            f"<sheetData>{TITLES}</sheetData>", more={f"x{n}.xml": b"" for n in range(int(30_000 * s))}
        ),
    ),
    Bomb("a workbook of 1,500,000 cells", "sheet", lambda s: workbook_of(_rows("<c><v>41</v></c>" * 50, s, 30_000))),
    Bomb("a workbook of 440,000 cells", "sheet", lambda s: workbook_of(_rows("<c><v>41</v></c>" * 15, s, 29_000))),
    Bomb(
        "a workbook of 290,000 formulas",
        "sheet",
        lambda s: workbook_of(_rows("<c><f>A1</f><v>41</v></c>" * 10, s, 28_500)),
    ),
    Bomb("a workbook of 880,000 empty rows", "sheet", lambda s: workbook_of(_rows("", s, 880_000))),
    Bomb(
        "a workbook of far cells",
        "sheet",
        lambda s: workbook_of(
            "<sheetData>"
            + TITLES
            + numbered('<row r="{0}"><c r="XFD{0}"><v>1</v></c></row>', s, 60_000)
            + "</sheetData>"
        ),
    ),
    Bomb(
        "a workbook with a row far below",
        "sheet",
        lambda s: workbook_of(f'<sheetData>{TITLES}<row r="1048576"><c r="A1048576"><v>1</v></c></row></sheetData>'),
    ),
    Bomb(
        "a workbook with a row that cannot be",
        "sheet",
        lambda s: workbook_of(f'<sheetData>{TITLES}<row r="2000000000"><c><v>1</v></c></row></sheetData>'),
    ),
    Bomb(
        "a workbook of elements inside elements",
        "sheet",
        lambda s: workbook_of(
            "<sheetData>" + TITLES + times("<a>", s, 3_000_000) + times("</a>", s, 4_000_000) + "</sheetData>"
        ),
    ),
    Bomb(
        "a workbook of attributes",
        "sheet",
        lambda s: workbook_of("<sheetData " + numbered('a{0}="" ', s, 1_000_000) + f">{TITLES}</sheetData>"),
    ),
)
