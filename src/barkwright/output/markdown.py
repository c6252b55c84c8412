"""Pages as Markdown: headings, lists and pipe tables that any reader of it shows; whatever the file says stays text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from barkwright.output.blocks import Block, Card, Facts, Items, Page, Para, Picture, Section, Table
from barkwright.output.names import printable

_MARKS = re.compile(r"([\\`*_\[\]|~#])")
_OPENS = re.compile(r"^(\s*)([-+]|\d+[.)])(?=\s)")  # what would begin a list


def render(page: Page) -> str:
    """The page as Markdown, ending in one newline."""
    lines = [f"# {said(page.title)}", "", said(page.subtitle), ""]
    for section in page.sections:
        lines += _section(section)
    return re.sub(r"\n{3,}", "\n\n", "\n".join(lines)).rstrip("\n") + "\n"


def said(text: str) -> str:
    """Words in one line whose signs mean nothing to a reader of Markdown."""
    shown = _MARKS.sub(r"\\\1", printable(text).replace("\n", " "))
    shown = shown.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return _OPENS.sub(lambda found: f"{found[1]}{found[2][:-1]}\\{found[2][-1]}", shown)


def _section(section: Section) -> Iterator[str]:
    yield from (f"## {said(section.heading)}", "")
    for block in section.blocks:
        if isinstance(block, Card):
            yield from (f"### {said(block.title)}", "")
            for inner in block.blocks:
                yield from (*_block(inner), "")
        else:
            yield from (*_block(block), "")


def _block(block: Block) -> Iterable[str]:
    if isinstance(block, Para):
        return (said(block.text),)
    if isinstance(block, Items):
        return _items(block)
    if isinstance(block, Facts):
        return (f"- **{said(name)}:** {said(value)}" for name, value in block.pairs)
    if isinstance(block, Table):
        return _table(block)
    if isinstance(block, Picture):
        return () if block.screen_only else (*_fenced(block.lines), "", said(block.alt))
    return _fenced(block.lines)


def _items(items: Items) -> Iterator[str]:
    for number, (text, under) in enumerate(items.entries, 1):
        mark = {"1.": f"{number}.", "[ ]": "- [ ]"}.get(items.mark, "-")
        yield f"{mark} {said(text)}"
        for line in under:
            inner = line.removeprefix("- ")
            yield f"{' ' * (len(mark.partition(' ')[0]) + 1)}- {said(inner)}"


def _table(table: Table) -> Iterator[str]:
    if not table.rows:
        return
    rule = {"l": ":--", "r": "--:", "c": ":-:"}
    yield _row(table.head)
    yield "|" + "|".join(rule[letter] for letter in table.align) + "|"
    for row in table.rows:
        yield _row(row)


def _row(cells: Iterable[str]) -> str:
    return "| " + " | ".join(said(cell) for cell in cells) + " |"


def _fenced(lines: Iterable[str]) -> tuple[str, ...]:
    held = [printable(line) for line in lines]
    longest = max((len(found) for line in held for found in re.findall("`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    return (fence, *held, fence)
