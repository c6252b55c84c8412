"""Where numbers and rules come from: source records, citations, grades and reasons."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Grade = Literal["A", "B", "C"]
Knowledge = Literal["read", "secondary", "memory"]


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
    basis: Literal["published", "common practice, no source", "ours", "from memory", "placeholder"] = "published"
    local: bool = False
