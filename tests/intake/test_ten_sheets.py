"""Ten field sheets of different make, all made up: each is read without a question, and no row is lost."""

import io
from datetime import date, datetime

import openpyxl
import pytest

from barkwright.intake.fieldsheet import filled, inventory_text
from barkwright.intake.opening import open_sheet
from barkwright.intake.starter import Start
from barkwright.intake.understood import Asked
from barkwright.inventory.reading import read_inventory

ON = date(2026, 11, 27)


def read(content, maps=(), species=None, units="imperial", stated=None, worksheet=None):
    """The sheet, what became of its rows, and the inventory's trees by id."""
    raw = content.encode() if isinstance(content, str) else content
    sheet = open_sheet(raw, Asked(maps, species, stated), worksheet)
    grave = [doubt for doubt in sheet.doubts if doubt.grave]
    made = filled(sheet, units, ON)
    made.summary()  # adds up, or raises
    text = inventory_text(made, "sheet", Start("Heron Flat", 53.0, -122.0, units), ON)
    inventory, found = read_inventory(text, "site.yaml", ON)
    assert inventory is not None, [str(one) for one in found]
    for row in made.left:
        assert f"#   row {row.line}, {row.id}: {row.left_out}" in text
    return sheet, made, {tree.id: tree for tree in inventory.trees}, grave


def reasons(made):
    return {row.line: row.left_out for row in made.left}


def workbook(*sheets):
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets:
        page = book.create_sheet(name)
        for row in rows:
            page.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


SWEDISH = """\
Inventering Björkudden;;;;;;
;;;;;;
Träd nr;Trädslag;Omkrets;Höjd (m);Barr;Under barken;Anmärkning
;;cm;;;;
1;gran;120,5;22,5;grön;larver och vuxna;vid grinden
2;vitgran;88;19;gul;;
3;tall;101;20;;;
4;gran;;18;;;ej mätt
Summa;;309,5;;;;
"""


def test_swedish_with_decimal_commas_a_title_a_row_of_units_and_a_sum():
    sheet, made, trees, grave = read(SWEDISH.encode("cp1252"))
    assert not grave
    assert list(trees) == ["1", "2"]
    assert trees["1"].girth_in == pytest.approx(120.5 / 2.54)
    assert trees["1"].height_ft == pytest.approx(22.5 / 0.3048)
    assert (trees["1"].species, trees["2"].species) == ("norway", "white")
    assert trees["1"].found.stages == ("larvae", "adults")
    assert (trees["1"].found.crown, trees["2"].found.crown) == ("green", "yellow-green")
    assert trees["1"].note == "vid grinden"
    assert reasons(made) == {7: "tall is no spruce", 8: "no diameter was measured"}
    said = " ".join(sheet.notes)
    for told in ("Western European", "semicolons", "row 1 above", "row 4 holds the units", "row 9: totals"):
        assert told in said
    assert any("'gran' is taken for Norway spruce" in note for note in made.notes)


def test_finnish_workbook_with_several_worksheets_dates_and_real_numbers():
    content = workbook(
        ("Ohje", [["Näin mitataan"], ["rinnankorkeus 1,3 m"]]),
        (
            "Puut",
            [
                ["Puu", "Puulaji", "Läpimitta", "Pituus", "Tila", "Pvm", "Etäisyys linjaan", "Huom"],
                [1, "kuusi", 31.4, 24.0, "pysty", datetime(2026, 10, 3), 12, None],  # noqa: DTZ001 - cells have no zone
                [2.0, "Picea glauca", 28, 21.5, "tuulenkaato", date(2026, 10, 3), None, "juurakko ylös"],
                [3, "koivu", 20, 17, None, None, None, None],
            ],
        ),
    )
    sheet, made, trees, grave = read(content)
    assert not grave
    assert sheet.grid.name == "Puut"
    assert trees["1"].dbh_in == pytest.approx(31.4 / 2.54)
    assert trees["1"].height_ft == pytest.approx(24 / 0.3048)
    assert trees["1"].near.line == pytest.approx(12 / 0.3048)
    assert trees["1"].found.seen == date(2026, 10, 3)
    assert (trees["2"].status, trees["2"].species, trees["2"].note) == ("windthrown", "white", "juurakko ylös")
    assert reasons(made) == {4: "koivu is no spruce"}


GERMAN = """\
"Baum-Nr.";"Baumart";"BHD [cm]";"Höhe [m]";"Zustand";"Befallsjahr";"Gefahren";"Abstand Haus";"Bemerkungen"
"A 1";"Weißfichte";"42,0";"27,5";"stehend";"2025";"geneigt, hängt";"9,5";"am Weg; Harz"
"A 2";"Blaufichte";"37";"k.A.";"gefällt";"unbekannt";"";"";""
"A 2";"Sitkafichte";"55,5";"31";"stehend";"2026";"faul";"";""
"A 4";"Kiefer";"30";"20";"stehend";"";"";"";""
"""


def test_german_with_quotes_and_an_id_twice():
    _, made, trees, grave = read(GERMAN, units="metric")
    assert not grave
    assert list(trees) == ["A-1", "A-2", "A-2-row-4"]
    first = trees["A-1"]
    assert first.dbh_in == pytest.approx(42 / 2.54)
    assert first.attacked == 2025
    assert (first.tag, first.note) == ("A 1", "am Weg; Harz; Gefahren: geneigt, hängt")
    assert first.near.building == pytest.approx(9.5 / 0.3048)
    assert (trees["A-2"].status, trees["A-2"].height_ft, trees["A-2"].attacked) == ("felled", None, "unknown")
    assert trees["A-2-row-4"].species == "sitka"
    assert reasons(made) == {5: "Kiefer is no spruce"}
    assert any("more than one row" in note for note in made.notes)


FRENCH = """\
No arbre\tEssence\tDHP\tHauteur totale\tÉtat\tType d'attaque\tStade\tDistance à la ligne\tRemarques
7\tépinette blanche\t38\t24\tsur pied\tmassive\tlarves, adultes\thors de portée\t=HYPERLINK("x")
8\tépinette d'Engelmann\t41\t26\tchablis\tbande\taucun\t\t+1 dans le fossé
9\tépinette\t30\t21\tsur pied\t\t\t\t
"""


def test_french_with_tabs_and_cells_that_look_like_formulas():
    _, made, trees, grave = read(FRENCH.encode("utf-16"))
    assert not grave
    assert trees["7"].dbh_in == pytest.approx(38 / 2.54)
    assert trees["7"].attack == "mass"
    assert trees["7"].found.stages == ("larvae", "adults")
    assert trees["7"].near.line == "out-of-reach"
    assert trees["7"].note == '=HYPERLINK("x")'
    assert (trees["8"].status, trees["8"].attack, trees["8"].found.stages) == ("windthrown", "strip", ("none",))
    assert reasons(made) == {
        4: "épinette: the kind of spruce must be known: add --species white, or name it in the sheet"
    }


SPANISH = """\
Árbol|Especie|Circunferencia (cm)|Altura (m)|Estado|Año de ataque|Observaciones
P1|Picea engmannii|130|26|en pie|2024|
P2|picea de Sitka|150|30|caído|2025|junto al río
"""


def test_spanish_with_bars_and_a_slip_in_the_latin_name():
    _, made, trees, grave = read(SPANISH)
    assert not grave
    assert trees["P1"].species == "engelmann"
    assert any("taken for engelmann" in note for note in made.notes)
    assert (trees["P2"].girth_in, trees["P2"].status) == (pytest.approx(150 / 2.54), "windthrown")
    assert trees["P2"].attacked == 2025


NORWEGIAN = """\
sep=;
Tre nr;Treslag;Diameter i brysthøyde;Høyde;Merknad;Avstand hus
1;hvitgran;0;18,5;ikke målt;
2;sitkagran;344;21;;6
3;lutzgran;288;17,5;skjev;0
"""


def test_norwegian_with_millimetres_told_by_the_sizes_and_zeros():
    _, made, trees, grave = read(NORWEGIAN)
    assert not grave
    assert trees["2"].dbh_in == pytest.approx(34.4 / 2.54)
    assert trees["2"].height_ft == pytest.approx(21 / 0.3048)
    assert trees["2"].near.building == pytest.approx(6 / 0.3048)
    assert trees["3"].near.building == "not-checked"
    assert reasons(made) == {3: "no diameter was measured"}
    assert any("0 is taken as not measured" in note for note in made.notes)


ENGLISH_CM = """\
Tree #,Sp.,DBH,Ht,Cond,Notes
1,Sw,38.2,24.1,dead,
5,Sw,G 120,24.1,,
2,Se,41,25,live,"leans, near shed"
3,Sx,29,20,live,
4,Pl,22,18,live,
"""


def test_english_with_two_letter_codes_and_cm_told_by_the_sizes():
    sheet, made, trees, grave = read(ENGLISH_CM)
    assert not grave
    assert (sheet.column("dbh").unit, sheet.column("height").unit) == ("cm", "m")
    assert [tree.species for tree in trees.values()] == ["white", "white", "engelmann"]
    assert trees["5"].girth_in == pytest.approx(120 / 2.54)
    assert trees["1"].note == "dead when measured"
    assert reasons(made)[6] == "Pl is no spruce"
    assert "must be known" in reasons(made)[5]


STEMS = """\
TAG,SPECIES,DBH1 (in),DBH2 (in),HT_FT,COUNT,LARVAE,ADULTS,LEAN,POWER LINE FT,SURVEYED
301,PIGL,14.5,,62,,x,,,,10/13/2026
302,PIEN,12,9.5,55,,,,x,33,10/14/2026
303,PISI,10+8.5,,48,,,,,,
304,PIMA,6.5,,30,12,,,,,
305,PIXX,6.5,,30,1,,,,,
"""


def test_several_stems_counts_and_columns_to_tick():
    sheet, made, trees, grave = read(STEMS)
    assert not grave
    assert trees["301"].found.stages == ("larvae",)
    assert [trees[f"302-stem-{n}"].dbh_in for n in (1, 2)] == [12, 9.5]
    assert trees["302-stem-1"].hazards == ("lean",)
    assert trees["302-stem-2"].near.line == 33
    assert [trees[f"303-stem-{n}"].dbh_in for n in (1, 2)] == [10, 8.5]
    assert sum(name.startswith("304.") for name in trees) == 12
    assert list(reasons(made)) == [6]
    assert any("second stem" in doubt.text for doubt in sheet.doubts)
    assert made.summary() == "5 rows are read: 6 trees from 4 rows, 1 left out"


PILE = """\
Pile,Species,Butt dia (in),Top dia (in),Length (ft),Status,Bark left %,Felled on
K1,white,14,12,16,logs,90,2026-05-02
K1,white,12,9,16,logs,90,2026-05-02
K1,aspen,12,9,16,logs,90,
K2,Engelmann,10,,16,logs,,
"""


def test_logs_of_a_pile_are_grouped_by_its_name():
    _, made, trees, grave = read(PILE, maps=("Pile=id",))
    assert not grave
    pile = trees["K1"]
    assert [(log.butt_in, log.top_in, log.length_ft) for log in pile.logs] == [(14, 12, 16), (12, 9, 16)]
    assert (pile.status, pile.bark.left_percent, pile.felled_on) == ("logs", 90, date(2026, 5, 2))
    assert reasons(made) == {4: "aspen is no spruce", 5: "a log needs its thick end, its thin end and its length"}
    assert made.summary() == "4 rows are read: 1 tree from 2 rows, 2 left out"


ONE_KIND = """\
id,girth,height,attack year,needles,holes,hazard,road,remarks
T1,55,80,2025,red,many,hung up; rot,15,ask about the fence
T2,1 250,70,2025,green,,none,,
T3,48,-9,unknown,fading,none,,far,
"""


def test_one_kind_without_a_species_column_and_with_a_number_in_two_readings():
    _, made, trees, grave = read(ONE_KIND, species="white")
    assert not grave
    assert trees["T1"].girth_in == 55
    assert trees["T1"].hazards == ("hung-up", "decay")
    assert (trees["T1"].found.crown, trees["T1"].found.exit_holes) == ("dropping", "many")
    assert trees["T3"].height_ft is None
    assert trees["T3"].note == "road: far"
    assert list(reasons(made)) == [3]
