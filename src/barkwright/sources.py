"""Where numbers and rules come from: source records, citations, grades and reasons."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from barkwright.building import builder
from barkwright.record import dataclass
from barkwright.yamldoc import load_plain

Basis = Literal["published", "common practice, no source", "ours", "from memory", "placeholder"]
Grade = Literal["A", "B", "C"]
Knowledge = Literal["read", "secondary", "memory"]

DATA = Path(__file__).parent / "data"
_KEY = re.compile(r"^([a-z0-9][a-z0-9-]*):", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Citation:
    """A source key and the place in it: "table 4-2"."""

    key: str
    locator: str

    def __str__(self) -> str:
        return f"{self.key}, {self.locator}" if self.locator else self.key


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something was decided: rule, one sentence for a client, how good the evidence is, where it is from."""

    rule: str  # rule id, kebab, stable
    because: str  # one sentence for a client
    grade: Grade
    citations: tuple[
        Citation, ...
    ]  # empty: "common practice, no source" or "ours"; `because` or the rule's basis says which
    basis: Basis = "published"
    local: bool = False
    own_source: str | None = None  # of a local rule, in the user's words


@dataclass(frozen=True, slots=True)
class Source:
    """One publication. `seen` says how well we know it: read ourselves, reported by another, or remembered."""

    author: str
    year: int
    title: str
    seen: Knowledge
    publication: str | None = None
    number: str | None = None
    pages: str | None = None
    doi: str | None = None
    url: str | None = None
    accessed: date | None = None  # the day the url was opened
    language: str = "en"
    note: str | None = None

    def __str__(self) -> str:
        end = f"doi:{self.doi}" if self.doi else (f"{self.url} (seen {self.accessed})" if self.url else "")
        where = " ".join(part for part in (self.publication, self.number) if part)
        parts = (f"{self.author} {self.year}", self.title, where, f"p. {self.pages}" if self.pages else "", end)
        return ". ".join(part.rstrip(".") for part in parts if part) + "."


class UnknownSourceError(KeyError):
    """A citation names a source that data/sources.yaml does not hold."""


@cache
def load_sources() -> Mapping[str, Source]:
    """Every source record by its key, in the order of the file."""
    records = load_plain((DATA / "sources.yaml").read_text(encoding="utf-8"))
    return MappingProxyType(builder(dict[str, Source])(records or {}))


@cache
def cite(citation: str) -> Citation:
    """The citation written as "key, locator". Raises UnknownSourceError when no source record has that key."""
    key, _, locator = citation.partition(",")
    if key.strip() not in _keys():
        raise UnknownSourceError(f"{key.strip()!r} is not in data/sources.yaml (cited as {citation!r})")
    return Citation(key.strip(), locator.strip())


@cache
def uses() -> Mapping[str, tuple[str, ...]]:
    """Where each source is used: data files and modules that name its key, as paths below the program's folder."""
    keys = sorted(_keys(), key=len, reverse=True)
    named = re.compile(rf"(?<![\w-])({'|'.join(map(re.escape, keys))})(?=[,;:\"'\]}} ]|\s*$)", re.MULTILINE)
    found: dict[str, list[str]] = {key: [] for key in sorted(keys)}
    for path in sorted(path for path in DATA.parent.rglob("*.*") if path.suffix in (".yaml", ".csv", ".py")):
        if path != DATA / "sources.yaml":
            for key in sorted(set(named.findall(path.read_text(encoding="utf-8")))):
                found[key].append(path.relative_to(DATA.parent).as_posix())
    return MappingProxyType({key: tuple(paths) for key, paths in found.items()})


@cache
def _keys() -> frozenset[str]:
    # Keys stand in the first column; finding them by pattern spares every run the parsing of the whole file.
    return frozenset(_KEY.findall((DATA / "sources.yaml").read_text(encoding="utf-8")))
