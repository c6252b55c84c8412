"""Stems as pictures: to scale, with their cuts, what lives in them and what becomes of them."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from made_up import plan
from picture_kit import EXAMPLES, HOSTILE, ends, holds_to_the_sheet, labels, parsed, pile, shapes, site, uprights, yard

from barkwright.output.blocks import Picture
from barkwright.output.measures import Units
from barkwright.output.pictures.stem import stem_picture
from barkwright.output.view import View

CHIPPED = yard(
    ("skills: [saw]", "skills: [saw, felling]"),
    ("avoid: [burn], prefer: [split]", "avoid: [burn, debark]"),
    ("stages: [larvae] ", "stages: [adults] "),
    ("attacked: 2026 ", "attacked: 2025 "),
)


def drawn(view: View, tree: str = "T1") -> Picture:
    picture = stem_picture(view, tree)
    assert picture is not None
    return picture


def wood(picture: Picture) -> list[tuple[float, float]]:
    """From where to where each piece reaches, and nothing but pieces: they are drawn first."""
    first = [part.points for part in picture.drawing.parts if hasattr(part, "fill")]
    solid = [points for points in first if len(points) == 4 and points[0][0] == points[3][0] and points[0] != points[3]]
    pieces = [points for points in solid if points[0][1] + points[3][1] == pytest.approx(points[1][1] + points[2][1])]
    top = pieces[0][0][1] + pieces[0][3][1]
    return [(p[0][0], p[1][0]) for p in pieces if p[0][1] + p[3][1] == pytest.approx(top)]


def test_cuts_lie_where_the_pieces_end() -> None:
    view = site(CHIPPED)
    picture = drawn(view)
    solid = [piece for piece in view.stems["T1"].pieces if piece.kind != "limbs"]
    spans = wood(picture)
    assert len(spans) == len(solid)
    per_ft = (spans[-1][1] - spans[0][0]) / 72.0  # the tree is 72 ft tall
    for (left, right), piece in zip(spans, solid, strict=True):
        assert left - spans[0][0] == pytest.approx(piece.from_ft * per_ft)
        assert right - left == pytest.approx(piece.length_ft * per_ft)
    assert uprights(picture, heavy=True) == pytest.approx([left for left, _ in spans[1:]])


def test_a_log_twice_as_long_is_drawn_twice_as_long() -> None:
    picture = drawn(site(pile("{butt: 14, top: 12, length: 8}, {butt: 12, top: 8, length: 16}")), "D1")
    (a, b), (c, d) = wood(picture)
    assert b == pytest.approx(c)
    assert d - c == pytest.approx(2 * (b - a))


def test_thickness_is_to_the_scale_that_the_picture_states() -> None:
    view = site(CHIPPED)
    picture = drawn(view)
    spans = wood(picture)
    per_ft = (spans[-1][1] - spans[0][0]) / 72.0
    said = " ".join(label.text for label in labels(picture))
    times = int(said.partition("Thickness is drawn ")[2].partition(" ")[0])
    butt = max(y for part in shapes(picture, "cross")[:1] for _, y in part.points) - min(
        y for part in shapes(picture, "cross")[:1] for _, y in part.points
    )
    thickest = max(piece.butt_dob_in for piece in view.stems["T1"].pieces)
    assert butt == pytest.approx(thickest / 12 * per_ft * times)


def test_patterns_follow_the_brood() -> None:
    view = site(CHIPPED)
    picture = drawn(view)
    fills = {"likely": "cross", "possible": "dots", "none": "paper"}
    for level, fill in fills.items():
        held = [
            piece for piece in view.stems["T1"].pieces if piece.kind != "limbs" and view.broods[piece.id].brood == level
        ]
        swatches = 1 if held else 0
        fates_behind = len({label.text for label in labels(picture) if ": " in label.text and label.strong})
        extra = fates_behind if fill == "paper" else 0  # the ground of the words
        assert len(shapes(picture, fill)) == len(held) + swatches + extra
    assert {"beetles likely", "beetles possible", "no beetles"} <= {label.text for label in labels(picture)}


def test_what_becomes_of_it_stands_under_it() -> None:
    view = site(CHIPPED)
    picture = drawn(view)
    texts = [label.text for label in labels(picture)]
    assert "stump, 1-5: strip" in texts
    assert "6-8: chip" in texts
    ways = {piece.number: view.way(piece.id) for piece in view.stems["T1"].pieces if piece.kind == "log"}
    assert [number for number, way in ways.items() if way is not None and way.method == "chip"] == [6, 7, 8]
    label = next(label for label in labels(picture) if label.text == "6-8: chip")
    spans = wood(picture)
    assert spans[6][0] < label.x < spans[8][1]
    assert any("6-8: chip" in line for line in picture.lines)


def test_no_words_stand_on_each_other() -> None:
    rows: dict[float, list[tuple[float, float]]] = {}
    for label in labels(drawn(site(CHIPPED))):
        rows.setdefault(label.y, []).append(ends(label))
    for row in rows.values():
        assert all(before[1] <= after[0] + 0.01 for before, after in pairwise(sorted(row)))


def test_a_machine_that_takes_the_thin_part_has_its_line() -> None:
    view = site(CHIPPED)
    picture = drawn(view)
    piece = view.pieces["T1/7"]
    point = next(point for point in piece.cut_points if point.equipment == "chipper")
    assert 0 < point.short_butt_ft < piece.length_ft
    left, right = wood(picture)[7]
    expected = left + (right - left) * point.short_butt_ft / piece.length_ft
    assert uprights(picture, dashed=True) == pytest.approx([expected])
    assert "The chipper takes log 7 from" in picture.alt


def test_a_stump_alone_is_not_drawn() -> None:
    text = yard()
    stump = "trees:\n  - {id: S1, species: white, status: stump, diameter: 18, height: 1.2, attacked: 2025}\n"
    assert stem_picture(site(text[: text.index("trees:")] + stump + text[text.index("\ncutting:") :]), "S1") is None


def test_many_logs_are_drawn_in_several_lines_all_of_them_once() -> None:
    picture = drawn(
        site(pile("{butt: 12.9, top: 11, length: 8, count: 22}, {butt: 8, top: 6, length: 4, count: 12}")), "D1"
    )
    names = [int(label.text) for label in labels(picture) if label.strong and label.text.isdigit()]
    assert names == list(range(1, 35))
    assert len({label.y for label in labels(picture) if label.strong and label.text.isdigit()}) == 3
    holds_to_the_sheet(picture)


def test_metric_says_no_foot_and_no_inch() -> None:
    picture = drawn(site(CHIPPED, metric=True))
    words = " ".join([picture.alt, *picture.lines, *(label.text for label in labels(picture))])
    assert " ft" not in words
    assert " in " not in words
    assert "inches" not in words
    assert " m" in words
    assert "centimetres" in words
    holds_to_the_sheet(picture)


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize(
    "text", [yard(), CHIPPED, pile("{butt: 60, top: 50, length: 2}"), pile("{butt: 6, top: 5, length: 60}")]
)
def test_it_holds_to_the_sheet(text: str, metric: bool) -> None:
    view = site(text, metric)
    holds_to_the_sheet(drawn(view, next(iter(view.trees))))


def test_every_tree_of_a_large_job_is_drawn_and_told() -> None:
    view = site((EXAMPLES / "removal-24.yaml").read_text(encoding="utf-8"))
    pictures = {tree: stem_picture(view, tree) for tree in view.trees}
    assert len([picture for picture in pictures.values() if picture is not None]) >= 20
    for tree, picture in pictures.items():
        if picture is None:
            assert view.trees[tree].status == "stump"
            continue
        holds_to_the_sheet(picture)
        logs = [piece for piece in view.stems[tree].pieces if piece.kind == "log"]
        assert all(word in picture.alt for word in (tree, "beetles", "What becomes of them"))
        assert len(logs) <= 1 or str(logs[-1].number) in picture.alt


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_text(name: str) -> None:
    picture = replace(drawn(View(plan(), Units(), "made up")), title=f"{name}: the stem", alt=name)
    root = parsed(picture, name)
    assert root.find(".//{*}script") is None
    title = root.find("{*}title")
    assert title is not None
    assert title.text is not None
    assert title.text.isprintable()
    assert "the stem" in title.text


def test_a_tree_that_stays_standing_has_no_cuts_to_make() -> None:
    made = plan()
    picture = drawn(View(made, Units(), "made up"))
    assert uprights(picture, heavy=True) == []
    assert any("if it is ever felled" in label.text for label in labels(picture))
