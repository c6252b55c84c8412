"""The season in pixels: months along the top, a lane for each kind of days, the flights as hills below."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.pictures.drawing import WIDTH_PX, Drawing, Label, Part, Shape, Stroke, box, ground
from barkwright.output.pictures.legend import words
from barkwright.output.pictures.letters import LETTER_PX, broken, width_px
from barkwright.output.pictures.places import placed
from barkwright.output.pictures.season_parts import month_name, short_day

if TYPE_CHECKING:
    from barkwright.output.pictures.season_parts import Flying, Lane, Shown

EDGE = 2.0
_MONTHS = 34.0  # depth of the names of years and months [px]
_ROW = 17.0
_BAR = 11.0
_THIN = 2.5  # of a bar that would hardly be seen
_HILL = 34.0
_STEPS = 24  # of the outline of a hill


class _Sheet:
    """The scale of one picture, and what is drawn so far: ground, bars, words."""

    def __init__(self, shown: Shown) -> None:
        self.shown = shown
        self.per_day = (WIDTH_PX - 2 * EDGE) / shown.length
        self.bars: list[Part] = []
        self.words: list[Part] = []

    def x(self, on: date) -> float:
        """Where a day begins [px]."""
        return EDGE + (on - self.shown.first).days * self.per_day

    def say(self, text: str, top: float) -> float:
        """Words on a white ground; where they end."""
        for line in broken(text, int(WIDTH_PX / LETTER_PX)):
            self.words.append(ground(0, top + 2, 0.88 * width_px(line), top + _ROW - 1))
            self.words.append(Label(0, top + 13, line))
            top += _ROW
        return top


def season_drawing(shown: Shown) -> Drawing:
    """Months, uprights for the days that matter, lanes, flights, and what the uprights mean."""
    sheet = _Sheet(shown)
    flags, y = _flags(sheet, _MONTHS)
    start = y
    for lane in shown.lanes:
        y = _lane(sheet, lane, sheet.say(lane.title, y))
    for flight in shown.flights:
        y = _flight(sheet, flight, sheet.say(flight.title, y))
    ground = [*_ground(sheet, y), *_uprights(sheet, start, y)]
    lead, bottom = words(shown.lead, y + 2)
    parts = (*ground, *sheet.bars, *_months(sheet), *flags, *sheet.words, *lead)
    return Drawing(WIDTH_PX, bottom + 4, parts)


def _months(sheet: _Sheet) -> Iterator[Part]:
    """Names of months where there is room, of years at their first month."""
    years: list[tuple[float, str]] = []
    for first, _ in sheet.shown.months():
        if first == sheet.shown.first or first.month == 1:
            years.append((sheet.x(first), str(first.year)))
    for first, last in sheet.shown.named_months(WIDTH_PX - 2 * EDGE, width_px):
        name, after = month_name(first), last + timedelta(days=1)
        if first == sheet.shown.first and (after - first).days * sheet.per_day < width_px(name):
            continue
        if (left := sheet.x(first) + 2) + width_px(name) <= WIDTH_PX:
            yield Label(left, 29, name)
    for place, (left, year) in enumerate(years):
        room = years[place + 1][0] - left if place + 1 < len(years) else WIDTH_PX - left
        if room >= width_px(year) + 4:
            yield Label(left, 13, year, strong=True)


def _ground(sheet: _Sheet, bottom: float) -> Iterator[Part]:
    yield Stroke(((EDGE, _MONTHS), (WIDTH_PX - EDGE, _MONTHS)))
    for first, _ in sheet.shown.months():
        x = sheet.x(first)
        yield box(x - 0.4, 18, x + 0.4, bottom, "plain", bare=True)


def _flags(sheet: _Sheet, top: float) -> tuple[list[Part], float]:
    """What the uprights mark, with the day, over them."""
    marks = sheet.shown.marks
    texts = [f"{mark.text} {short_day(mark.on)}" for mark in marks]
    spots = placed([(sheet.x(mark.on), width_px(text)) for mark, text in zip(marks, texts, strict=True)], WIDTH_PX, 8)
    rows = 1 + max((spot.row for spot in spots), default=-1)
    parts: list[Part] = []
    for mark, spot in zip(marks, spots, strict=True):  # row 0 is the nearest to the lanes
        foot = top + _ROW * (rows - spot.row)
        parts.append(Stroke(((spot.at, foot), (spot.at, top + _ROW * rows)), not mark.heavy, mark.heavy))
    for mark, text, spot in zip(marks, texts, spots, strict=True):
        foot = top + _ROW * (rows - spot.row)
        parts.append(ground(spot.left - 2, foot - _ROW + 2, spot.right + 2, foot - 1))
        parts.append(Label(spot.left + spot.width / 2, foot - 4, text, "middle", strong=mark.heavy))
    return parts, top + _ROW * rows


def _uprights(sheet: _Sheet, top: float, bottom: float) -> Iterator[Part]:
    for mark in sheet.shown.marks:
        x = sheet.x(mark.on)
        yield Stroke(((x, top), (x, bottom)), not mark.heavy, mark.heavy)


def _lane(sheet: _Sheet, lane: Lane, top: float) -> float:
    for first, last in lane.spans:
        left, right = sheet.x(first), sheet.x(last + timedelta(days=1))
        if lane.fill != "plain" and right - left < _THIN:
            left, right = (left + right - _THIN) / 2, (left + right + _THIN) / 2
        sheet.bars.append(box(left, top, right, top + _BAR, lane.fill, bare=lane.fill in ("solid", "plain")))
    return top + _BAR + 5


def _flight(sheet: _Sheet, flight: Flying, top: float) -> float:
    bottom = top + _HILL
    first, last = max(flight.onset, sheet.shown.first), min(flight.end, sheet.shown.last)
    days = [first + (last - first) * step / _STEPS for step in range(_STEPS + 1)]
    outline = tuple((sheet.x(one), bottom - _HILL * flight.height(one)) for one in days)
    sheet.bars.append(Shape(((outline[0][0], bottom), *outline, (outline[-1][0], bottom)), "cross"))
    if flight.half >= sheet.shown.first:
        sheet.bars.append(Stroke(((sheet.x(flight.half), bottom), (sheet.x(flight.half), bottom - _HILL)), heavy=True))
    return bottom + 5
