"""How much room words take in a picture."""

from __future__ import annotations

import textwrap
import unicodedata

from barkwright.output.names import printable

FONT_PX = 13.0
LETTER_PX = 0.6 * FONT_PX  # no letter of a plain typeface is wider on average; ours
COLUMNS = 76  # widest picture in characters, so that it may stand indented on a page of 80


def columns(text: str) -> int:
    """Columns that a text takes in a terminal: wide letters take two, marks over a letter none."""
    if text.isascii():
        return len(text)
    return sum(
        0 if unicodedata.combining(char) else 2 if unicodedata.east_asian_width(char) in "WF" else 1 for char in text
    )


def width_px(text: str) -> float:
    """Width of a label [px], rather too much than too little."""
    return columns(text) * LETTER_PX


def clean(text: str) -> str:
    """Words from a file on one line, safe to show."""
    return printable(text.replace("\n", " "))


def fitted(text: str, room: int) -> str:
    """The text in at most so many columns; what is cut off is marked by dots."""
    if columns(text) <= room:
        return text
    kept = text
    while kept and columns(kept) > room - 3:
        kept = kept[:-1]
    return f"{kept.rstrip()}..."


def broken(text: str, room: int) -> list[str]:
    """The text on lines of at most so many columns."""
    if text.isascii():
        return textwrap.wrap(text, room, break_on_hyphens=False) or [""]
    lines = [""]
    for word in text.split():
        if lines[-1] and columns(lines[-1]) + 1 + columns(word) <= room:
            lines[-1] += f" {word}"
            continue
        lines += [""] * bool(lines[-1])
        for char in word:
            if columns(lines[-1] + char) > room:
                lines.append("")
            lines[-1] += char
    return lines
