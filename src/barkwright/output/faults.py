"""Diagnostics as text: file:line:column, what is wrong, the line it stands in, and what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barkwright.diagnostics import Diagnostic
from barkwright.output.names import printable, shortened

MOST = 20  # diagnostics shown at once; ours


def diagnostic_lines(found: Sequence[Diagnostic], text: str = "") -> Iterator[tuple[str, str]]:
    """(severity, line) for each line to print; the lines of a hint or a source line have severity ''."""
    source = text.splitlines()
    for diagnostic in found[:MOST]:
        where = f"{diagnostic.where}: " if diagnostic.where else f"{diagnostic.subject}: " if diagnostic.subject else ""
        line = f"{where}{diagnostic.severity}: {shortened(diagnostic.message)} [{diagnostic.code}]"
        yield diagnostic.severity, printable(line.replace("\n", "\\n"))
        if diagnostic.where and 0 < diagnostic.where.line <= len(source):
            line = printable(source[diagnostic.where.line - 1].replace("\t", " "))
            start = max(0, diagnostic.where.column - 60)
            yield "", f"    {line[start : start + 90]}"
            yield "", "    " + " " * (diagnostic.where.column - 1 - start) + "^"
        if diagnostic.hint:
            yield "", f"    hint: {printable(shortened(diagnostic.hint))}"
    if len(found) > MOST:
        yield "", f"and {len(found) - MOST} more"
