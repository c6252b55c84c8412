"""Pages as text: 80 columns, printable on any paper, no terminal codes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from barkwright.output.blocks import Block, Card, Columns, Facts, Items, Page, Para, Picture, Section, Table
from barkwright.output.names import printable
from barkwright.output.pictures.characters import in_ascii

WIDTH = 80
INDENT = "  "
NARROWEST = 10  # what a wrapped column keeps while others give nothing
LABEL = 18  # widest column of labels before their text


def render(page: Page, every_letter: bool = True) -> str:
    """The page as text, each line at most 80 columns, ending in one newline.

    every_letter : False draws pictures with ASCII alone, for screens and printers that can do no more
    """
    lines = [*wrapped(page.title.upper()), *wrapped(page.subtitle), ""]
    for section in page.sections:
        lines += _section(section, page.tight)
    while lines and not lines[-1]:
        lines.pop()
    whole = printable("\n".join(line.rstrip() for line in lines)) + "\n"
    return whole if every_letter else in_ascii(whole)


def wrapped(text: str, first: str = "", later: str | None = None, width: int = WIDTH) -> list[str]:
    """A paragraph broken into lines; a word longer than a line is broken rather than run over."""
    later = first if later is None else later
    return textwrap.wrap(
        printable(text).replace("\n", " "), width, initial_indent=first, subsequent_indent=later, break_on_hyphens=False
    )


def _section(section: Section, tight: bool) -> Iterator[str]:
    heading = section.heading.upper()
    yield f"{heading} {'=' * (WIDTH - len(heading) - 1)}" if len(heading) < WIDTH - 2 else heading
    for position, block in enumerate(section.blocks):
        if isinstance(block, Card):
            if position and not tight:
                yield ""
            yield from _card(block)
        else:
            yield from _block(block, "")
    if not tight:
        yield ""


def _card(card: Card) -> Iterator[str]:
    yield from wrapped(card.title, "", INDENT)
    for block in card.blocks:
        yield from _block(block, INDENT)


def _block(block: Block, indent: str) -> Iterable[str]:
    if isinstance(block, Columns):
        return block.lines
    if isinstance(block, Picture):
        return () if block.screen_only else (indent + line for line in block.lines)
    if isinstance(block, Para):
        return wrapped(block.text, indent)
    if isinstance(block, Items):
        return _items(block, indent)
    if isinstance(block, Facts):
        return _facts(block, indent)
    return _table(block, indent)


def _items(items: Items, indent: str) -> Iterator[str]:
    for position, (text, under) in enumerate(items.entries, 1):
        mark = f"{position}." if items.mark == "1." else items.mark
        lead = f"{indent}{mark} "
        hang = " " * len(lead)
        yield from wrapped(text, lead, hang)
        for line in under:
            yield from wrapped(line, hang, hang + "  " * line.startswith("- "))


def _facts(facts: Facts, indent: str) -> Iterator[str]:
    if not facts.pairs:
        return
    label = min(max(len(name) for name, _ in facts.pairs) + 2, LABEL)
    hang = indent + " " * label
    for name, value in facts.pairs:
        shown = printable(name)
        if len(shown) > label - 2:
            yield from wrapped(shown, indent)
            yield from wrapped(value, hang)
        else:
            yield from wrapped(value, (indent + shown).ljust(len(hang)), hang)


def _table(table: Table, indent: str) -> Iterator[str]:
    if not table.rows:
        return
    names = {"l": "left", "r": "right", "c": "center"}
    from tabulate import tabulate

    columns = range(len(table.head))
    heads = [cell.split("\n") for cell in table.head]
    deep = max(len(cell) for cell in heads)
    head = [tuple(cell[line] if line < len(cell) else "" for cell in heads) for line in range(deep)]
    body = [tuple(printable(cell).replace("\n", " ") for cell in row) for row in table.rows]
    rows = [*head, *body]
    widths = [max(len(row[column]) for row in rows) for column in columns]
    limits = _fitted(widths, WIDTH - len(indent), table.wrap)
    rule = tuple("-" * width for width in limits)
    text = tabulate(
        [[_cell(text, limit) for text, limit in zip(row, limits, strict=True)] for row in (*head, rule, *body)],
        tablefmt="plain",
        colalign=tuple(names[letter] for letter in table.align),
        disable_numparse=True,
    )
    for line in text.splitlines():
        yield (indent + line).rstrip()


def _cell(text: str, limit: int) -> str:
    return text if len(text) <= limit else "\n".join(textwrap.wrap(text, limit, break_on_hyphens=False))


def _fitted(widths: list[int], room: int, first: int | None) -> list[int]:
    """Column widths that fit the page: the column that may wrap gives way first, then always the widest."""
    limits = [max(width, 1) for width in widths]
    over = sum(limits) + 2 * (len(limits) - 1) - room
    if over > 0 and first is not None:
        given = min(over, max(limits[first] - NARROWEST, 0))
        limits[first] -= given
        over -= given
    while over > 0 and max(limits) > 1:
        widest = limits.index(max(limits))
        limits[widest] -= 1
        over -= 1
    return limits
