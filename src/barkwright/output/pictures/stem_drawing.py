"""A stem in pixels: length to scale, thickness to a larger one that the picture states."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.output.pictures.drawing import WIDTH_PX, Drawing, Label, Part, Shape, Stroke, ground
from barkwright.output.pictures.legend import legend, words
from barkwright.output.pictures.letters import LETTER_PX, width_px
from barkwright.output.pictures.places import placed, spaced
from barkwright.output.pictures.stem_parts import FILLS, LIVES

if TYPE_CHECKING:
    from barkwright.output.pictures.stem_parts import Stem, Stretch

EDGE = 6.0  # free at both ends of the stem [px]
_MOST_PER_FT = 20.0  # a short log is not blown up any further [px/ft]
_THICK = 64.0  # thickness that is aimed at [px]
_SAW = 5.0  # how far a cut stands out over the wood [px]
_ROW = 17.0


class _Sheet:
    """Scales of one picture."""

    def __init__(self, stem: Stem) -> None:
        self.stem = stem
        self.stretches = tuple(stem.stretches())
        longest = max(stretch.to_ft - stretch.from_ft for stretch in self.stretches)
        self.per_ft = min((WIDTH_PX - 2 * EDGE) / longest, _MOST_PER_FT)
        self.times = max(1, int(_THICK / (stem.thickest_in / 12 * self.per_ft)))
        self.per_in = self.per_ft / 12 * self.times

    def x(self, stretch: Stretch, feet: float) -> float:
        """Place along a line [px] of a height or distance along the stem [ft]."""
        return EDGE + (feet - stretch.from_ft) * self.per_ft


def stem_drawing(stem: Stem) -> Drawing:
    """The stem, its cuts, its patterns and words, a rule in feet or metres, and what the patterns mean."""
    sheet = _Sheet(stem)
    parts: list[Part] = []
    y = 0.0
    for stretch in sheet.stretches:
        drawn, y = _stretch(sheet, stretch, y)
        parts += drawn
    drawn, y = legend([(FILLS[lives], LIVES[lives]) for lives in stem.legend()], y + 4)
    parts += drawn
    drawn, y = words(_note(sheet), y)
    return Drawing(WIDTH_PX, y + 4, (*parts, *drawn))


def _note(sheet: _Sheet) -> str:
    said = [f"Under the wood: {'centimetres' if sheet.stem.units.metric else 'inches'} across."]
    if not sheet.stem.in_logs and len(sheet.stem.parts) > 1:
        said.append("Heavy strokes: cuts." if sheet.stem.to_cut else "Broken strokes: cuts, if it is ever felled.")
    machines = {part.thin[1] for part in sheet.stem.parts if part.thin is not None}
    if machines:
        said.append(f"Right of the fine broken line the {' or '.join(sorted(machines))} takes it whole.")
    times = sheet.times
    said.append(f"Thickness is drawn {times} times too big." if times > 1 else "Thickness is drawn like length.")
    return " ".join(said)


def _stretch(sheet: _Sheet, stretch: Stretch, top: float) -> tuple[list[Part], float]:
    thick = max(part.piece.butt_dob_in for part in stretch.parts) * sheet.per_in
    middle = top + _ROW + _SAW + thick / 2
    parts = [*_wood(sheet, stretch, middle), *_numbers(sheet, stretch, top + 12)]
    y = middle + thick / 2 + _SAW
    parts += _across(sheet, stretch, y + 12)
    drawn, y = _fates(sheet, stretch, y + _ROW + 2)
    parts += drawn
    drawn, y = _rule(sheet, stretch, y + 4)
    return [*parts, *drawn], y + 4


def _wood(sheet: _Sheet, stretch: Stretch, middle: float) -> Iterator[Part]:
    for part in stretch.parts:
        piece = part.piece
        left, right = (sheet.x(stretch, feet) for feet in (piece.from_ft, piece.from_ft + piece.length_ft))
        low, high = piece.butt_dob_in * sheet.per_in / 2, piece.top_dob_in * sheet.per_in / 2
        corners = ((left, middle - low), (right, middle - high), (right, middle + high), (left, middle + low))
        yield Shape(corners, FILLS[part.lives])
    for part in stretch.parts:
        half = part.piece.butt_dob_in * sheet.per_in / 2 + _SAW
        if part.piece.from_ft > stretch.from_ft and not sheet.stem.in_logs:
            x = sheet.x(stretch, part.piece.from_ft)
            yield Stroke(((x, middle - half), (x, middle + half)), not sheet.stem.to_cut, sheet.stem.to_cut)
        if part.thin is not None:
            x = sheet.x(stretch, part.piece.from_ft + part.thin[0])
            yield Stroke(((x, middle - half), (x, middle + half)), dashed=True)


def _numbers(sheet: _Sheet, stretch: Stretch, base: float) -> Iterator[Part]:
    """Numbers of the logs over them; of very short logs as many as there is room for."""
    logs = [part for part in stretch.parts if part.piece.kind == "log"]
    middles = [sheet.x(stretch, part.piece.from_ft + part.piece.length_ft / 2) for part in logs]
    for place in spaced([(x, width_px(part.name)) for x, part in zip(middles, logs, strict=True)], 3):
        yield Label(middles[place], base, logs[place].name, "middle", strong=True)


def _across(sheet: _Sheet, stretch: Stretch, base: float) -> Iterator[Part]:
    """How thick it is at the cuts, under them."""
    cut = stretch.parts[stretch.parts[0].piece.kind == "stump" :]
    sizes = [(sheet.x(stretch, part.piece.from_ft), part.piece.butt_dob_in) for part in cut]
    last = stretch.parts[-1].piece
    if last.kind != "top":
        sizes.append((sheet.x(stretch, stretch.to_ft), last.top_dob_in))
    texts = [sheet.stem.units.inches(size).rpartition(" ")[0] for _, size in sizes]
    middles = [
        min(max(x, width_px(text) / 2), WIDTH_PX - width_px(text) / 2)
        for (x, _), text in zip(sizes, texts, strict=True)
    ]
    for place in spaced([(x, width_px(text)) for x, text in zip(middles, texts, strict=True)], 0):
        yield Label(middles[place], base, texts[place], "middle")


def _fates(sheet: _Sheet, stretch: Stretch, top: float) -> tuple[list[Part], float]:
    """Brackets under the pieces, and under them what becomes of these."""
    wanted, parts = [], list[Part]()
    for run in stretch.runs:
        text = stretch.text(run)
        if run.limbs == "alone":
            wanted.append((WIDTH_PX, width_px(text)))
            continue
        first, last = stretch.parts[run.first].piece, stretch.parts[run.last].piece
        left, right = sheet.x(stretch, first.from_ft) + 1, sheet.x(stretch, last.from_ft + last.length_ft) - 1
        parts.append(Stroke(((left, top), (left, top + 5), (right, top + 5), (right, top))))
        wanted.append(((left + right) / 2, width_px(text)))
    labels, under = list[Part](), top + 8
    spots = placed(wanted, WIDTH_PX, LETTER_PX)
    for spot, run in zip(spots, stretch.runs, strict=True):
        y = under + _ROW * spot.row
        if run.limbs != "alone":
            parts.append(Stroke(((spot.at, top + 5), (spot.at, y + 2))))
        labels.append(ground(spot.left - 2, y + 1, spot.right + 2, y + _ROW - 1))
        labels.append(Label(spot.left + spot.width / 2, y + 13, stretch.text(run), "middle", strong=True))
    return [*parts, *labels], under + _ROW * (1 + max(spot.row for spot in spots))


def _rule(sheet: _Sheet, stretch: Stretch, top: float) -> tuple[list[Part], float]:
    """A tape along the stem."""
    length = stretch.to_ft - stretch.from_ft
    ticks = sheet.stem.ticks(length, max(1, int(length * sheet.per_ft / 45)))
    parts: list[Part] = [Stroke(((EDGE, top), (EDGE + length * sheet.per_ft, top)))]
    for feet, text in ticks:
        x = EDGE + feet * sheet.per_ft
        parts.append(Stroke(((x, top), (x, top + 5))))
        half = width_px(text) / 2
        parts.append(Label(min(max(x, half), WIDTH_PX - half), top + 17, text, "middle"))
    return parts, top + 20
