"""What the program needs is bounded on both sides, named where it is used, and the oldest set is the lower bounds."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
NEEDS = PROJECT["project"]["dependencies"]
EXTRAS = PROJECT["project"]["optional-dependencies"]
CALLED = {"pyyaml": "yaml", "jinja2": "jinja2", "ruamel.yaml": "ruamel", "typing_extensions": "typing_extensions"}


def name_of(need: str) -> str:
    return re.split(r"[<>=\[;]", need)[0].strip().casefold()


def test_every_need_has_a_lowest_and_a_highest_version() -> None:
    for need in (*NEEDS, *(one for extra in EXTRAS.values() for one in extra), *PROJECT["build-system"]["requires"]):
        assert re.fullmatch(r"[\w.-]+(>=[\d.]+,<[\d.]+|==[\d.]+)", need), need


def test_what_is_imported_is_needed_and_the_other_way_round() -> None:
    imported = set()
    for path in (ROOT / "src").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [one.name for one in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            imported |= {name.split(".")[0] for name in names}
    imported -= {*sys.stdlib_module_names, "barkwright"}
    extra = {CALLED.get(name, name) for part, needs in EXTRAS.items() if part != "test" for name in map(name_of, needs)}
    needed = {CALLED.get(name, name) for name in map(name_of, NEEDS)}
    assert needed <= imported
    assert imported <= needed | extra


def test_the_oldest_set_is_made_of_the_lower_bounds() -> None:
    lines = (ROOT / ".ci" / "oldest.txt").read_text(encoding="utf-8").splitlines()
    pinned = dict(line.split("==") for line in lines if "==" in line)
    needs = (*NEEDS, *(one for extra in EXTRAS.values() for one in extra))
    lowest = {need.split(">=")[0]: need.split(">=")[1].split(",")[0] for need in needs if ">=" in need}
    for name in map(name_of, NEEDS):
        assert name in {one.casefold() for one in pinned}
    for name, version in pinned.items():
        if name in lowest:
            assert [int(part) for part in version.split(".")][: len(lowest[name].split("."))] == [
                int(part) for part in lowest[name].split(".")
            ], name
