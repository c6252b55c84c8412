"""What is wrong with an inventory, gathered with its place in the file and in the words of the file."""

from __future__ import annotations

from dataclasses import field

from barkwright.diagnostics import Code, Diagnostic, Severity
from barkwright.inventory.measure import plain
from barkwright.record import dataclass
from barkwright.units import convert
from barkwright.yamldoc import Document, Loc

MOST_ERRORS = 1_000  # told of one file, far more than anybody reads; ours


@dataclass(slots=True)
class Report:
    """Gathers diagnostics while a document is read; `system` is imperial or metric, as the file says.

    After so many errors it is `full`: the rest of the file is not looked at, and that is said.
    """

    document: Document
    system: str
    found: list[Diagnostic] = field(default_factory=list)
    faulty: set[Loc] = field(default_factory=set)  # values already reported, so that nobody reports them twice
    full: bool = False
    _errors: int = 0

    def error(self, code: Code, at: Loc, message: str, hint: str | None = None, key: bool = False) -> None:
        """An error at a value (at its key where `key`); the part's name goes before the message."""
        self._add("error", code, at, message, hint, key)

    def warning(self, code: Code, at: Loc, message: str, hint: str | None = None) -> None:
        """Something odd at a value: the inventory is still used."""
        self._add("warning", code, at, message, hint, False)

    def has_key(self, at: Loc) -> bool:
        """Is there a value at `at` in the file?"""
        parent = self.document.node(at[:-1])
        return isinstance(parent.value, dict) and at[-1] in parent.value

    def amount(self, inside: float, unit: str) -> str:
        """An amount in inside unit `unit`, as this file's readers say it: 16.5 in or 41.9 cm."""
        if self.system == "metric" and unit in _METRIC:
            return f"{plain(round(convert(inside, unit, _METRIC[unit]), 2))} {_METRIC[unit]}"
        return f"{plain(round(inside, 2))} {unit}"

    def sorted(self) -> tuple[Diagnostic, ...]:
        """All there is to say, in file order."""
        return tuple(sorted(self.found, key=lambda one: (one.where.line, one.where.column) if one.where else (0, 0)))

    def owner(self, at: Loc) -> str:
        """The part a value belongs to, as a reader calls it: tree 'T1', crew 'two of us', site."""
        if not at or (len(at) == 1 and self.document.node(at).kind == "scalar"):
            return "the inventory"
        if len(at) == 1 or not isinstance(at[1], int) or at[0] not in _ONE:
            return str(at[0])
        word = _ONE.get(str(at[0]), str(at[0]))
        node = self.document.node(at[:2])
        name = node.value.get(_NAME.get(str(at[0]), "")) if isinstance(node.value, dict) else None
        return f"{word} '{name.text}'" if name is not None and name.text else f"{word} {at[1] + 1}"

    def _add(self, severity: Severity, code: Code, at: Loc, message: str, hint: str | None, key: bool) -> None:
        self._errors += severity == "error"
        if self.full or self._errors > MOST_ERRORS:
            self._close(at)
            return
        where = self.document.key_place(at) if key else self.document.place(at)
        node = self.document.node(at)
        value = node.text if node.kind == "scalar" and node.text else None
        full = f"{self.owner(at)}: {message}"
        self.faulty.add(at)
        self.found.append(Diagnostic(severity, code, full, where, None, value, hint))

    def _close(self, at: Loc) -> None:
        if not self.full:
            self.full = True
            message = f"more than {MOST_ERRORS:,} errors: the rest of the file is not looked at"
            where, hint = self.document.place(at), "correct the first ones, and try again"
            self.found.append(Diagnostic("error", "too-large", message, where, hint=hint))


_METRIC = {"in": "cm", "ft": "m", "mi": "km", "yd3": "m3", "ft2/ac": "m2/ha"}
_ONE = {"trees": "tree", "calls": "call", "equipment": "equipment", "crew": "crew"}
_NAME = {"trees": "id", "crew": "name", "equipment": "kind", "calls": "what"}
