"""Options as bars: what is sure, what may be, what is likely, and what is not known."""

from __future__ import annotations

import pytest
from picture_kit import holds_to_the_sheet, labels, shapes

from barkwright.output.blocks import Picture
from barkwright.output.pictures.bars import Bar, bars_picture


def money(value: float) -> str:
    return f"CAD {value:g}"


def bars(*rows: Bar) -> Picture:
    picture = bars_picture("Cost of each way", rows, "money to pay, in CAD", money)
    assert picture is not None
    return picture


def width(points: tuple[tuple[float, float], ...]) -> float:
    return max(x for x, _ in points) - min(x for x, _ in points)


def test_bars_are_to_one_scale() -> None:
    picture = bars(Bar("one", 100, 150, 300), Bar("two", 200, 300, 600))
    sure = [width(shape.points) for shape in shapes(picture, "solid")[:2]]
    may = [width(shape.points) for shape in shapes(picture, "dots")[:2]]
    assert sure[1] == pytest.approx(2 * sure[0])
    assert may == pytest.approx([200 / 100 * sure[0], 400 / 100 * sure[0]])


def test_the_likely_amount_is_marked_at_its_place() -> None:
    picture = bars(Bar("one", 100, 150, 300))
    sure, may = shapes(picture, "solid")[0].points, shapes(picture, "dots")[0].points
    left, low, high = sure[0][0], may[0][0], may[1][0]
    mark = next(shape for shape in shapes(picture, "paper") if shape.heavy)
    middle = sum(x for x, _ in mark.points) / 4
    assert (middle - left) / (high - left) == pytest.approx(150 / 300)
    assert low - left == pytest.approx((high - left) / 3)


def test_characters_are_to_the_same_scale() -> None:
    picture = bars(Bar("one", 100, 150, 300), Bar("two", 200, 300, 600))
    lines = [line for line in picture.lines if "◆" in line and "likely" not in line]
    assert [line.count("█") for line in lines] == [12, 24]
    assert [len(line.rstrip()) for line in lines] == [2 + 36, 2 + 72]


def test_what_is_not_known_is_said_and_not_drawn() -> None:
    picture = bars(Bar("haul it", None, None, None, "no price yet"), Bar("chip it", 1, 2, 3))
    words = " ".join(label.text for label in labels(picture))
    assert "no price yet" in words
    assert "no price yet" in picture.alt
    assert len(shapes(picture, "dots")) == 2  # one bar, one swatch
    assert any("haul it  no price yet" in line for line in picture.lines)


def test_the_chosen_one_is_named_in_words() -> None:
    picture = bars(Bar("haul it", 1, 2, 3), Bar("chip it", 1, 2, 3, chosen=True))
    assert [label.text for label in labels(picture) if label.strong] == ["chip it (in the plan)"]
    assert "chip it: CAD 2 (CAD 1 to CAD 3), in the plan" in picture.alt
    assert [line[0] for line in picture.lines if "it" in line] == [" ", ">"]


def test_worth_that_exceeds_the_cost_goes_to_the_left() -> None:
    picture = bars(Bar("sell it", -200, -80, 60), Bar("chip it", 250, 400, 700))
    zero = shapes(picture, "solid")[0].points[0][0]
    may = shapes(picture, "dots")[0].points
    assert may[0][0] < zero < may[1][0]
    holds_to_the_sheet(picture)


@pytest.mark.parametrize(
    "rows",
    [
        [Bar("nothing to pay", 0, 0, 0)],
        [Bar("all alike", 5, 5, 5), Bar("none known", None, None, None)],
        [Bar("one figure", None, 7, None)],
        [Bar("huge", 1e9, 2e9, 3e9), Bar("small", 0.01, 0.02, 0.03)],
        [Bar("gain", -5, -4, -3)],
    ],
)
def test_odd_amounts_hold_to_the_sheet(rows: list[Bar]) -> None:
    holds_to_the_sheet(bars(*rows))


def test_no_options_no_picture() -> None:
    assert bars_picture("Cost", [], "money", money) is None
