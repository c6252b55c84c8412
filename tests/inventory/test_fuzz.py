"""Whatever the text, reading ends with an inventory or with what is wrong with it, never with a traceback."""

from datetime import date

import jsonschema
from hypothesis import given, settings
from hypothesis import strategies as st
from inventory_faults import GOOD

from barkwright.inventory.reading import read_inventory
from barkwright.inventory.schema import inventory_schema
from barkwright.yamldoc import read_document

ON = date(2026, 11, 25)
TEXTS = [path.read_text(encoding="utf-8") for path in GOOD]
SCHEMA = jsonschema.Draft202012Validator(inventory_schema())
SNIPPETS = [
    "",
    " ",
    "\n",
    ":",
    "- ",
    "0",
    "9e99",
    "-1",
    "true",
    "null",
    "[",
    "}",
    "'",
    "# ",
    "cm",
    "none",
    "2026-02-30",
    "1/0",
]


def check(text):
    inventory, found = read_inventory(text, "site.yaml", ON)
    assert (inventory is None) == any(one.severity == "error" for one in found)
    places = [(one.where.line, one.where.column) for one in found]
    assert places == sorted(places)
    for one in found:
        assert one.message
        assert "pydantic" not in one.message
        assert 1 <= one.where.line <= len(text.splitlines()) + 1
    return inventory


@settings(max_examples=150)
@given(st.text(max_size=200))
def test_any_text(text):
    check(text)


@settings(max_examples=150)
@given(
    st.recursive(
        st.none()
        | st.booleans()
        | st.integers()
        | st.floats()
        | st.text(max_size=5)
        | st.sampled_from(["T1", "white", "12 in"]),
        lambda inside: (
            st.lists(inside, max_size=3)
            | st.dictionaries(
                st.sampled_from(["id", "species", "dbh", "logs", "butt", "near", "x"]), inside, max_size=4
            )
        ),
        max_leaves=8,
    )
)
def test_any_value_in_place_of_the_trees(value):
    check(f"barkwright: 1\nsite: {{name: a, units: metric, latitude: 1, longitude: -1}}\ntrees: {value!r}\n")


@settings(max_examples=250)
@given(st.sampled_from(TEXTS), st.integers(0), st.integers(0, 12), st.sampled_from(SNIPPETS))
def test_a_good_file_with_something_cut_out_or_put_in(text, at, cut, snippet):
    at %= len(text)
    changed = text[:at] + snippet + text[at + cut :]
    if check(changed) is not None:
        document, _ = read_document(changed, "site.yaml")
        assert not list(SCHEMA.iter_errors(document.data)), "the schema refuses what the program reads"
