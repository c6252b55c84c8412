"""Pictures drawn with characters, and their counterparts where a terminal can show ASCII alone."""

from __future__ import annotations

_ASCII = str.maketrans("█▓▒░─│┌┐└┘├┤┬┴┼╎┄▲▼◆●○", "#%:.-|++++++++|-^v*o.".ljust(22, "+"))


def in_ascii(text: str) -> str:
    """The text with each drawing character in its ASCII counterpart; letters of names stay as they are."""
    return text.translate(_ASCII)
