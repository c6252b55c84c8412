"""Faults put into good inventories, one at a time, each with the line that a diagnostic has to name. Deterministic."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from barkwright.inventory.measure import Bounds, CapacityOfKind, Measure
from barkwright.inventory.model import Inventory
from barkwright.inventory.slots import slot_at
from barkwright.yamldoc import Document, Loc, Node, read_document

GOOD = sorted((Path(__file__).parents[1] / "inventories" / "good").glob("*.yaml"))


@dataclass(frozen=True)
class Fault:
    """A faulty inventory, what was done to it, and the line of the fault."""

    name: str
    text: str
    line: int


def faults(path: Path) -> Iterator[Fault]:
    text = path.read_text(encoding="utf-8")
    document, _ = read_document(text, path.name)
    assert document is not None
    for loc, node in _walk(document.root, ()):
        name = f"{path.stem}:{'.'.join(map(str, loc))}"
        yield from _key_faults(name, text, document, loc)
        if node.kind == "scalar":
            yield from _value_faults(name, text, loc, node)


def _key_faults(name: str, text: str, document: Document, loc: Loc) -> Iterator[Fault]:
    if isinstance(loc[-1], int):
        return
    at = document.key_place(loc)
    key = str(loc[-1])
    yield Fault(f"{name}: key misspelt", _replace(text, at.line, at.column, key, f"zz{key}"), at.line)
    line = text.splitlines()[at.line - 1]
    if line.strip().startswith(f"{key}:"):
        after = line.index(f"{key}:") + len(key) + 1
        if line[after:].strip() and not line[after:].strip().startswith("#"):
            yield Fault(f"{name}: no colon", _replace(text, at.line, at.column, f"{key}:", key), at.line)
            yield Fault(f"{name}: no blank", _replace(text, at.line, at.column, f"{key}: ", f"{key}:"), at.line)
            twice = text.splitlines()
            twice.insert(at.line, line)
            yield Fault(f"{name}: key twice", "\n".join(twice), at.line + 1)
        if at.column > 1:
            tab = text.splitlines()
            tab[at.line - 1] = "\t" + line.lstrip()
            yield Fault(f"{name}: tab", "\n".join(tab), at.line)


def _value_faults(name: str, text: str, loc: Loc, node: Node) -> Iterator[Fault]:
    slot = slot_at(Inventory, loc)
    assert slot is not None
    written = repr(node.text) if node.quoted and "'" not in node.text else node.text
    if node.quoted:
        return

    def with_value(what: str, new: str) -> Fault:
        return Fault(f"{name}: {what}", _replace(text, node.line, node.column, written, new), node.line)

    if str not in slot.types:
        yield with_value("nonsense", "zebra")
        yield with_value("a list", "[1, [2]]")
    if isinstance(slot.mark, (Measure, CapacityOfKind)):
        yield with_value("another dimension", "3 kV" if loc[-1] != "line_kv" else "3 lb")
        yield with_value("decimal comma", "'3,5'")
    if isinstance(slot.mark, (Measure, Bounds, CapacityOfKind)):
        yield with_value("far too much", "9e9")
    if not isinstance(loc[-1], int):
        yield with_value("no value", "")
    yield with_value("an alias", "*here")
    yield with_value("an open quote", f"'{written}")


def _replace(text: str, line: int, column: int, old: str, new: str) -> str:
    lines = text.splitlines()
    before, rest = lines[line - 1][: column - 1], lines[line - 1][column - 1 :]
    assert rest.startswith(old), (rest, old)
    lines[line - 1] = before + new + rest[len(old) :]
    return "\n".join(lines) + "\n"


def _walk(node: Node, loc: Loc) -> Iterator[tuple[Loc, Node]]:
    items = node.value.items() if isinstance(node.value, dict) else enumerate(node.value) if node.kind == "list" else ()
    for key, item in items:
        yield (*loc, key), item
        yield from _walk(item, (*loc, key))
