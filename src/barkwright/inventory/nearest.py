"""The nearest right key or word for what somebody wrote."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Sequence
from functools import cache

from barkwright.datafile import load
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Synonyms:
    """data/inventory/synonyms.yaml: what is written -> what is meant, the likeliest first."""

    checked_on: str
    keys: dict[str, tuple[str, ...]]
    words: dict[str, tuple[str, ...]]


def nearest_key(key: str, known: Sequence[str]) -> str | None:
    """The key of `known` that `key` most likely stands for, or None."""
    bare = re.sub(r"[\s-]+", "_", key.strip().casefold())
    without_unit = re.sub(r"_(?:in|ft|cm|m|mm|inches|feet|percent|per_day)$", "", bare)
    return _nearest(bare, (bare, without_unit), known, _synonyms().keys)


def nearest_word(word: str, known: Sequence[str]) -> str | None:
    """The word of `known` that `word` most likely stands for, or None."""
    low = word.strip().casefold()
    spaced = re.sub(r"[\s_-]+", " ", low)
    short = spaced.removesuffix(" spruce")
    return _nearest(low, (low, spaced, spaced.replace(" ", "-"), short), known, _synonyms().words)


def _nearest(text: str, forms: Iterable[str], known: Sequence[str], table: dict[str, tuple[str, ...]]) -> str | None:
    for form in forms:
        if form in known:
            return form
    for form in forms:
        meant = next((right for right in table.get(form, ()) if right in known), None)
        if meant:
            return meant
    near = difflib.get_close_matches(text, known, 1, 0.65)
    return near[0] if near else None


@cache
def _synonyms() -> Synonyms:
    return load("inventory/synonyms.yaml", Synonyms)
