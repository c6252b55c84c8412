"""New entries put into the list of trees of an inventory's text, every letter of the rest left as it is."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import yaml

from barkwright.record import dataclass

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class NoPlaceError(Exception):
    """The list of trees is written in a way that nothing can be added to."""


@dataclass(frozen=True, slots=True)
class _Trees:
    """Where the list of trees stands: `kind` is block, flow, nothing (a key without a value) or absent."""

    kind: str
    start: int  # of the list, or behind the key
    end: int  # behind its last entry; of an empty flow list behind its bracket
    column: int
    any: bool = False


def spliced(text: str, entries: Sequence[str], remarks: Sequence[str]) -> str:
    """The text with `entries`, trees in flow style, behind the last tree, under `remarks` as comments.

    `text` is an inventory that reads as YAML. Raises NoPlaceError.
    """
    trees = _found(text)
    line_end = _line_end(text)
    if trees.kind == "flow":
        told = [f"# {one}" for one in remarks]
        listed = [*(f"{entry}," for entry in entries[:-1]), entries[-1]]
        inside = "".join(f"{line_end}  {one}" for one in (*told, *listed))
        return text[: trees.end] + ("," if trees.any else "") + inside + text[trees.end :]
    at, before = _behind_line(text, trees.end)
    at, before = _behind_remarks(text, at, trees.column) if trees.kind == "block" and not before else (at, before)
    indent = " " * (trees.column if trees.kind == "block" else trees.column + 2)
    lines = [f"{indent}# {one}" for one in remarks] + [f"{indent}- {entry}" for entry in entries]
    if trees.kind == "absent":
        lines.insert(0, f"{' ' * trees.column}trees:")
    if before:  # the file ends without a line end, and so it will
        return text[:at] + line_end + line_end.join(lines) + text[at:]
    return text[:at] + "".join(f"{one}{line_end}" for one in lines) + text[at:]


def _found(text: str) -> _Trees:
    events: list[Any] = list(yaml.parse(text, Loader=_Loader))
    first = next((n for n, event in enumerate(events) if isinstance(event, yaml.NodeEvent)), None)
    if first is None or not isinstance(events[first], yaml.MappingStartEvent) or events[first].flow_style:
        raise NoPlaceError("the file is not a list of keys, one a line")
    at = first + 1
    column = events[first].start_mark.column
    while not isinstance(events[at], yaml.MappingEndEvent):
        value = at + 1
        behind = _skip(events, value)
        if events[at].value == "trees":
            return _list(text, events, value, behind, column)
        at = behind
    end = _last(events, first + 1, at)
    rest = re.sub(r"#.*", "", text[end:])
    if rest.strip():
        raise NoPlaceError("something stands behind its last key")
    return _Trees("absent", len(text), len(text), column)


def _list(text: str, events: Sequence[Any], at: int, behind: int, column: int) -> _Trees:
    event, start = events[at], int(events[at].start_mark.index)
    if isinstance(event, yaml.ScalarEvent) and not event.value and event.style in (None, ""):
        return _Trees("nothing", start, start, column)
    if not isinstance(event, yaml.SequenceStartEvent):
        raise NoPlaceError("'trees' is not a list")
    any_there = behind - at > 2
    end = _last(events, at + 1, behind - 1) if any_there else start + 1
    if event.flow_style:
        return _Trees("flow", start, end, column, any_there)
    if text[start : start + 1] != "-":
        raise NoPlaceError("its list of trees does not begin with a dash")
    return _Trees("block", start, end, events[at].start_mark.column)


def _skip(events: Sequence[Any], at: int) -> int:
    """The place behind the node that begins at `at`."""
    depth = 0
    while True:
        event = events[at]
        depth += isinstance(event, yaml.CollectionStartEvent)
        depth -= isinstance(event, yaml.CollectionEndEvent)
        at += 1
        if depth == 0:
            return at


def _last(events: Sequence[Any], start: int, end: int) -> int:
    """Where the text of the last value among some events ends; the ends of block lists lie behind comments."""
    flow: list[bool] = []
    last = 0
    ends = [int(event.end_mark.index) for event in events[start:end]]
    for number, event in enumerate(events[start:end]):
        if isinstance(event, yaml.CollectionStartEvent):
            flow.append(bool(event.flow_style))
        elif not isinstance(event, yaml.CollectionEndEvent) or flow.pop():
            last = max(last, ends[number])
    return last


def _behind_line(text: str, at: int) -> tuple[int, bool]:
    """The place behind the line in which `at` stands; True if the text ends there without a line end."""
    if at and text[at - 1] in "\r\n":
        return at, False
    end = re.compile(r"[^\r\n]*").match(text, at)
    stop = end.end() if end else at
    if not re.fullmatch(r"[ \t]*,?[ \t]*(#.*)?", text[at:stop]):
        raise NoPlaceError("something stands behind its last tree in the same line")
    if stop == len(text):
        return stop, True
    return stop + (2 if text.startswith("\r\n", stop) else 1), False


def _behind_remarks(text: str, at: int, column: int) -> tuple[int, bool]:
    """The place behind the comments that stand deeper than the list, and so belong to its last tree."""
    deeper = re.compile(rf"(?:[ \t]*(?:\r\n|\n|\r))*[ \t]{{{column + 1},}}#[^\r\n]*(\r\n|\n|\r|\Z)")
    while found := deeper.match(text, at):
        at = found.end()
        if not found[1]:
            return at, True
    return at, False


def _line_end(text: str) -> str:
    found = re.search(r"\r\n|\n|\r", text)
    return found.group() if found else "\n"
