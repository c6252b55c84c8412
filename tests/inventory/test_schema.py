import json
from pathlib import Path

import jsonschema
import pytest
from inventory_faults import GOOD

from barkwright.inventory.model import Inventory
from barkwright.inventory.schema import inventory_schema, key_meanings
from barkwright.inventory.slots import records, slots
from barkwright.yamldoc import read_document

SHIPPED = Path(__file__).parents[2] / "shared" / "inventory.schema.json"


def test_the_shipped_schema_is_that_of_the_models():
    assert SHIPPED.read_text(encoding="utf-8") == (
        json.dumps(inventory_schema(), indent=2, sort_keys=True, ensure_ascii=False) + "\n"
    )


def test_it_is_a_schema_and_says_which_dialect():
    schema = inventory_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"].endswith("2020-12/schema")
    assert schema["$id"]


def test_every_key_has_its_meaning_and_every_meaning_its_key():
    parts = {record.__name__: list(slots(record)) for _, record in records(Inventory)}
    assert {name: list(keys) for name, keys in key_meanings().items()} == parts


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_good_inventories_fit_the_schema(path):
    document, _ = read_document(path.read_text(encoding="utf-8"), path.name)
    jsonschema.Draft202012Validator(inventory_schema()).validate(document.data)


@pytest.mark.parametrize(
    ("at", "value"),
    [
        ("species", "oak"),
        ("dbhh", 3),
        ("stood_at_attack", "yes"),
        ("felled_on", "10/3/2026"),
        ("attacked", 26),
        ("count", 0),
    ],
)
def test_a_faulty_tree_does_not(at, value):
    tree = {"id": "T1", "species": "white", "dbh": 12, at: value}
    site = {"name": "a", "units": "metric", "latitude": 1, "longitude": -1}
    schema = jsonschema.Draft202012Validator(inventory_schema())
    assert not schema.is_valid({"barkwright": 1, "site": site, "trees": [tree]})
