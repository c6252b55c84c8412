"""What names of columns and sizes tell, on both sides of a doubt."""

import pytest

from barkwright.intake.cells import Unread, commas_of, day, day_order, is_missing, size, stems, word_list, words, year
from barkwright.intake.columns import dictionary, named
from barkwright.intake.grid import bare, sheet_limits
from barkwright.intake.kinds import kind_of, spruce_codes
from barkwright.intake.unitguess import told_units


@pytest.mark.parametrize(
    ("name", "meaning", "unit"),
    [
        ("DBH", "dbh", None),
        ("DBH_cm", "dbh", "cm"),
        ("DBHcm", "dbh", "cm"),
        ("dbh in", "dbh", "in"),
        ("D1.3 (mm)", "dbh", "mm"),
        ("Diameter at 1.3 m", "dbh", None),
        ('Diameter (")', "dbh", "in"),
        ("Läpimitta, cm", "dbh", "cm"),
        ("Brusthöhendurchmesser [cm]", "dbh", "cm"),
        ("Circonférence (cm)", "girth", "cm"),
        ("Height in feet", "height", "ft"),
        ("Hauteur en m", "height", "m"),
        ("HÖJD/dm", "height", "dm"),
        ("Especie", "species", None),
        ("Träd nr", "id", None),
        ("Tree #", "id", None),
        ("Remarks", "note", None),
        ("Dist. to line (m)", "line", "m"),
        ("Crown diameter (m)", "-", None),
        ("Distance", "-", None),
        ("Lattitude", None, None),
        ("zzz", None, None),
    ],
)
def test_names(name, meaning, unit):
    found = named(name)
    assert (found.meaning, found.unit) == (meaning, unit) if meaning else found is None or found.meaning == "-"


def test_no_word_has_two_meanings():
    tables = [{key: one.words for key, one in dictionary().meanings.items()} | {"-": dictionary().ignored}]
    tables += [getattr(words(), key) for key in words().__slots__ if key not in ("checked_on", "basis")]
    tables += [spruce_codes().spruce_names | {"?": spruce_codes().unclear, "local": spruce_codes().local}]
    for table in tables:
        seen = {}
        for meaning, said in table.items():
            for one in said:
                assert seen.setdefault(bare(one) or one, meaning) == meaning, one


@pytest.mark.parametrize(
    ("across", "along", "units"),
    [
        (14, 60, ("in", "ft")),
        (36, 25, ("cm", "m")),
        (40, 70, ("cm", "ft")),
        (344, 21, ("mm", "m")),
    ],
)
def test_units_of_usual_trees_are_certain(across, along, units):
    told = told_units([across], [along], [(across, along)])
    assert (told.across, told.along) == units
    assert min(told.across_share, told.along_share) >= sheet_limits().certain
    assert not told.odd


@pytest.mark.parametrize(("across", "along"), [(22, None), (14, None), (24, 30), (120, 20)])
def test_units_of_trees_that_may_be_either_are_not(across, along):
    pairs = [(across, along)] if along else []
    told = told_units([across], [along] if along else [], pairs)
    assert told.odd or told.across_share < sheet_limits().certain


@pytest.mark.parametrize(
    ("cell", "number", "unit"),
    [
        ("12", "12", None),
        ("12,5 cm", "12.5", "cm"),
        ("~30", "30", None),
        ("ca. 30 m", "30", "m"),
        ("12' 6\"", "12.5", "ft"),
        ("007", "7", None),
        ("0.0", "0", None),
        ("22.400000000000002", "22.4", None),
        ("3 1/2", "3.5", None),
    ],
)
def test_sizes(cell, number, unit):
    assert size(cell) == (number, unit)


@pytest.mark.parametrize("cell", ["1,250", "2026-05-12", "twelve", "12 kittens", ">30", "=1+1", "-"])
def test_what_is_no_size_says_why(cell):
    with pytest.raises(Unread) as why:
        size(cell)
    assert cell in str(why.value)


def test_a_comma_of_three_digits_is_a_decimal_where_the_column_says_so():
    assert commas_of(["1,250", "1,3"]) == "decimal"
    assert size("1,250", "decimal") == ("1.25", None)
    assert commas_of(["1,250", "1,300"]) == "unclear"


def test_days_of_both_orders():
    assert day_order(["3/4/2026", "13/4/2026"]) == "day first"
    assert day_order(["3/4/2026", "3/14/2026"]) == "month first"
    assert day_order(["3.4.2026"]) == "day first"
    assert day_order(["3/4/2026"]) == "unclear"
    assert day("3/4/2026", "unclear") is None
    assert str(day("3/4/2026", "month first")) == "2026-03-04"
    assert str(day("4/4/2026", "unclear")) == "2026-04-04"
    assert day("31/2/2026", "day first") is None


def test_words_years_stems_and_nothing():
    assert word_list("Larven und Puppen", words().stages) == ("larvae", "pupae")
    assert word_list("larvae eggs", words().stages) is None
    assert [year(one) for one in ("2025", "2025.0", "never", "ja", "2025-07-01", "two")] == [
        "2025", "2025", "never", "unknown", "2025", None,
    ]  # fmt: skip
    assert stems("12+9") == ("12", "9")
    assert stems("12") == ("12",)
    assert all(is_missing(one) for one in ("", "NA", ".", "-", "-9", "999", "999.0", "#N/A"))
    assert not is_missing("0")


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("Picea glauca (Moench) Voss", "white"), ("PIEN", "engelmann"), ("94.0", "white"), ("Picea × lutzii", "lutz"),
        ("Engelman spruce", "engelmann"), ("P. mariana", "black"), ("Colorado blue spruce", "blue"),
        ("Rotfichte", "norway"),
        ("Western white pine", None), ("white fir", None), ("red alder", None), ("blue", "blue"),
        ("Sitkagran", "sitka"),
        ("spruce", None), ("92", None), ("x", None),
    ],
)  # fmt: skip
def test_kinds(said, kind):
    found = kind_of("", said)
    assert found.species == kind
    assert (found.reason == "") == (kind is not None)
