"""Trees of a sheet in an inventory that is there: every letter of what was there stays."""

import io
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from barkwright.intake.adding import added
from barkwright.intake.rows import Row
from barkwright.intake.splice import NoPlaceError, spliced
from barkwright.inventory.reading import read_inventory

ON = date(2026, 11, 27)
HEAD = "# my site\nbarkwright: 1\nsite: {name: 'Otter Run', units: imperial, latitude: 53, longitude: -122}\n"
ROWS = (
    Row(2, "N1", (("species", "white"), ("dbh", "42 cm"), ("height", "72 ft"))),
    Row(3, "N2", (("species", "sitka"), ("dbh", "15 in"))),
)
LISTS = {
    "block": "trees:\n  - id: A\n    species: white\n    dbh: 12.0   # measured twice\n\n# the end\ncrew: []\n",
    "dashes at the margin": "trees:\n- {id: A, species: white, dbh: 12}\ncrew: []\n",
    "windows": "trees:\r\n  - {id: A, species: white, dbh: 12}\t# a\ttab\r\n# end\r\ncrew: []\r\n",
    "no final line end": "crew: []\ntrees:\n  - id: A\n    species: white\n    dbh: 12",
    "comment at the end": "crew: []\ntrees:\n  - id: A\n    species: white\n    dbh: 12   # last word",
    "comments inside": "trees:\n  - id: A\n    species: white\n    dbh: 12\n    # near: {line: 30}\n  # next week\n",
    "empty flow": "trees: []   # none yet\ncrew: []\n",
    "flow": "trees: [{id: A, species: white, dbh: 12}]\ncrew: []\n",
    "flow over lines": "trees: [\n  {id: A, species: white, dbh: 12}, # the first\n]\ncrew: []\n",
    "no value": "trees:   # to come\ncrew: []\n",
    "no key": "crew: []\n# nothing below\n",
    "letters beyond ascii": "client: {name: 'Ása Öberg 🌲'}\ntrees:\n  - id: Å\n    species: white\n    dbh: 12\n"
    "    note: >\n      two\n      lines\n\ncrew: []\n",
    "quoted": 'trees:\n  - "id": "A"\n    species: \'white\'\n    dbh: "12 in"\n'
    "    near: {line: 30,\n           road: out-of-reach}\n",
}


def added_to(text, rows=ROWS):
    result = added(text, "site.yaml", rows, "'walk.csv'", ON)
    assert result.text is not None, [str(one) for one in result.found]
    return result


@pytest.mark.parametrize("name", LISTS)
@pytest.mark.parametrize("start", ["", "\ufeff"])
def test_what_was_there_stays_letter_by_letter(name, start):
    text = start + HEAD + LISTS[name]
    if "\r\n" in text:
        text = text.replace("\r\n", "\n").replace("\n", "\r\n")
    result = added_to(text)
    at = next(n for n, (old, new) in enumerate(zip(text + "\0", result.text, strict=False)) if old != new)
    longer = len(result.text) - len(text)
    assert any(result.text[:n] + result.text[n + longer :] == text for n in range(max(at - 200, 0), at + 1))
    inventory, found = read_inventory(result.text, "site.yaml", ON)
    assert inventory is not None, [str(one) for one in found]
    old = [] if name in ("empty flow", "no value", "no key") else ["Å" if "beyond" in name else "A"]
    assert [tree.id for tree in inventory.trees] == [*old, "N1", "N2"]
    assert inventory.trees[-2].dbh_in == pytest.approx(42 / 2.54)
    assert ("\r\n" in text) == ("\r\n" in result.text)
    assert "\n" not in result.text.replace("\r\n", "") or "\r\n" not in text
    assert text.endswith("\n") == result.text.endswith("\n")


@pytest.mark.parametrize("name", LISTS)
def test_a_reader_from_elsewhere_sees_every_comment_and_the_same_values(name):
    text = HEAD + LISTS[name].replace("\t#", " #")  # which that reader refuses
    old, new = (YAML().load(io.StringIO(one)) for one in (text, added_to(text).text))
    had = old.pop("trees", None) or []
    assert list(new.pop("trees"))[: len(had)] == list(had)
    assert new == old
    for line in text.splitlines():
        if "#" in line:
            assert line.split("#", 1)[1] in added_to(text).text


def test_the_same_tree_is_skipped_and_another_of_its_name_left_out():
    text = HEAD + "trees:\n  - {id: N1, species: white, dbh: 16.5, height: 72, note: mine}\n"
    text += "  - {id: N2, species: sitka, dbh: 30}\n"
    result = added_to(text)
    assert result.same == ("N1",)
    assert [(row.id, row.left_out) for row in result.left] == [
        ("N2", "'N2' is in the inventory already, with another dbh: change it there by hand")
    ]
    assert result.new == ()
    assert result.text == text


def test_what_was_found_since_is_no_repetition():
    text = HEAD + "trees:\n  - {id: N1, species: white, dbh: 16.5, height: 72}\n"
    row = Row(2, "N1", (*ROWS[0].facts, ("crown", "bare")))
    assert "another found" in added_to(text, [row]).left[0].left_out


def test_an_id_that_a_count_has_taken_is_left_out():
    text = HEAD + "trees:\n  - {id: G, count: 3, species: white, dbh: 9}\n"
    row = Row(2, "G.2", (("species", "white"), ("dbh", "9 in")))
    assert added_to(text, [row]).left[0].left_out == "'G.2' is in the inventory already"


def test_faults_that_were_there_do_not_stop_it_and_new_ones_do():
    text = "barkwright: 1\nsite: {name: x, latitude: , longitude: -122}\ntrees: []\n"
    assert added_to(text).new == ("N1", "N2")
    bad = Row(2, "N3", (("species", "white"), ("dbh", "900 in")))
    result = added(HEAD + "trees: []\n", "site.yaml", [bad], "'w.csv'", ON)
    assert result.text is None
    assert [one.code for one in result.found] == ["out-of-range"]


@pytest.mark.parametrize("text", ["{barkwright: 1, trees: []}\n", "trees: 7\n"])
def test_where_nothing_can_be_added_it_says_so(text):
    with pytest.raises(NoPlaceError):
        spliced(text, ["{id: A}"], [])


AROUND = ("", "# c", "    # deep", "  # list")
TREES = (
    "trees: []",
    "trees:\n  - {id: A, species: white, dbh: 9}",
    "trees:\n- id: A\n  species: white\n  dbh: 9 # x",
)


@settings(max_examples=150)
@given(
    st.lists(
        st.sampled_from(["", "# c", "    # deep", "  # list", "crew: []", "client: {name: 'é'}"]),
        max_size=4,
        unique=True,
    ),
    st.sampled_from(
        ["trees: []", "trees:\n  - {id: A, species: white, dbh: 9}", "trees:\n- id: A\n  species: white\n  dbh: 9 # x"]
    ),
    st.lists(
        st.sampled_from(["", "# c", "    # deep", "  # list", "best: {}", "wishes: {avoid: [burn]}"]),
        max_size=4,
        unique=True,
    ),
    st.sampled_from(["\n", "\r\n"]),
    st.booleans(),
)
def test_whatever_stands_around_the_list_stays(before, trees, after, line_end, ends):
    text = (HEAD + "\n".join([*before, trees, *after]) + ("\n" if ends else "")).replace("\n", line_end)
    result = added(text, "site.yaml", ROWS, "'walk.csv'", ON)
    assert result.text is not None, [str(one) for one in result.found]
    kept = [
        line
        for line in result.text.split(line_end)
        if "N1" not in line and "N2" not in line and "added 2026" not in line
    ]
    if "[]" not in trees:
        assert kept == text.split(line_end)
