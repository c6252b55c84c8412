"""Lists of figures: each figure is grounded and used, and each name that the program asks for is there."""

import ast
import importlib
from pathlib import Path

import pytest

import barkwright
from barkwright.brood.numbers import FOLLOW
from barkwright.figures import Figures
from barkwright.quote.settings import QUOTATION
from barkwright.schedule.settings import SETTINGS
from barkwright.season.numbers import DRYING, FLIGHT, FROST, LOST_DAYS
from barkwright.sources import cite
from barkwright.study.efforts import CHANGES
from barkwright.study.settings import STUDY
from barkwright.treatment.limits import LIMITS

HOME = Path(barkwright.__file__).parent
LISTS = (SETTINGS, DRYING, FLIGHT, FROST, LOST_DAYS, LIMITS, STUDY, CHANGES, QUOTATION, FOLLOW)


def _users():
    """Every module that holds a list of figures, and its syntax tree."""
    for path in sorted(HOME.rglob("*.py")):
        module = importlib.import_module(".".join(("barkwright", *path.relative_to(HOME).with_suffix("").parts)))
        if any(isinstance(one, Figures) for one in vars(module).values()):
            yield module, ast.parse(path.read_text(encoding="utf-8"))


USERS = list(_users())


def _asked():
    """Every `LIST["name"]`, `LIST.whole["name"]` and `LIST.day("name", year)` of the program, with the list."""
    for module, tree in USERS:
        for node in ast.walk(tree):
            if isinstance(node, ast.Subscript):
                of, name = node.value, node.slice
            elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "day":
                of, name = node.func.value, node.args[0]
            else:
                continue
            figures = vars(module).get(ast.unparse(of).removesuffix(".whole"))
            if isinstance(figures, Figures):
                names = (name.body, name.orelse) if isinstance(name, ast.IfExp) else (name,)
                yield from ((figures, one.value) for one in names if isinstance(one, ast.Constant))


def test_every_list_of_the_program_is_tested_here():
    assert {id(one) for module, _ in USERS for one in vars(module).values() if isinstance(one, Figures)} == set(
        map(id, LISTS)
    )


def test_every_figure_that_is_asked_for_exists():
    asked = list(_asked())
    assert len(asked) > 100
    assert [name for figures, name in asked if name not in figures.whole] == []


@pytest.mark.parametrize("figures", LISTS, ids=[one.path for one in LISTS])
def test_every_figure_is_grounded_and_used(figures):
    spoken = {node.value for _, tree in USERS for node in ast.walk(tree) if isinstance(node, ast.Constant)}
    for name, figure in figures.whole.items():
        assert figure.sources or figure.basis, name
        assert figure.what or figure.note, name
        assert name in spoken, f"nothing asks for {name}"
        for source in figure.sources:
            cite(source)


def test_a_number_is_no_day_and_a_missing_name_is_an_error():
    assert LIMITS.day("drying_to", 2027).year == 2027
    with pytest.raises(ValueError, match="05-01"):
        LIMITS["drying_from"]
    with pytest.raises(KeyError):
        LIMITS["no-such-name"]
