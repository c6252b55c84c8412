"""The trees and pieces that are meant by what somebody types: runs, lists, a tree that stands for several."""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterable, Sequence

MOST = 20_000  # names that one word may stand for; ours
NUMBERED = re.compile(r"(.*?)(\d+)", re.DOTALL)


def meant(words: Sequence[str], trees: Collection[str], pieces: Collection[str]) -> list[str]:
    """The ids of trees and pieces, once each, in the order named. A word that is not understood stays as it is.

    T1-T4 and T1 to T4 are runs of trees, T3/6-9 of logs; T3/1,2,stump is a list; A stands for A.1, A.2 ... if only
    those are there. Of a run whose first name is there all are named, so that a gap in it is found out.
    """
    found: list[str] = []
    for word in _joined(words):
        if word in trees or word in pieces:
            found.append(word)
            continue
        tree = ""
        for item in filter(None, word.split(",")):
            tree, named = _item(item.strip(), tree, trees, pieces)
            found += named
    return list(dict.fromkeys(found))


def near(name: str, known: Iterable[str]) -> list[str]:
    """The names of `known` that `name` most likely stands for, at most three; none where none is near."""
    listed = [one for one in known if ("/" in one) == ("/" in name)]
    same = [one for one in listed if one.casefold() == name.casefold()]
    return same[:3] or difflib.get_close_matches(name, listed, n=3, cutoff=0.75)


def _joined(words: Sequence[str]) -> list[str]:
    """The words, with 'T1 to T4' made one."""
    out: list[str] = []
    place = 0
    while place < len(words):
        if words[place] == "to" and out and place + 1 < len(words):
            out[-1] += "-" + words[place + 1]
            place += 2
        else:
            out.append(words[place])
            place += 1
    return out


def _item(item: str, before: str, trees: Collection[str], pieces: Collection[str]) -> tuple[str, list[str]]:
    """One item of a list: the tree word that later items without one belong to, and what is named."""
    if item in trees or item in pieces:
        return item.rpartition("/")[0], [item]
    run = _run(item, trees) or _run(item, pieces)
    if run:
        return run[0].rpartition("/")[0], run
    tree, slash, part = item.rpartition("/")
    if not slash:
        of = _trees(item, trees)
        if of or not before:
            return "", of or [item]
        tree, part = before, item
    of = _trees(tree, trees)
    parts = _numbers(part)
    many = not of or len(of) * len(parts) > MOST
    return tree, [item] if many else [f"{one}/{each}" for one in of for each in parts]


def _trees(word: str, trees: Collection[str]) -> list[str]:
    """The trees of a word: itself, those of a run, or the members of a tree that stands for several."""
    if word in trees:
        return [word]
    members = [one for one in trees if one.startswith(f"{word}.") and one[len(word) + 1 :].isdigit()] if word else []
    return members or _run(word, trees)


def _run(word: str, known: Collection[str]) -> list[str]:
    """All names from the first to the last of a run; nothing where it is none, or its first name is not known."""
    dashed = word.replace("–", "-")
    for dash in re.finditer("-", dashed):
        first, last = dashed[: dash.start()], dashed[dash.end() :]
        begin = NUMBERED.fullmatch(first)
        if first not in known or begin is None:
            continue
        end = re.fullmatch(rf"(?:{re.escape(begin[1])})?(\d+)", last)
        if end is not None:
            numbers = _numbers(f"{begin[2]}-{end[1]}")
            return [begin[1] + number for number in numbers] if "-" not in numbers[0] else []
    return []


def _numbers(part: str) -> list[str]:
    """6-9 as 6, 7, 8, 9, with the zeros before it; anything else as it is."""
    run = re.fullmatch(r"(\d{1,9})[-–](\d{1,9})", part)
    if run is None or not 0 <= int(run[2]) - int(run[1]) < MOST:
        return [part]
    width = len(run[1]) if run[1].startswith("0") else 0
    return [f"{number:0{width}d}" for number in range(int(run[1]), int(run[2]) + 1)]
