"""Pages as text: 80 columns, printable on any paper, no terminal codes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from tabulate import tabulate

from barkwright.output.blocks import Card, Facts, Items, Page, Para, Section, Table
from barkwright.output.words import printable

WIDTH = 80
INDENT = "  "


def render(page: Page) -> str:
    """The page as text, each line at most 80 columns, ending in one newline."""
    lines = [page.title.upper(), *wrapped(page.subtitle), ""]
    for section in page.sections:
        lines += _section(section)
    while lines and not lines[-1]:
        lines.pop()
    return printable("\n".join(line.rstrip() for line in lines)) + "\n"


def wrapped(text: str, first: str = "", later: str | None = None, width: int = WIDTH) -> list[str]:
    """A paragraph broken into lines; words longer than a line are broken rather than run over."""
    if not text:
        return []
    return textwrap.wrap(
        text, width, initial_indent=first, subsequent_indent=first if later is None else later, break_on_hyphens=False
    )


def _section(section: Section) -> Iterator[str]:
    heading = section.heading.upper()
    yield heading + " " + "=" * (WIDTH - len(heading) - 1) if len(heading) < WIDTH - 2 else heading
    for block in section.blocks:
        if isinstance(block, Card):
            yield ""
            yield from _card(block)
        else:
            yield from _block(block, "")
    yield ""


def _card(card: Card) -> Iterator[str]:
    yield from wrapped(card.title)
    for block in card.blocks:
        yield from _block(block, INDENT)


def _block(block: Para | Items | Facts | Table, indent: str) -> Iterable[str]:
    if isinstance(block, Para):
        return wrapped(block.text, indent)
    if isinstance(block, Items):
        return _items(block, indent)
    if isinstance(block, Facts):
        return _facts(block, indent)
    return _table(block, indent)


def _items(items: Items, indent: str) -> Iterator[str]:
    numbered = items.mark == "1."
    for position, (text, under) in enumerate(items.entries, 1):
        mark = f"{position}." if numbered else items.mark
        lead = indent + mark.ljust(len(mark) + 1)
        hang = " " * len(lead)
        yield from wrapped(text, lead, hang)
        for line in under:
            yield from wrapped(line, hang, hang + INDENT)


def _facts(facts: Facts, indent: str) -> Iterator[str]:
    if not facts.pairs:
        return
    label = min(max(len(name) for name, _ in facts.pairs) + 2, 18)
    for name, value in facts.pairs:
        lead = (indent + name + ":").ljust(len(indent) + label)
        yield from wrapped(value, lead + (" " if not lead.endswith(" ") else ""), indent + " " * label)


def _table(table: Table, indent: str) -> Iterator[str]:
    if not table.rows:
        return
    names = {"l": "left", "r": "right", "c": "center"}
    fixed = [
        max(
            max(len(line) for line in cell.split("\n"))
            for cell in (table.head[column], *(row[column] for row in table.rows))
        )
        for column in range(len(table.head))
    ]
    limits: list[int | None] = [None] * len(table.head)
    if table.wrap is not None:
        room = WIDTH - len(indent) - sum(fixed) + fixed[table.wrap] - 2 * (len(table.head) - 1)
        if fixed[table.wrap] > room:
            limits[table.wrap] = max(room, 12)
    text = tabulate(
        table.rows,
        headers=table.head,
        tablefmt="simple",
        colalign=tuple(names[letter] for letter in table.align),
        disable_numparse=True,
        maxcolwidths=limits,
    )
    for line in text.splitlines():
        yield (indent + line).rstrip()
