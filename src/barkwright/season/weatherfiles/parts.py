"""What the files hold that some paths name: one part per file, those left out, and errors."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from barkwright.diagnostics import Diagnostic, Place
from barkwright.season.weatherfiles.limits import limits
from barkwright.season.weatherfiles.opening import Source, content_of
from barkwright.season.weatherfiles.part import Part
from barkwright.season.weatherfiles.recognise import read_part


def parts_of(sources: Sequence[Source], units: str | None) -> tuple[list[Part], list[Diagnostic], list[Diagnostic]]:
    """What each file holds; notes on files of a folder that are left out; errors."""
    parts: list[Part] = []
    notes: list[Diagnostic] = []
    errors: list[Diagnostic] = []
    left, lines_left = limits().most_bytes_in_all, limits().most_lines_in_all
    for source in sources:
        content, fault = content_of(source, left)
        if fault is not None:
            errors.append(fault)
            continue
        left -= len(content)
        lines_left -= max(content.count(b"\n"), content.count(b"\r"))
        if lines_left < 0:
            errors.append(_too_long(source.path))
            break
        part = read_part(content, source.path, units)
        if not part.errors:
            parts.append(part)
        elif source.in_folder and (part.kind == "" or part.errors[0].code == "empty"):
            notes.append(_left_out(part))
        else:
            errors += part.errors
    if not parts and not errors:
        errors.append(replace(notes[0], severity="error"))
    return parts, notes, errors


def _too_long(path: str) -> Diagnostic:
    message = f"the weather files have more than {limits().most_lines_in_all:,} lines together"
    return Diagnostic("error", "too-large", message, Place(path, 1, 1), hint="keep only the station's own rows")


def _left_out(part: Part) -> Diagnostic:
    error = part.errors[0]
    return replace(error, severity="warning", message=f"{error.message}; the file is left out")
