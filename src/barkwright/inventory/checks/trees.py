"""Has every tree an id of its own and the keys that its status needs, and none that it cannot have?"""

from __future__ import annotations

import re
from collections.abc import Sequence

from barkwright.inventory.checks.limits import limits
from barkwright.inventory.model import Status, Tree
from barkwright.inventory.parts import Parts
from barkwright.inventory.report import Report
from barkwright.yamldoc import Loc, Node

_STANDS: tuple[Status, ...] = ("standing",)
_WHOLE: tuple[Status, ...] = ("standing", "windthrown", "felled")
_DOWN: tuple[Status, ...] = ("windthrown", "felled", "logs")
# key -> statuses it makes sense for, and what to do otherwise
_ONLY: dict[str, tuple[tuple[Status, ...], str]] = {
    "diameter": (("stump",), "the diameter of a tree is dbh, that of a log butt and top"),
    "logs": (("logs",), "write status: logs for a tree that is cut into logs"),
    "felled_on": (("felled", "logs", "stump"), "write status: felled, logs or stump for a tree that was cut"),
    "down_since": (("windthrown", "logs"), "write status: windthrown for a tree that the wind threw"),
    "broken_at": (_WHOLE, "leave it out"),
    "removal": (_STANDS, "leave it out: the tree is down"),
    "stood_at_attack": (("windthrown", "felled", "logs", "stump"), "leave it out: the tree stands"),
    "bark": (_DOWN, "leave it out: this is for down logs"),
}
_BAD_ID = re.compile(r"[/,;:\s]")


def check_ids(parts: Parts, report: Report) -> None:
    """Every id once, also after counts are spelt out, and fit to stand before a slash: T3/1."""
    trees = report.document.node(("trees",)).value
    trees = trees if isinstance(trees, list) else []
    seen: dict[str, Node] = {}
    total = sum(_count(tree) for tree in trees)
    if total > limits().most_trees:
        message = f"{total:,} trees with their counts, more than {limits().most_trees:,}"
        report.error("too-large", ("trees",), message, "split the site into several files")
        return
    for number, tree in enumerate(trees):
        node = tree.value.get("id") if isinstance(tree.value, dict) else None
        if node is None or node.kind != "scalar":
            continue
        at: Loc = ("trees", number, "id")
        bad = _BAD_ID.search(node.text)
        if bad or not 0 < len(node.text) <= limits().id_letters:
            length = f"is empty or longer than {limits().id_letters} letters"
            what = f"has {_name(bad.group())} in it" if bad else length
            report.error("bad-id", at, f"id '{node.text}' {what}", "use letters, digits, dots and hyphens, like NE-12")
        elif not any(letter.isalnum() for letter in node.text):
            text = f"id '{node.text}' has neither a letter nor a digit in it"
            report.error("bad-id", at, text, "use letters, digits, dots and hyphens, like NE-12")
        many = _count(tree)
        names = [node.text] + [f"{node.text}.{n}" for n in range(1, min(many, 2000) + 1) if many > 1]
        _once(at, names, node, seen, report)


def check_status(parts: Parts, report: Report) -> None:
    """The keys that a status needs and those that it cannot have."""
    unknown = {(one.where.line, one.where.column) for one in report.found if one.code == "unknown-key" and one.where}
    for at, tree in parts.trees:
        for key, (statuses, hint) in _ONLY.items():
            if report.has_key((*at, key)) and tree.status not in statuses:
                where = (*at, key)
                report.error("status-forbids", where, f"'{key}' does not fit status: {tree.status}", hint, key=True)
        if unknown.isdisjoint(report.document.node(at).keys.values()):  # a key may be misspelt
            _needs(at, tree, report)


def check_trees_there(parts: Parts, report: Report) -> None:
    """At least one tree."""
    trees = report.document.node(("trees",)).value
    if isinstance(trees, list) and not trees:
        report.error("missing-value", ("trees",), "there is no tree in it", "list at least one tree")


def _needs(at: Loc, tree: Tree, report: Report) -> None:
    measured = tree.breast_height_in is not None
    if tree.status in _WHOLE and not measured:
        hint = "add dbh (across at 4.5 ft, 1.37 m) or girth (around it)"
        report.error("status-needs", at, f"a {tree.status} tree needs its dbh or girth", hint)
    elif tree.status == "logs" and not tree.logs:
        hint = "add logs: [{butt: , top: , length: }], or write status: felled for a whole stem"
        report.error("status-needs", at, "status: logs needs the logs as measured", hint)
    elif tree.status == "stump" and tree.diameter_in is None and not measured:
        report.error("status-needs", at, "a stump needs its diameter", "add diameter: across the cut, over the bark")
    if tree.status == "windthrown" and tree.down_since is None:
        hint = "add down_since: the day or the first of the month it fell, like 2026-09-01"
        report.warning("status-needs", at, "it is not said since when the tree is down", hint)
    elif tree.status in ("felled", "logs") and tree.felled_on is None and tree.down_since is None:
        hint = "add felled_on: the day or the first of the month, like 2026-09-01"
        report.warning("status-needs", at, "it is not said when the tree was felled", hint)


def _count(tree: Node) -> int:
    count = tree.value.get("count") if isinstance(tree.value, dict) else None
    return max(count.value, 1) if count is not None and isinstance(count.value, int) else 1


def _once(at: Loc, names: Sequence[str], node: Node, seen: dict[str, Node], report: Report) -> None:
    for name in names:
        if name in seen:
            text = f"id '{name}' is there already, in line {seen[name].line}"
            report.error("duplicate-id", at, text, "give every tree an id of its own; like trees share one with count")
            return
    seen.update(dict.fromkeys(names, node))


def _name(letter: str) -> str:
    return {"/": "a slash", ",": "a comma", ";": "a semicolon", ":": "a colon"}.get(letter, "a blank")
