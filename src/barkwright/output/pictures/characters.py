"""Pictures drawn with characters, and their counterparts where a terminal can show ASCII alone."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.output.pictures.letters import columns

_DRAWN = "█▓▒░╱▁▄·─━┄│┃╎┆┌┐└┘├┤┬┴┼▲▼◆●○"
_PLAIN = "#%:./_=.---|||!+++++++++^v*o."
_ASCII = dict(zip(map(ord, _DRAWN), _PLAIN, strict=True))


def in_ascii(text: str) -> str:
    """The text with each drawing character in its ASCII counterpart; letters of names stay as they are."""
    return text.translate(_ASCII)


def ascii_lines(lines: Sequence[str]) -> tuple[str, ...]:
    """A picture as ASCII of the same width, '?' for letters of names that have no counterpart."""
    return tuple("".join(char if char.isascii() else "?" * columns(char) for char in in_ascii(line)) for line in lines)
