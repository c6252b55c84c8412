"""Files that are no field sheet, or a broken or hostile one: one message each, within bounds."""

import io
import zipfile
from datetime import date

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barkwright.intake.fieldsheet import filled, inventory_text
from barkwright.intake.grid import NoTableError
from barkwright.intake.opening import open_sheet
from barkwright.intake.starter import Start
from barkwright.intake.understood import Asked
from barkwright.inventory.reading import read_inventory

ON = date(2026, 11, 27)
NAMES = """\
id|species|dbh|DBH cm|girth|height (ft)|status|attacked|stages|count|date|line|hazards|note|butt|top|length|lean|x
""".strip().split("|")
CELLS = """\
|1|12|40,5|1,250|white|Sw|gran|2025|2026-10-01|1/2/2026|larvae|12+9|0|-9|standing|x|=1+1|~20|12 cm|6 m|'|""|a: b|#|{|yes
""".strip().split("|")
NOTHING = Asked()
HEAD = b"id,species,dbh cm,height m\n"
END = b"</sheetData>"
ROW = b"A,white,40,25\n"


def packed(*parts):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as pack:
        for name, content in parts:
            pack.writestr(name, content)
    return out.getvalue()


def book(change=lambda name, content: content, rows=(("id", "species", "dbh cm", "height m"), ("A", "white", 40, 25))):
    made = openpyxl.Workbook()
    for row in rows:
        made.active.append(row)
    out = io.BytesIO()
    made.save(out)
    with zipfile.ZipFile(io.BytesIO(out.getvalue())) as pack:
        return packed(*((name, change(name, pack.read(name))) for name in pack.namelist()))


def in_sheet(old, new):
    return book(lambda name, content: content.replace(old, new) if "sheet1" in name else content)


REFUSED = {
    "nothing": (lambda: b"", "empty"),
    "blanks": (lambda: b" \n\n ", "empty"),
    "a zero byte": (lambda: HEAD + b"A,white,4\x000,25\n", "no text"),
    "one long line": (lambda: HEAD.strip() + b"x" * 10_000_000, "1,000,000 letters"),
    "a hundred thousand columns": (lambda: b",".join(b"c%d" % n for n in range(100_000)), "more than 300 cells"),
    "too many rows": (lambda: HEAD + ROW * 30_001, "more than 30,000 rows"),
    "an open quote": (lambda: HEAD + b'A,"white,40,25\n' + ROW * 20_000, "is a quote open there"),
    "a picture": (lambda: b"\x89PNG\r\n\x1a\n", "a picture"),
    "a pdf": (lambda: b"%PDF-1.7\n", "a PDF"),
    "a web page": (lambda: b"<html><table><tr><td>1", "a web page"),
    "odd utf-16": (lambda: b"\xff\xfe" + "id,species".encode("utf-16-le") + b"\x00", "is not"),
    "no names": (lambda: b"1,white,40,25\n2,white,41,26\n", "no row names the columns"),
    "names alone": (lambda: HEAD, "no rows below"),
    "no diameter": (lambda: b"id,species,height m\nA,white,25\n", "no column is a diameter"),
    "no species": (lambda: b"id,dbh cm,height m\nA,40,25\n", "no column names the species"),
    "an old or locked workbook": (lambda: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 1000, "password"),
    "a zip without workbook": (lambda: packed(("a.txt", "x")), "without a workbook"),
    "a zip with wrong bytes inside": (lambda: book()[:60] + b"\xff" * 60 + book()[120:], "cannot be read"),
    "a zip cut off": (lambda: book()[:900], "cannot be read"),
    "opendocument": (lambda: packed(("mimetype", "x"), ("content.xml", "<x/>")), "OpenDocument"),
    "a bomb": (
        lambda: in_sheet(b"</sheetData>", b"<x>" + b"A" * 160_000_000 + b"</x></sheetData>"),
        "unpacks to more than 150 MB",
    ),
    "entities": (lambda: in_sheet(b"<worksheet", b'<!DOCTYPE a [<!ENTITY b "c">]><worksheet'), "entities"),
    "a row beyond the last": (
        lambda: in_sheet(END, b'<row r="99999999999"><c r="A1"><v>1</v></c></row>' + END),
        "more cells",
    ),
    "broken xml": (lambda: in_sheet(b"</sheetData>", b"</sheet"), "cannot be read"),
    "an empty workbook": (lambda: book(rows=()), "empty"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_no_sheet_is_refused_in_one_sentence(name):
    made, said = REFUSED[name]
    content = made()
    with pytest.raises(NoTableError) as refused:
        filled(open_sheet(content, Asked()), "imperial", ON)
    assert said in refused.value.message
    assert refused.value.hint
    assert len(refused.value.message) < 300


def test_formulas_without_values_are_said():
    content = book(rows=(("id", "species", "dbh cm", "height m"), ("A", "white", 40, 25), ("B", "white", "=20+2", 25)))
    sheet = open_sheet(content, Asked())
    assert any("1 cell holds a formula without a value" in doubt.text for doubt in sheet.doubts)


def test_a_worksheet_is_taken_by_its_name_and_another_one_is_said():
    made = openpyxl.Workbook()
    made.active.title = "Walk 1"
    for title in ("Walk 1", "Walk 2"):
        page = made[title] if title in made.sheetnames else made.create_sheet(title)
        for row in (("id", "species", "dbh cm"), (title[-1], "white", 40)):
            page.append(row)
    out = io.BytesIO()
    made.save(out)
    first = open_sheet(out.getvalue(), Asked())
    assert first.grid.name == "Walk 1"
    assert any("--worksheet 'Walk 2'" in doubt.text for doubt in first.doubts)
    assert open_sheet(out.getvalue(), Asked(), "walk 2").grid.name == "Walk 2"
    with pytest.raises(NoTableError) as refused:
        open_sheet(out.getvalue(), Asked(), "Wlak 2")
    assert "Walk" in refused.value.hint


def test_signs_that_steer_a_terminal_reach_neither_file_nor_terminal():
    table = "id,species,dbh in,note\n\x1b[31mA,white,12,\u202eevil\x07 =cmd|x\n\x9bB,oa\x1b]0;kk,12,\n"
    made = filled(open_sheet(table.encode(), Asked()), "imperial", ON)
    text = inventory_text(made, "pl\x1bot.csv", Start("x", 53.0, -122.0), ON)
    assert text.replace("\n", "").isprintable()
    assert all(str(row.left_out).isprintable() for row in made.left)
    assert "evil =cmd|x" in text


@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252", "utf-32"])
def test_letters_of_every_make_are_recognised(code):
    table = "Träd nr;Trädslag;Diameter (cm);Höjd (m)\nÅ1;vitgran;40;25\nÖ2;vitgran;38;24\n"
    made = filled(open_sheet(table.encode(code), Asked()), "imperial", ON)
    assert [row.id for row in made.trees] == ["Å1", "Ö2"]


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_every_separator_and_line_end(separator, line_end):
    rows = (("id", "species", "dbh", "height"), ("A", "white", '"40,5 cm"', "25 m"), ("B", "sitka", "30 cm", "20 m"))
    table = line_end.join(separator.join(row) for row in rows)
    made = filled(open_sheet(table.encode(), Asked()), "metric", ON)
    assert [dict(row.facts)["dbh"] for row in made.trees] == ["40.5 cm", "30 cm"]


@settings(max_examples=200)
@given(st.binary(max_size=400))
def test_any_bytes_are_read_or_refused(content):
    for start in (b"", HEAD, b"PK\x03\x04"):
        made = read_or_refused(start + content)
        assert made is None or made.summary()


def read_or_refused(content, asked=NOTHING):
    try:
        return filled(open_sheet(content, asked), "metric", ON)
    except NoTableError:
        return None


@settings(max_examples=150)
@given(
    st.lists(
        st.sampled_from(NAMES),
        min_size=3, max_size=9,
    ),
    st.lists(
        st.lists(
            st.sampled_from(CELLS),
            min_size=3, max_size=9,
        ),
        max_size=6,
    ),
)  # fmt: skip
def test_any_columns_with_any_cells_make_an_inventory_that_is_accepted(names, rows):
    table = "\n".join(";".join(row) for row in (names, *rows))
    made = read_or_refused(table.encode(), Asked(species="white"))
    if made is not None:
        made.summary()
        text = inventory_text(made, "t.csv", Start("x", 53.0, -122.0, "metric"), ON)
        assert read_inventory(text, "x.yaml", ON)[0] is not None
