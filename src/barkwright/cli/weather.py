"""The weather that a site names, or that the command line names in its place: its paths, opened, read, and told of."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from barkwright.cli import files, voice

if TYPE_CHECKING:
    from barkwright.diagnostics import Diagnostic, Place
    from barkwright.inventory.model import Inventory
    from barkwright.yamldoc import Document

OPTION = "--weather"


def with_weather(
    inventory: Inventory, text: str, shown: str, given: Sequence[str]
) -> tuple[Inventory, tuple[Diagnostic, ...]]:
    """The inventory with its weather's paths as they can be opened from here, and what is to be said of the weather.

    given : paths from the command line, which may lie anywhere and stand in for those of the site
    """
    from barkwright.season.weatherfiles.reading import read_weather

    if given:
        paths = tuple(given)
    else:
        folder = "" if shown == files.STDIN else os.path.dirname(shown)
        stray = tuple(_strays(inventory, folder, text, shown))
        if stray:
            return inventory, stray
        paths = tuple(os.path.join(folder, path) for path in inventory.site.weather)
    site = inventory.site.model_copy(update={"weather": paths})
    reading = read_weather(paths, site.weather_units, site.weather_station)
    found = reading.diagnostics if reading.weather is None else reading.weather.notes
    if reading.weather is not None:
        files.protect(reading.weather.files)
        voice.tell(f"read the weather: {len(reading.weather.days):,} days from {', '.join(reading.weather.files)}")
    found = tuple(one if one.where else _placed(one, paths, text, shown, bool(given)) for one in found)
    return inventory.model_copy(update={"site": site}), found


def _strays(inventory: Inventory, folder: str, text: str, shown: str) -> Iterator[Diagnostic]:
    """Paths that are links, or folders that hold links, out of the inventory's folder."""
    from barkwright.diagnostics import Diagnostic

    home = os.path.realpath(folder or ".")
    for number, path in enumerate(inventory.site.weather):
        for one in (path, *_links(os.path.join(home, path), path)):
            real = os.path.realpath(os.path.join(home, one))
            if os.path.commonpath([home, real]) != home:
                where = _place(text, shown, ("site", "weather", number))
                message = f"weather: '{one}' is a link that leads out of the inventory's folder"
                hint = f"put the file itself beside the inventory, or name it with {OPTION}"
                yield Diagnostic("error", "bad-path", message, where, value=one, hint=hint)


def _links(opened: str, path: str) -> Sequence[str]:
    try:
        with os.scandir(opened) as entries:
            return sorted(os.path.join(path, entry.name) for entry in entries if _is_stray(entry))
    except OSError:
        return ()


def _is_stray(entry: os.DirEntry[str]) -> bool:
    return entry.is_symlink() and entry.name.casefold().endswith(".csv")


def _placed(one: Diagnostic, paths: Sequence[str], text: str, shown: str, given: bool) -> Diagnostic:
    """A fault that is about no file's content, put where its cause is written."""
    if one.code == "weather-which" and one.value is not None:
        return replace(one, where=_place(text, shown, ("site", "weather_station")))
    if given:
        return replace(one, subject=OPTION, hint=_look(one.value or "") if one.code == "unreadable" else one.hint)
    number = paths.index(one.value) if one.value in paths else 0
    return replace(one, where=_place(text, shown, ("site", "weather", number)))


def _look(path: str) -> str:
    """What to look at where a path from the command line cannot be read."""
    if path == "-" or "://" in path:
        return "name files or folders of this computer: nothing is fetched, and nothing read from standard input"
    return "check the name"


def _place(text: str, shown: str, at: tuple[str | int, ...]) -> Place:
    from barkwright.diagnostics import Place

    document = _document(text, shown)
    return document.place(at) if document else Place(shown, 1, 1)


@cache
def _document(text: str, shown: str) -> Document | None:
    """The site's file, read once for all that is wrong with its weather."""
    from barkwright.yamldoc import read_document

    return read_document(text, shown)[0]


def beside(given: Sequence[str], save: str) -> tuple[tuple[str, ...], tuple[Diagnostic, ...]]:
    """Paths from the command line as a file saved at `save` may name them; a warning where one lies elsewhere."""
    from barkwright.diagnostics import Diagnostic

    home = os.path.realpath(os.path.dirname(save) or ".")
    paths = tuple(os.path.relpath(os.path.realpath(path), home) for path in given)
    if not any(path.startswith("..") or os.path.isabs(path) for path in paths):
        return paths, ()
    message = "the saved inventory does not name the weather, which lies outside its folder"
    hint = f"put the weather beside it, or give {OPTION} to each command"
    return (), (Diagnostic("warning", "bad-path", message, subject=OPTION, hint=hint),)
