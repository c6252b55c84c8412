"""Names that try to be markup, formulas, control codes or more lines appear as text in every form, and break none."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
import subprocess
from functools import cache
from html.parser import HTMLParser

import openpyxl
import pytest
from calendars import read
from hostile import NAMES, ON, hostile_plan, tree_id
from markdown_it import MarkdownIt

from barkwright.output import pdf
from barkwright.output.blocks import Card, Page
from barkwright.output.calendar_file import order_ics
from barkwright.output.envelope import envelope
from barkwright.output.forms import page_form
from barkwright.output.measures import Units
from barkwright.output.names import printable
from barkwright.output.order import order_page
from barkwright.output.order_json import order_result
from barkwright.output.tables_file import TABLES, order_csv

VOID = {"meta", "link", "br", "hr"}
TAGS = set(
    """html head meta title style body header main section article h1 h2 h3 p ul ol li dl div dt dd table thead tbody tr
    th td figure figcaption pre""".split()  # noqa: SIM905
)
PICTURE = set(
    "svg title desc g defs pattern rect line path polyline polygon circle text tspan use".split()  # noqa: SIM905
)
DECLARED = {"class", "id", "lang", "charset", "name", "content", "role", "scope", "data-head", "aria-labelledby"}


@cache
def page() -> Page:
    return order_page(hostile_plan(), Units(), "hostile.yaml")


def squeezed(text: str) -> str:
    """Without blanks: lines are broken where they are too long."""
    return re.sub(r"\s+", "", text)


def holds_all(text: str) -> None:
    """Every name of a place and every id of a tree stands in the text, and nothing that steers a screen."""
    seen = squeezed(text)
    for name in NAMES.values():
        assert squeezed(printable(name)) in seen
        assert squeezed(printable(tree_id(name))) in seen
    assert all(char == "\n" or char.isprintable() for char in text)


def test_text():
    text = page_form(page(), "text")
    holds_all(text)
    assert max(map(len, text.splitlines())) <= 80


class Parsed(HTMLParser):
    """What a browser makes of a page: its tags, balanced, and its text."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.names: set[str] = set()
        self.text: list[str] = []

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        if not {"svg", "figure"} & set(self.open):
            self.names.update(name for name, _ in attrs)
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_startendtag(self, tag, attrs):
        self.tags.add(tag)

    def handle_data(self, data):
        if "style" not in self.open:
            self.text.append(data)


def test_html():
    parsed = Parsed()
    parsed.feed(page_form(page(), "html"))
    parsed.close()
    assert parsed.open == []
    assert parsed.tags <= TAGS | PICTURE
    assert parsed.names <= DECLARED
    holds_all("".join(parsed.text))


def test_markdown():
    tokens = (
        MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"]).parse(page_form(page(), "markdown"))
    )
    flat = [*tokens, *(child for token in tokens for child in token.children or ())]
    kinds = {token.type for token in flat}
    assert kinds.isdisjoint(("html_block", "html_inline", "link_open", "image", "em_open", "s_open", "code_inline"))
    sections = page().sections
    cards = sum(isinstance(block, Card) for section in sections for block in section.blocks)
    assert sum(token.type == "heading_open" for token in tokens) == 1 + len(sections) + cards
    holds_all("\n".join("" if token.type == "softbreak" else token.content for token in flat if not token.children))


def test_json():
    text = envelope("order", ON, (), order_result(hostile_plan()))
    assert all(char == "\n" or char.isprintable() for char in text)
    result = json.loads(text)["result"]
    assert result["site"]["name"] == " ".join(NAMES.values())
    assert [tree["where"] for tree in result["trees"]] == list(NAMES.values())


@pytest.mark.parametrize("table", TABLES)
def test_csv(table):
    text = order_csv(hostile_plan(), table)
    read_back = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert len({len(row) for row in read_back}) == 1
    sheet = openpyxl.Workbook().active
    for row in read_back:
        sheet.append(row)
    assert not any(cell.data_type == "f" for row in sheet.rows for cell in row)
    assert all(char == "\n" or char.isprintable() for char in text)
    if table != "costs":
        assert {row[1].lstrip("'") for row in read_back[1:]} >= {printable(tree_id(name)) for name in NAMES.values()}


def test_ics():
    content = order_ics(hostile_plan(), Units(), "hostile.yaml")
    text = content.decode("utf-8").replace("\r\n", "\n")
    assert all(char == "\n" or char.isprintable() for char in text)
    assert max(len(line) for line in content.split(b"\r\n")) <= 75
    events = read(content)
    assert len(events) == text.count("\nBEGIN:VEVENT\n")
    holds_all("\n".join(f"{event.summary}\n{event.description}\n{event.location}" for event in events))


@pytest.mark.slow
def test_pdf(tmp_path):
    try:
        pdf.library()
    except pdf.NoPdfError as fault:
        pytest.skip(str(fault))
    if not shutil.which("pdftotext"):
        pytest.skip("pdftotext is not installed")
    written = tmp_path / "order.pdf"
    written.write_bytes(page_form(page(), "pdf"))
    command = ["pdftotext", "-raw", str(written), "-"]
    found = squeezed(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
    for key, name in NAMES.items():
        if key not in ("long", "cree"):  # a page may end within the one; the other may lack a font
            assert squeezed(printable(name)) in found, key
