"""A YAML document whose every value knows its place.

The subset of YAML that people write by hand: mappings, lists and scalars. What YAML 1.1 reads into harmless text
(yes, on, 12:30, 010, 1_000, dates) stays text here; anchors, aliases, tags, merge keys and further documents are
refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import field
from typing import Any, Literal

import yaml

from barkwright.diagnostics import Code, Diagnostic, Place
from barkwright.record import dataclass
from barkwright.yamlfaults import BREAK, syntax_fault

MAX_CHARACTERS = 4_000_000
MAX_NODES = 400_000
MAX_DEPTH = 24
INT_DIGITS = 300  # a whole number that is longer is read as a float: each one that is shorter fits into one

Loc = tuple[int | str, ...]
Scalar = str | int | float | bool | None

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INT = re.compile(r"[-+]?(?:0|[1-9][0-9]*)")
_FLOAT = re.compile(r"[-+]?(?:0|[1-9][0-9]*)?(?:\.[0-9]+|(?<=[0-9])\.)?(?:[eE][-+]?[0-9]+)?")
_WORDS: dict[str, Scalar] = {"true": True, "false": False, "null": None, "~": None, "": None}
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")


@dataclass(slots=True)
class Node:
    """A value with its place. `value` is a scalar, a dict of nodes or a list of nodes; `text` a scalar as written."""

    line: int
    column: int
    value: Any
    text: str = ""
    quoted: bool = False
    keys: dict[str, tuple[int, int]] = field(default_factory=dict)  # of a mapping: where each key stands

    @property
    def kind(self) -> Literal["mapping", "list", "scalar"]:
        """What sort of value this is."""
        return "mapping" if isinstance(self.value, dict) else "list" if isinstance(self.value, list) else "scalar"

    @property
    def data(self) -> Any:
        """The plain value: dicts, lists, text, numbers, booleans, None."""
        if isinstance(self.value, dict):
            return {key: node.data for key, node in self.value.items()}
        if isinstance(self.value, list):
            return [node.data for node in self.value]
        return self.value


@dataclass(frozen=True, slots=True)
class Document:
    """A YAML file, read."""

    file: str
    text: str
    root: Node

    @property
    def data(self) -> Any:
        """The plain value of the whole document."""
        return self.root.data

    def node(self, loc: Loc) -> Node:
        """The node at `loc`, or the deepest one on the way to it; parts that are no step in the file are skipped."""
        node = self.root
        for part in loc:
            inside = node.value
            if isinstance(inside, dict):
                node = inside.get(part, node)
            elif isinstance(inside, list) and isinstance(part, int) and 0 <= part < len(inside):
                node = inside[part]
        return node

    def place(self, loc: Loc) -> Place:
        """Where the value at `loc` stands."""
        node = self.node(loc)
        return Place(self.file, node.line, node.column)

    def key_place(self, loc: Loc) -> Place:
        """Where the key at `loc` stands; where that is no key of a mapping, the place of its value."""
        parent = self.node(loc[:-1])
        if loc and loc[-1] in parent.keys:
            return Place(self.file, *parent.keys[str(loc[-1])])
        return self.place(loc)

    def written(self, loc: Loc) -> str:
        """The scalar at `loc` as written."""
        return self.node(loc).text


def read_document(text: str, file: str) -> tuple[Document | None, tuple[Diagnostic, ...]]:
    """The document in `text`, or None and what is wrong with it. `file` is the name that places carry."""
    text = text.removeprefix("\ufeff")
    refused = _refuse_text(text, file)
    if refused:
        return None, (refused,)
    reader = _Reader(text, file)
    try:
        root = reader.read()
    except _Refused as stop:
        reader.found.append(stop.diagnostic)
        root = None
    except yaml.YAMLError as error:
        reader.found.append(syntax_fault(error, text, file))
        root = None
    found = tuple(sorted(reader.found, key=lambda d: (d.where.line, d.where.column) if d.where else (0, 0)))
    return (None if found or root is None else Document(file, text, root)), found


_WIDE = {  # by their first bytes, the longer ones first
    b"\xff\xfe\x00\x00": "UTF-32", b"\x00\x00\xfe\xff": "UTF-32", b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16",
}  # fmt: skip


def decode(content: bytes, file: str) -> tuple[str | None, tuple[Diagnostic, ...]]:
    """The text of a file's bytes, which must be UTF-8; otherwise None and the place of the first byte that is not."""
    wide = next((name for start, name in _WIDE.items() if content.startswith(start)), None)
    if wide is not None:
        hint = "save the file as UTF-8"
        return None, (Diagnostic("error", "not-utf8", f"the file is {wide}, not UTF-8", Place(file, 1, 1), hint=hint),)
    try:
        return content.decode("utf-8"), ()
    except UnicodeDecodeError as error:
        before = content[: error.start].decode("utf-8")
        lines = BREAK.split(before)
        message = f"byte {error.start + 1} (0x{content[error.start]:02x}) is not UTF-8"
        where = Place(file, len(lines), len(lines[-1]) + 1)
        return None, (Diagnostic("error", "not-utf8", message, where, hint="save the file as UTF-8"),)


def load_plain(text: str) -> Any:
    """The plain value of one of our own YAML files: what `read_document` reads, sooner, without places and checks."""
    root = _Composer(text).get_single_node()
    return None if root is None else _value(root)


class _Composer(_Loader):  # type: ignore[misc, valid-type]  # of libyaml where there is one
    """Composes nodes whose scalars stay as written; `_resolve` reads them."""

    def resolve(self, kind: Any, value: Any, implicit: Any) -> None:
        """No tag."""


def _value(node: Any) -> Any:
    if isinstance(node, yaml.MappingNode):
        return {key.value: _value(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [_value(part) for part in node.value]
    return node.value if node.style else _resolve(node.value)


class _Refused(Exception):  # noqa: N818 - not an error of the program
    def __init__(self, diagnostic: Diagnostic) -> None:
        self.diagnostic = diagnostic


class _Reader:
    """Builds nodes from parse events; stops at what is refused, goes on after duplicate keys."""

    def __init__(self, text: str, file: str) -> None:
        self.file = file
        self.found: list[Diagnostic] = []
        self.nodes = 0
        self.events: Iterator[Any] = yaml.parse(text, Loader=_Loader)

    def read(self) -> Node | None:
        root: Node | None = None
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                if root is not None:
                    message = "a second document starts here"
                    raise self._refuse("not-plain", message, event, "one file holds one site: remove the line ---")
            elif isinstance(event, yaml.NodeEvent):
                root = self._node(event, 0)
        if root is None or (root.kind == "scalar" and root.value is None):
            raise _Refused(Diagnostic("error", "empty", "the file is empty", Place(self.file, 1, 1)))
        return root

    def _node(self, event: Any, depth: int) -> Node:
        self.nodes += 1
        if self.nodes > MAX_NODES:
            raise self._refuse(
                "too-large", f"more than {MAX_NODES:,} values", event, "split the site into several files"
            )
        if depth > MAX_DEPTH:
            raise self._refuse(
                "too-deep", f"nested more than {MAX_DEPTH} deep", event, "look for brackets that never close"
            )
        if isinstance(event, yaml.AliasEvent):
            raise self._refuse("not-plain", f"alias *{event.anchor} is not allowed", event, "write the value out")
        if event.anchor is not None:
            raise self._refuse("not-plain", f"anchor &{event.anchor} is not allowed", event, "write the value out")
        if event.tag is not None and event.tag != "!":
            raise self._refuse("not-plain", f"tag {event.tag} is not allowed", event, "remove the tag")
        line, column = event.start_mark.line + 1, event.start_mark.column + 1
        if isinstance(event, yaml.ScalarEvent):
            plain = event.style is None or event.style == ""
            return Node(line, column, _resolve(event.value) if plain else event.value, event.value, not plain)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._list(Node(line, column, []), depth)
        return self._mapping(Node(line, column, {}), depth)

    def _list(self, node: Node, depth: int) -> Node:
        for event in self.events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            node.value.append(self._node(event, depth + 1))
        return node

    def _mapping(self, node: Node, depth: int) -> Node:
        for event in self.events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            key = self._node(event, depth + 1)
            if key.kind != "scalar":
                raise self._refuse("not-plain", f"a {key.kind} cannot be a key", event, "put the key in plain words")
            if key.text == "<<" and not key.quoted:
                raise self._refuse("not-plain", "merge key << is not allowed", event, "write the values out")
            value = self._node(next(self.events), depth + 1)
            if key.text in node.keys:
                first = node.keys[key.text][0]
                lines = f"in line {first} and in line {key.line}" if first != key.line else f"both in line {first}"
                message = f"key '{key.text}' is written twice, {lines}"
                where = Place(self.file, key.line, key.column)
                self.found.append(Diagnostic("error", "duplicate-key", message, where, hint="keep one of them"))
                continue
            node.value[key.text] = value
            node.keys[key.text] = (key.line, key.column)
        return node

    def _refuse(self, code: Code, message: str, event: Any, hint: str) -> _Refused:
        where = Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1)
        return _Refused(Diagnostic("error", code, message, where, hint=hint))


def _resolve(text: str) -> Scalar:
    if text in _WORDS:
        return _WORDS[text]
    if text[0] in "0123456789+-.":
        if _INT.fullmatch(text) and len(text) < INT_DIGITS:
            return int(text)
        if _FLOAT.fullmatch(text) and any(c.isdigit() for c in text.lower().partition("e")[0]):
            return float(text)
    return text


def _refuse_text(text: str, file: str) -> Diagnostic | None:
    if len(text) > MAX_CHARACTERS:
        message = f"the file has {len(text):,} characters, more than {MAX_CHARACTERS:,}"
        return Diagnostic("error", "too-large", message, Place(file, 1, 1), hint="split the site into several files")
    bad = _UNPRINTABLE.search(text)
    if bad:
        lines = BREAK.split(text[: bad.start()])
        where = Place(file, len(lines), len(lines[-1]) + 1)
        message = f"character U+{ord(bad.group()):04X} is not text"
        return Diagnostic("error", "control-character", message, where, hint="delete it; it may not show in an editor")
    return None
