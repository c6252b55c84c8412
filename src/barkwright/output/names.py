"""How trees, pieces and tools are named, and how text from a file is made safe to print."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import groupby

from barkwright.output.words import listing

_LONG_QUOTE = re.compile(r"(?<!\w)'([^']{61,})'(?!\w)")
_LONG_WORD = re.compile(r"\S{201,}")


def runs(numbers: Iterable[int]) -> str:
    """1-4, 6."""
    ordered = sorted(set(numbers))
    out: list[str] = []
    for _, group in groupby(enumerate(ordered), key=lambda pair: pair[1] - pair[0]):
        members = [value for _, value in group]
        out.append(str(members[0]) if len(members) == 1 else f"{members[0]}-{members[-1]}")
    return ", ".join(out)


def part_names(parts: Iterable[str]) -> str:
    """The parts of one tree, without its id: logs 1-4, stump and top."""
    named = list(dict.fromkeys(parts))
    logs = [int(part) for part in named if part.isdigit()]
    others: list[str] = [part for part in ("stump", "top", "limbs") if part in named]
    others += [part for part in named if not part.isdigit() and part not in others]
    text = [f"log{'s' if len(logs) > 1 else ''} {runs(logs)}"] if logs else []
    return listing(text + others)


def piece_names(ids: Iterable[str]) -> str:
    """Pieces as a crew says them: T3 logs 1-4 and stump; T4 log 1. Like parts of several trees are said once."""
    by_tree: dict[str, list[str]] = {}
    for piece in ids:
        tree, _, part = piece.rpartition("/")
        by_tree.setdefault(tree or piece, []).append(part)
    same: dict[str, list[str]] = {}
    for tree, parts in by_tree.items():
        same.setdefault(part_names(parts), []).append(tree)
    return "; ".join(f"{tree_names(trees)} {parts}".strip() for parts, trees in same.items())


def tree_names(ids: Iterable[str]) -> str:
    """T1, T4-T9: runs of ids that differ only in a closing number are shortened from three on."""
    out: list[str] = []
    plain = list(dict.fromkeys(ids))
    position = 0
    while position < len(plain):
        end = position
        while end + 1 < len(plain) and _follows(plain[end], plain[end + 1]):
            end += 1
        if end - position >= 2:
            to = " to " if "-" in plain[position] else "-"
            out.append(f"{plain[position]}{to}{plain[end]}")
        else:
            out.extend(plain[position : end + 1])
        position = end + 1
    return ", ".join(out)


def shortened(message: str) -> str:
    """A message whose quoted words from the user are cut to 60 letters each, the middle left out."""
    cut = _LONG_QUOTE.sub(lambda found: f"'{found[1][:40]} ... {found[1][-15:]}'", message)
    return _LONG_WORD.sub(lambda found: f"{found[0][:40]} ... {found[0][-15:]}", cut)


def _follows(one: str, two: str) -> bool:
    first, second = re.fullmatch(r"(.*?)(\d+)", one), re.fullmatch(r"(.*?)(\d+)", two)
    if not first or not second or first[1] != second[1]:
        return False
    return int(second[2]) == int(first[2]) + 1 and (len(second[2]) == len(first[2]) or not first[2].startswith("0"))


PLACE_NAMES = ("engelmann", "sitka", "lutz", "norway")


def spruce(species: str) -> str:
    """A species as it is written: white spruce, Engelmann spruce."""
    return f"{species.capitalize() if species in PLACE_NAMES else species} spruce"


def tools(kinds: Iterable[str]) -> list[str]:
    """Equipment as a crew says it: chain saw, drawknife."""
    return [kind.replace("-", " ") for kind in kinds]


def shown_name(file: str) -> str:
    """The name of a file on one line, as it may be printed."""
    return printable(file.replace("\n", "\\n"))


def printable(text: str) -> str:
    """The text with every control character shown as an escape, so that a file cannot steer a terminal."""
    if text.replace("\n", "").isprintable():
        return text
    return "".join(
        char if char.isprintable() or char == "\n" else char.encode("unicode_escape").decode("ascii") for char in text
    )
