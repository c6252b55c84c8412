"""Drawings as SVG: XML whatever a name says, ids that do not meet, nothing from outside."""

from __future__ import annotations

import re

import pytest
from picture_kit import HOSTILE, holds_to_the_sheet, labels, parsed

from barkwright.output.pictures.bars import Bar, bars_picture
from barkwright.output.pictures.characters import ascii_lines, in_ascii
from barkwright.output.pictures.drawing import Drawing, Label, Shape, Stroke
from barkwright.output.pictures.letters import broken, columns, fitted
from barkwright.output.pictures.places import placed, spaced
from barkwright.output.pictures.svg import svg

SQUARE = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0))
FILLS = ("none", "plain", "solid", "lines", "dots", "cross", "paper")
DRAWN = Drawing(
    400,
    50,
    (*(Shape(SQUARE, fill) for fill in FILLS), Stroke(SQUARE[:2], dashed=True), Label(5, 20, "<b>&", "end", True)),
)


def test_ids_of_several_pictures_never_meet_and_each_is_found() -> None:
    idents = ["T1", "T.1", "T 1", "T_1", "t1", "T1-title", "ᐊ", "\x1b", "1"]
    page = [svg(DRAWN, ident, "a title", "in words") for ident in idents]
    ids = [found for one in page for found in re.findall(r' id="([^"]*)"', one)]
    assert len(ids) == len(set(ids)) == len(idents) * 5  # title, desc and three patterns
    for one in page:
        own = re.findall(r' id="([^"]*)"', one)
        assert set(re.findall(r"url\(#([^)]*)\)", one)) <= set(own)
        labelled = re.search(r'aria-labelledby="([^"]*)"', one)
        assert labelled is not None
        assert set(labelled[1].split()) <= set(own)
        assert all(re.fullmatch(r"[A-Za-z][\w-]*", name, re.ASCII) for name in own)


def test_nothing_comes_from_outside_and_nothing_runs() -> None:
    text = svg(DRAWN, "one", "t", "a").replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert not re.search(r"http|<script|\bon\w+=|@import|href", text)


def test_only_patterns_that_are_used_are_defined() -> None:
    assert "<pattern" not in svg(Drawing(9, 9, (Shape(SQUARE, "solid"),)), "one", "t", "a")


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_words_are_text_in_every_place(name: str) -> None:
    picture = bars_picture(
        name, [Bar(name, 1, 2, 3, name, True), Bar(name, None, None, None, name)], name, lambda v: f"{v:g}"
    )
    assert picture is not None
    root = parsed(picture, name)
    assert root.get("role") == "img"
    assert root.find(".//{*}script") is None
    words = ["".join(found.itertext()) for found in root.iter("{http://www.w3.org/2000/svg}text")]
    assert all(word.isprintable() for word in words)
    assert len(words) == len(labels(picture))
    holds_to_the_sheet(picture)


def test_what_is_cut_or_broken_keeps_to_its_room() -> None:
    for text in HOSTILE[5:9]:
        assert columns(fitted(text, 30)) <= 30
        assert all(columns(line) <= 30 for line in broken(text, 30))
        assert "".join(broken(text, 30)).replace(" ", "") == text.replace(" ", "")
    assert fitted("short", 30) == "short"
    assert fitted("x" * 40, 10) == "xxxxxxx..."


def test_ascii_keeps_names_where_they_may_stay_and_width_where_not() -> None:
    assert in_ascii("│▓▓│ Ель") == "|%%| Ель"
    assert ascii_lines(["│▓▓│ Ель", "▒◆ 湖"]) == ("|%%| ???", ":* ??")


def test_patterns_stay_unlike_each_other_in_ascii() -> None:
    assert len({in_ascii(sign) for sign in "▓▒░╱"}) == 4
    assert len({in_ascii(sign) for sign in "█▒◆"}) == 3
    assert in_ascii("┃") != in_ascii("┆")


def test_labels_find_places_of_their_own() -> None:
    wanted = [(2.0, 60.0), (10.0, 80.0), (15.0, 70.0), (390.0, 90.0), (395.0, 40.0)]
    found = placed(wanted, 400, 8)
    assert [spot.at for spot in found] == [at for at, _ in wanted]
    for one in found:
        assert one.left >= 0
        assert one.right <= 400
        for other in found:
            if other is not one and other.row == one.row:
                assert one.right + 8 <= other.left or other.right + 8 <= one.left
            if other.row < one.row:
                assert not other.left <= one.at <= other.right  # the line to its place is clear


def test_labels_thin_out_where_there_is_no_room() -> None:
    assert spaced([(10.0 * place, 8.0) for place in range(6)], 1) == (0, 1, 2, 3, 4, 5)
    assert spaced([(10.0 * place, 15.0) for place in range(6)], 1) == (0, 2, 5)
    assert spaced([], 1) == ()
