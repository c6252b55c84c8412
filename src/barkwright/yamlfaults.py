"""YAML that cannot be parsed: what is wrong, said for people who do not know YAML, at the line that is wrong."""

from __future__ import annotations

import re
from typing import Any

from barkwright.diagnostics import Diagnostic, Place

BREAK = re.compile(r"\r\n|\r|\n")
_TIGHT = re.compile(r"(\s*(?:- )?[\w-]+):(?=[^\s])")
_BLANKS = "put the same number of blanks before keys of the same part"


def syntax_fault(error: Any, text: str, file: str) -> Diagnostic:
    """The one diagnostic for a parser's error: `error` is PyYAML's, with its marks."""
    lines = BREAK.split(text)
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    start = getattr(error, "context_mark", None)
    problem = str(getattr(error, "problem", None) or "")
    row, column = (min(mark.line, len(lines) - 1), mark.column) if mark else (0, 0)
    begin = (start.line, start.column) if start else (row, column)
    row, column, message, hint = _explain(problem, str(getattr(error, "context", "")), lines, (row, column), begin)
    return Diagnostic("error", "not-yaml", message, Place(file, row + 1, column + 1), hint=hint)


def _explain(
    problem: str, context: str, lines: list[str], at: tuple[int, int], begin: tuple[int, int]
) -> tuple[int, int, str, str]:
    row, column = at
    line = lines[row]
    letter = line[column : column + 1]
    for near in (row, max(row - 1, 0)):
        blank = lines[near][: len(lines[near]) - len(lines[near].lstrip())]
        if "\t" in blank:
            return near, blank.index("\t"), "a tab stands before the text", "put blanks instead of the tab"
        if "\xa0" in blank:
            return near, blank.index("\xa0"), "a no-break space stands before the text", "put plain blanks instead"
    if "cannot start any token" in problem:
        return row, column, f"a value cannot begin with {letter or 'this'}", "put the value in single quotes"
    if "could not find expected ':'" in problem:
        return _no_colon(lines, begin[0])
    if "quoted scalar" in context and "escape" not in problem:
        return *begin, "the quote that opens here never closes", "close it, or put the value in single quotes"
    if "escape" in problem:
        return row, column, "a backslash in double quotes means something else", "put the value in single quotes"
    if "flow" in context or "node content" in problem:
        return _brackets(lines, at, begin)
    if "mapping values are not allowed" in problem:
        return _second_colon(lines, row, column)
    if letter in ("]", "}"):
        return row, column, f"{letter} closes a bracket that was never opened", "delete it"
    if "alphabetic or numeric" in problem:
        return row, column, "a value cannot begin with * or &", "put the value in single quotes"
    return _block(problem, lines, at, begin)


def _block(problem: str, lines: list[str], at: tuple[int, int], begin: tuple[int, int]) -> tuple[int, int, str, str]:
    row, column = at
    line = lines[row]
    above = _above(lines, row)
    if above is not None and _no_key(lines[above]) and lines[above].strip() != "...":
        return _no_colon(lines, above)
    if "document start" in problem:
        return row, column, "text after the end of the document", "delete the line with ... above it"
    if line[:column].rstrip().endswith(("'", '"')):
        odd = _odd_quote(lines[:row], line[:column].rstrip()[-1])
        if odd:
            return *odd, "the quote that opens here does not close in its line", "close it, or leave it out"
        hint = "put the whole value in single quotes, and write '' for each ' in it"
        return row, column, "there is text after the closing quote", hint
    if not line.strip() or row == begin[0]:
        return row, column, "this line is no 'key: value' and no '- entry'", "check this line and the one before"
    if re.match(r"\s*-[^\s-]", line):
        return row, column, "there is no blank after the dash", f"write '- {line.strip()[1:]}'"
    if line.lstrip().startswith("-") != lines[begin[0]][begin[1] :].startswith("-"):
        return row, column, "a list entry and a key stand side by side", _BLANKS
    if re.search(r":(\s|$)", line) or line.lstrip().startswith("-"):
        start = len(line) - len(line.lstrip())
        message = f"this line begins in column {start + 1}, its neighbours in column {begin[1] + 1}"
        return row, start, message, _BLANKS
    return row, column, "this line is no 'key: value' and no '- entry'", "check this line and the one before"


def _brackets(lines: list[str], at: tuple[int, int], begin: tuple[int, int]) -> tuple[int, int, str, str]:
    opening = lines[begin[0]][begin[1] : begin[1] + 1] if begin[0] < len(lines) else ""
    if not opening and (unclosed := _last_unclosed(lines)):
        begin, opening = unclosed, lines[unclosed[0]][unclosed[1]]
    if opening not in ("[", "{"):
        return *at, "a value is missing here", "write the value, or delete the line"
    if at[0] == begin[0]:
        return *at, f"a comma is missing here, or a wrong bracket closes {opening}", "check the commas and brackets"
    return *begin, f"the {opening} that opens here does not close, or a comma is missing after it", "close the bracket"


def _above(lines: list[str], row: int) -> int | None:
    return next((n for n in range(row - 1, -1, -1) if lines[n].split("#")[0].strip()), None)


def _no_key(line: str) -> bool:
    code = line.split(" #")[0]
    return not code.strip().startswith("- ") and (bool(_TIGHT.match(code)) or not re.search(r":(\s|$)", code))


def _no_colon(lines: list[str], row: int) -> tuple[int, int, str, str]:
    line = lines[row].split(" #")[0].rstrip()
    tight = _TIGHT.match(line)
    if tight:
        return row, tight.end(), "there is no blank after the colon", f"write '{tight.group(1).strip()}: '"
    start = len(line) - len(line.lstrip())
    return row, start, "there is no colon after the key", f"write '{line.strip()}:'"


def _odd_quote(lines: list[str], quote: str) -> tuple[int, int] | None:
    for row, line in enumerate(lines):
        opened = re.search(rf"[\s\[{{:,]({quote})", line.split(" #")[0])
        if opened and line.split(" #")[0].count(quote) % 2:
            return row, opened.start(1)
    return None


def _last_unclosed(lines: list[str]) -> tuple[int, int] | None:
    opened: list[tuple[int, int]] = []
    for row, line in enumerate(lines):
        for column, letter in enumerate(line):
            if letter in "[{":
                opened.append((row, column))
            elif letter in "]}" and opened:
                opened.pop()
    return opened[-1] if opened else None


def _second_colon(lines: list[str], row: int, column: int) -> tuple[int, int, str, str]:
    line = lines[row]
    indent = len(line) - len(line.lstrip())
    above = _above(lines, row)
    first_colon = re.search(r":(\s|$)", line)
    if first_colon and first_colon.start() < column:
        return row, column, "there is a second colon in this line", "put the value in single quotes"
    if above is not None:
        before = lines[above]
        if _no_key(before):
            return _no_colon(lines, above)
        if indent > len(before) - len(before.lstrip()):
            message = "this line is indented deeper than the one before it, which has its value already"
            return row, indent, message, _BLANKS
    return row, column, "there is a colon that does not belong here", "put the value in single quotes"
