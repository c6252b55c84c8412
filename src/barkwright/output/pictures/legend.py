"""What each pattern of a picture means."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.output.pictures.drawing import WIDTH_PX, Fill, Label, Part, box
from barkwright.output.pictures.letters import COLUMNS, broken, columns, width_px

LINE_PX = 18.0
_SWATCH_PX = 20.0


def legend(entries: Sequence[tuple[Fill, str]], top: float) -> tuple[list[Part], float]:
    """Swatches with their words, on as many lines as they need; the parts, and where they end."""
    parts: list[Part] = []
    x, y = 1.0, top
    for fill, text in entries:
        taken = _SWATCH_PX + 5 + width_px(text)
        if x > 1.0 and x + taken > WIDTH_PX:
            x, y = 1.0, y + LINE_PX
        parts.append(box(x, y + 3, x + _SWATCH_PX, y + 14, fill))
        parts.append(Label(x + _SWATCH_PX + 5, y + 13, text))
        x += taken + 12
    return parts, y + LINE_PX if entries else top


def legend_lines(entries: Sequence[tuple[str, str]]) -> list[str]:
    """Characters with their words, on as many lines as they need."""
    lines: list[str] = []
    for sign, text in entries:
        said = f"{sign} {text}"
        if lines and columns(lines[-1]) + 3 + columns(said) <= COLUMNS:
            lines[-1] += f"   {said}"
        else:
            lines.append(said)
    return lines


def words(text: str, top: float) -> tuple[list[Part], float]:
    """Running words under a picture; the parts, and where they end."""
    lines = broken(text, int(WIDTH_PX / width_px("x")))
    return [Label(0.0, top + 13 + LINE_PX * line, words) for line, words in enumerate(lines)], top + LINE_PX * len(
        lines
    )
