"""Every data file that the program ships, held strictly against the type that the program loads it as.

Loading only builds (`building.builder`); what it takes on trust is proven here.
"""

import ast
import importlib
import json
from pathlib import Path

import pytest
from pydantic import TypeAdapter

import barkwright
from barkwright.datafile import load
from barkwright.figures import Figure
from barkwright.sources import DATA, Source, load_sources
from barkwright.yamldoc import load_plain, read_document

HOME = Path(barkwright.__file__).parent
FILES = sorted(path.relative_to(DATA).as_posix() for path in DATA.rglob("*.yaml"))


def _loads():
    """Every call `load("file", Type)` or `Figures("file")` in the program: the file and the type."""
    for path in sorted(HOME.rglob("*.py")):
        module = ".".join(("barkwright", *path.relative_to(HOME).with_suffix("").parts))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            call = ast.unparse(node.func) if isinstance(node, ast.Call) else ""
            if call in ("load", "datafile.load") and path.name != "figures.py":
                names = vars(importlib.import_module(module))
                kind = eval(ast.unparse(node.args[1]), names)
                spots = [{**names, "name": name} for name in names.get("FILES", ("",))]
                for file in dict.fromkeys(eval(ast.unparse(node.args[0]), spot) for spot in spots):
                    yield file, kind
            elif call == "Figures" and isinstance(node.args[0], ast.Constant):
                yield node.args[0].value, dict[str, Figure]


LOADS = list(dict.fromkeys(_loads()))


def test_every_data_file_is_loaded_as_one_type():
    assert sorted([file for file, _ in LOADS] + ["sources.yaml", "diagnostics.yaml"]) == FILES


@pytest.mark.parametrize("file", FILES)
def test_the_quick_reader_reads_what_the_careful_one_reads(file):
    text = (DATA / file).read_text(encoding="utf-8")
    document, found = read_document(text, file)
    assert not found
    assert repr(load_plain(text)) == repr(document.data)


@pytest.mark.parametrize(("file", "kind"), LOADS, ids=[file for file, _ in LOADS])
def test_the_file_is_what_its_type_says(file, kind):
    _held_against(load_plain((DATA / file).read_text(encoding="utf-8")), kind, load(file, kind))


def test_the_sources_are_what_their_type_says():
    records = load_plain((DATA / "sources.yaml").read_text(encoding="utf-8"))
    _held_against(records, dict[str, Source], dict(load_sources()))


def _held_against(data, kind, built):
    # By way of JSON, strictness takes a list for a tuple and ISO text for a date, and nothing else.
    checked = TypeAdapter(kind).validate_json(json.dumps(data), strict=True, extra="forbid")
    assert repr(built) == repr(checked)
