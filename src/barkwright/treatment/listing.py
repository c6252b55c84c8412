"""Words in a row, as a sentence lists them."""

from __future__ import annotations

from collections.abc import Sequence


def listing(parts: Sequence[str], last: str = "and") -> str:
    """a; a and b; a, b and c."""
    if len(parts) <= 1:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"
