"""What all bombs are made with: text by the megabyte."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

LETTERS = 3_990_000  # just below what a YAML file may have
FULL = 63_900_000  # just below what is read of any file
HEAD = "barkwright: 1\nsite: {name: x, units: imperial, latitude: 53, longitude: -122}\n"
TREE = "trees: [{id: T1, species: white, dbh: 12}]\n"


@dataclass(frozen=True)
class Bomb:
    """What is made, for which reader, and of which size: the content at a share of the full size."""

    name: str
    reader: str
    content: Callable[[float], bytes]
    sparse: int = 0  # bytes of nothing behind the content


def times(text: str, share: float, letters: int = LETTERS) -> str:
    """A text so often that it has so many letters at full size."""
    return text * int(letters * share / len(text))


def numbered(form: str, share: float, most: int) -> str:
    """A text so many times at full size, each with its number in place of {0}."""
    return "".join(form.format(n) for n in range(int(most * share)))
