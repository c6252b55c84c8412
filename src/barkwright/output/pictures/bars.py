"""Options side by side as bars: what is sure to be needed, what may be, and what is most likely."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from barkwright.output.blocks import Picture
from barkwright.output.pictures.drawing import WIDTH_PX, Drawing, Label, Part, Shape, Stroke, box
from barkwright.output.pictures.legend import legend, legend_lines, words
from barkwright.output.pictures.letters import COLUMNS, LETTER_PX, broken, clean, columns, fitted
from barkwright.record import dataclass

_BAR = 13.0
_ROW = 17.0
_EDGE = 6.0
_CHOSEN = "in the plan"
_LEGEND = (("██", "at least"), ("▒▒", "up to"), ("◆", "most likely"))


@dataclass(frozen=True, slots=True)
class Bar:
    """One option: its amount from low to high, or None where it is not known, and a note."""

    label: str
    low: float | None
    likely: float | None
    high: float | None
    note: str = ""
    chosen: bool = False

    @property
    def range(self) -> tuple[float, float, float] | None:
        """Least, likely and most; None where the amount is not known."""
        if self.likely is None:
            return None
        low = self.likely if self.low is None else self.low
        high = self.likely if self.high is None else self.high
        return min(low, self.likely), self.likely, max(high, self.likely)


def bars_picture(title: str, rows: Sequence[Bar], unit_words: str, say: Callable[[float], str]) -> Picture | None:
    """Options as bars, in the order given; None without options.

    `unit_words` says what the bars measure ("money to pay, in CAD"); `say` writes an amount with its unit.
    """
    if not rows:
        return None
    rows = [Bar(clean(row.label), row.low, row.likely, row.high, clean(row.note), row.chosen) for row in rows]
    said = "; ".join(": ".join(part for part in _said(row, say) if part) for row in rows)
    return Picture(
        title,
        f"{unit_words[:1].upper()}{unit_words[1:]}. {said}.",
        _drawing(rows, clean(unit_words), say),
        _lines(rows, clean(unit_words), say),
    )


def _said(row: Bar, say: Callable[[float], str]) -> tuple[str, str]:
    amount = _amount(row, say)
    notes = [part for part in (amount, row.note, _CHOSEN if row.chosen else "") if part]
    return row.label, ", ".join(notes)


def _amount(row: Bar, say: Callable[[float], str]) -> str:
    """CAD 300, or CAD 300 (CAD 200 to CAD 450)."""
    if row.range is None:
        return ""
    low, likely, high = (say(value) for value in row.range)
    return likely if low == high else f"{likely} ({low} to {high})"


def _scale(rows: Sequence[Bar], room: float) -> tuple[float, float]:
    """The least value that is drawn, never over 0, and the room for one unit."""
    values = [value for row in rows if row.range is not None for value in row.range]
    least, most = min([0.0, *values]), max([0.0, *values])
    return least, room / ((most - least) or 1.0)


def _drawing(rows: Sequence[Bar], unit_words: str, say: Callable[[float], str]) -> Drawing:
    least, scale = _scale(rows, WIDTH_PX - 2 * _EDGE)
    parts, y = words(f"{unit_words[:1].upper()}{unit_words[1:]}", 0.0)
    y += 4
    for row in rows:
        drawn, y = _row(row, y, least, scale, say)
        parts += drawn
    drawn, bottom = legend([("solid", "at least"), ("dots", "up to")], y)
    x = 220.0
    parts += [*drawn, _diamond(x, y + 8.5), Label(x + 10, y + 13, "most likely")]
    return Drawing(WIDTH_PX, bottom + 2, tuple(parts))


def _row(row: Bar, top: float, least: float, scale: float, say: Callable[[float], str]) -> tuple[list[Part], float]:
    parts: list[Part] = []
    lines = broken(f"{row.label} ({_CHOSEN})" if row.chosen else row.label, int((WIDTH_PX - 14) / LETTER_PX))
    left = 14.0 * row.chosen
    if row.chosen:
        parts.append(Shape(((1, top + 4), (9, top + 8.5), (1, top + 13)), "solid"))
    for line in lines:
        parts.append(Label(left, top + 13, line, strong=row.chosen))
        top += _ROW
    if row.range is not None:
        parts += _bar(row.range, top + 1, least, scale)
        top += _BAR + 4
    told = ", ".join(part for part in (_amount(row, say), row.note) if part)
    for line in broken(told, int((WIDTH_PX - 14) / LETTER_PX)) if told else []:
        parts.append(Label(14.0, top + 13, line))
        top += _ROW
    return parts, top + 8


def _bar(span: tuple[float, float, float], top: float, least: float, scale: float) -> list[Part]:
    zero, low, likely, high = (_EDGE + (value - least) * scale for value in (0.0, *span))
    bottom, middle = top + _BAR, top + _BAR / 2
    parts: list[Part] = [Stroke(((zero, top - 2), (zero, bottom + 2)))]
    sure = low if span[0] > 0 else high if span[2] < 0 else zero
    if sure != zero:
        parts.append(box(min(zero, sure), top, max(zero, sure), bottom, "solid"))
    if high > low:
        parts.append(box(low, top, high, bottom, "dots"))
        parts += [Stroke(((x, top - 2), (x, bottom + 2)), heavy=True) for x in (low, high)]
    return [*parts, _diamond(likely, middle)]


def _diamond(x: float, y: float) -> Shape:
    return Shape(((x - 5, y), (x, y - 6), (x + 5, y), (x, y + 6)), "paper", heavy=True)


def _lines(rows: Sequence[Bar], unit_words: str, say: Callable[[float], str]) -> tuple[str, ...]:
    least, scale = _scale(rows, COLUMNS - 4)
    lines = broken(f"{unit_words[:1].upper()}{unit_words[1:]}", COLUMNS)
    for row in rows:
        mark = "> " if row.chosen else "  "
        told = ", ".join(part for part in (_amount(row, say), row.note) if part)
        label = f"{row.label} ({_CHOSEN})" if row.chosen else row.label
        if columns(label) + columns(told) + 4 <= COLUMNS:
            lines.append(f"{mark}{label}  {told}".rstrip())
        else:
            lines += [
                f"{mark}{fitted(label, COLUMNS - 2)}",
                *(f"    {line}" for line in broken(told, COLUMNS - 4) if told),
            ]
        if row.range is not None:
            lines.append("  " + _cells(row.range, least, scale))
    return (*lines, *legend_lines(_LEGEND))


def _cells(span: tuple[float, float, float], least: float, scale: float) -> str:
    zero, low, likely, high = (round((value - least) * scale) for value in (0.0, *span))
    cells = [" "] * (COLUMNS - 3)
    sure = low if span[0] > 0 else high if span[2] < 0 else zero
    for column in range(min(zero, sure), max(zero, sure)):
        cells[column] = "█"
    for column in range(low, high):
        cells[column] = "▒"
    if cells[zero] == " ":
        cells[zero] = "│"
    cells[likely] = "◆"
    return "".join(cells).rstrip()
