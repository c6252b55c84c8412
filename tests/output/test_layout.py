"""Pages as text: width, tables, nothing that steers a terminal."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from barkwright.output.blocks import Card, Facts, Items, Page, Para, Section, Table, plain
from barkwright.output.layout import WIDTH, render


def page(*blocks: Para | Items | Facts | Table | Card) -> Page:
    return Page("A title", "a line below", (Section("Heading", blocks),))


@given(st.text(max_size=400), st.text(min_size=1, max_size=60), st.text(max_size=60))
def test_no_text_makes_a_line_wider_than_the_paper(text: str, name: str, cell: str) -> None:
    blocks = (
        Para(text),
        plain([text or "x"], "[ ]"),
        Facts(((name[:16], text),)),
        Card(name, (Table(("One", "Two", "Three"), ((name[:12], cell, text), ("a", "b", "c")), "llr", wrap=2),)),
    )
    out = render(page(*blocks))
    assert max(map(len, out.splitlines())) <= WIDTH
    assert all(char.isprintable() or char == "\n" for char in out)


def test_a_long_word_is_broken_and_not_run_over() -> None:
    out = render(page(Para("x" * 300)))
    assert max(map(len, out.splitlines())) == WIDTH


def test_a_table_wraps_only_the_column_it_may() -> None:
    out = render(
        page(Table(("Name", "What", "By"), (("log 1", "strip the bark " * 10, "Sat 8 May 2027"),), "lll", wrap=1))
    )
    rows = [line for line in out.splitlines() if line.startswith(("log 1", " " * 5))]
    assert rows[0].endswith("Sat 8 May 2027")
    assert len(rows) > 1


def test_a_head_may_carry_units_below() -> None:
    out = render(page(Table(("Piece", "Long\nft"), (("log 1", "8.0"),), "lr")))
    assert out.splitlines()[3:] == [
        "HEADING " + "=" * 72,
        "Piece  Long",
        "         ft",
        "-----  ----",
        "log 1   8.0",
    ]


def test_the_page_ends_in_one_newline() -> None:
    out = render(page(Para("one")))
    assert out.endswith("one\n")
