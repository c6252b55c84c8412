"""A stem in characters."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.pictures.legend import legend_lines
from barkwright.output.pictures.letters import COLUMNS, columns
from barkwright.output.pictures.places import placed, spaced
from barkwright.output.pictures.stem_parts import LIVES, SIGNS

if TYPE_CHECKING:
    from barkwright.output.pictures.stem_parts import Stem, StemPart, Stretch

_DEEP = 3  # rows of the thickest wood
_LAST = COLUMNS - 4  # last column of the stem
_MOST_PER_FT = 4.0


def stem_lines(stem: Stem) -> tuple[str, ...]:
    """The stem, its cuts, its patterns and words, a rule, and what the patterns mean."""
    stretches = tuple(stem.stretches())
    per_ft = min(_LAST / max(stretch.to_ft - stretch.from_ft for stretch in stretches), _MOST_PER_FT)
    lines: list[str] = []
    for stretch in stretches:
        lines += _stretch(stem, stretch, per_ft)
    lines += legend_lines([(SIGNS[lives] * 2, LIVES[lives]) for lives in stem.legend()])
    return tuple(lines)


class _Grid:
    """Rows of characters to write on."""

    def __init__(self) -> None:
        self.rows: list[list[str]] = []

    def put(self, row: int, column: int, text: str) -> None:
        """Write from a column on."""
        while len(self.rows) <= row:
            self.rows.append([" "] * COLUMNS)
        for offset, char in enumerate(text):
            if 0 <= column + offset < COLUMNS:
                self.rows[row][column + offset] = char

    def lines(self) -> list[str]:
        """The rows as text."""
        return ["".join(row).rstrip() for row in self.rows]


def _stretch(stem: Stem, stretch: Stretch, per_ft: float) -> list[str]:
    grid = _Grid()
    edges = _edges(stretch, per_ft)
    _numbers(grid, stretch, edges)
    middle = 1 + _DEEP // 2
    for part, left, right in zip(stretch.parts, edges, edges[1:], strict=False):
        for column in range(left + 1, max(right, left + 2)):
            share = (column - left) / max(right - left, 1)
            half = _half(stem, part, share)
            for row in range(middle - half, middle + half + 1):
                grid.put(row, column, SIGNS[part.lives])
    for place, column in enumerate(edges):
        deep = max(
            _half(stem, stretch.parts[max(place - 1, 0)], 1.0),
            _half(stem, stretch.parts[min(place, len(stretch.parts) - 1)], float(place == len(stretch.parts))),
        )
        sign = "│" if stem.to_cut or stem.in_logs or column in (edges[0], edges[-1]) else "┆"
        for row in range(middle - deep, middle + deep + 1):
            grid.put(row, column, sign)
    _rule(grid, stem, stretch, per_ft, _fates(grid, stretch, edges, middle + _DEEP // 2 + 1))
    return grid.lines()


def _edges(stretch: Stretch, per_ft: float) -> list[int]:
    """Columns of the cuts; every piece keeps at least one column between them where the line has room."""
    edges = [0]
    for part in stretch.parts:
        end = round((part.piece.from_ft + part.piece.length_ft - stretch.from_ft) * per_ft)
        edges.append(min(max(end, edges[-1] + 2), COLUMNS - 1))
    return edges


def _half(stem: Stem, part: StemPart, share: float) -> int:
    """Rows over the middle row."""
    across = part.piece.butt_dob_in + (part.piece.top_dob_in - part.piece.butt_dob_in) * share
    return min(_DEEP // 2, round(across / stem.thickest_in * _DEEP / 2))


def _numbers(grid: _Grid, stretch: Stretch, edges: list[int]) -> None:
    logs = [place for place, part in enumerate(stretch.parts) if part.piece.kind == "log"]
    spots = [((edges[place] + edges[place + 1]) / 2, float(len(stretch.parts[place].name))) for place in logs]
    for one in spaced(spots, 1):
        name = stretch.parts[logs[one]].name
        grid.put(0, round(spots[one][0] - len(name) / 2 + 0.1), name)


def _fates(grid: _Grid, stretch: Stretch, edges: list[int], row: int) -> int:
    wanted = []
    for run in stretch.runs:
        if run.limbs == "alone":
            wanted.append((COLUMNS, columns(stretch.text(run))))
            continue
        left, right = edges[run.first], edges[run.last + 1]
        grid.put(row, left + 1, "└" + "─" * (right - left - 3) + "┘" if right - left > 2 else "┴")
        wanted.append(((left + right) // 2, columns(stretch.text(run))))
    spots = placed(wanted, COLUMNS, 2)
    for spot, run in zip(spots, stretch.runs, strict=True):
        for between in range(row + 1, row + 1 + spot.row * (run.limbs != "alone")):
            grid.put(between, int(spot.at), "│")
    for spot, run in zip(spots, stretch.runs, strict=True):
        grid.put(row + 1 + spot.row, round(spot.left), stretch.text(run))
    return row + 2 + max(spot.row for spot in spots)


def _rule(grid: _Grid, stem: Stem, stretch: Stretch, per_ft: float, row: int) -> None:
    length = stretch.to_ft - stretch.from_ft
    for feet, text in stem.ticks(length, max(1, int(length * per_ft / 8))):
        column = round(feet * per_ft)
        grid.put(row, min(column, COLUMNS - len(text) - 2), f"╎{text}")
