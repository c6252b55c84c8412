"""Is the place a place, and do spans, paths and names of the site hold?"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import PurePosixPath, PureWindowsPath

from barkwright.inventory.checks.limits import limits
from barkwright.inventory.model import Span
from barkwright.inventory.nearest import nearest_word
from barkwright.inventory.parts import Parts
from barkwright.inventory.report import Report
from barkwright.yamldoc import Loc

MOST_PATHS = 400  # under weather, and under local; ours
_CURRENCY = {"$": "USD", "us$": "USD", "c$": "CAD", "dollar": "USD", "dollars": "USD", "€": "EUR", "euro": "EUR"}


def check_place(parts: Parts, report: Report) -> None:
    """Coordinates, burn windows, destinations, paths and currency."""
    _coordinates(report)
    _currency(report)
    for key in (("site", "weather"), ("local",)):
        _paths(key, report)
    site = parts.site
    if site is None:
        return
    _stand(parts, report)
    check_spans(("site", "burning", "windows"), site.burning.windows, report)
    check_spans(("site", "ground", "frozen"), site.ground.frozen or (), report)
    windows = [window for window in site.burning.windows if window.first <= window.last]
    if windows and all(window.last < parts.on for window in windows) and site.burning.permit != "refused":
        message = f"every burn window is over on {parts.on}"
        report.warning("expired", ("site", "burning", "windows"), message, "add the next one")
    for number, place in enumerate(site.destinations):
        at: Loc = ("site", "destinations", number)
        if not place.takes:
            report.error("missing-value", (*at, "takes"), "'takes' is an empty list", "say what it takes: [logs]")
        if place.processes_by is not None and place.processes_by < parts.on:
            message = f"processes_by {place.processes_by} is before {parts.on}"
            report.warning("expired", (*at, "processes_by"), message, "ask for the next date")


def check_names(names: Mapping[str, Sequence[str]], report: Report) -> None:
    """Region and ecodivision against the names that are known, by key of the site."""
    for key, known in names.items():
        at: Loc = ("site", key)
        if report.has_key(at) and at not in report.faulty:
            text = report.document.written(at)
            if text not in known:
                near = nearest_word(text, known)
                hint = f"did you mean '{near}'?" if near else f"known: {', '.join(known)}; or leave it out"
                report.error("unknown-name", at, f"{key} '{text}' is not known", hint)


def check_spans(at: Loc, spans: Sequence[Span], report: Report) -> None:
    """No span ends before it begins."""
    for number, span in enumerate(spans):
        if span.last < span.first:
            message = f"to {span.last} is before from {span.first}"
            report.error("span-reversed", (*at, number, "to"), message, "a span runs from its first to its last day")


def _coordinates(report: Report) -> None:
    places = [("site", "latitude"), ("site", "longitude")]
    latitude, longitude = (_number(at, report) for at in places)
    if latitude is None or longitude is None:
        return
    if abs(latitude) > 90 and abs(longitude) <= 90:
        report.found[:] = [one for one in report.found if one.where != report.document.place(places[0])]
        message = f"latitude {latitude:g} and longitude {longitude:g} look swapped"
        hint = f"write latitude: {longitude:g}, longitude: {latitude:g}"
        report.error("coordinates-swapped", places[0], message, hint)
    elif -90 <= latitude < 0:
        message = f"latitude {latitude:g} is south of the equator, where no spruce grows wild"
        report.warning("odd-place", places[0], message, "north is positive")
    elif 0 < longitude <= 180:
        message = f"longitude {longitude:g} is east of Greenwich, where spruce beetle is not known"
        report.warning("odd-place", places[1], message, "west is negative, as in -123.02")


def _stand(parts: Parts, report: Report) -> None:
    at: Loc = ("site", "stand")
    stand = parts.site.stand if parts.site is not None else None
    if stand is None:
        return
    if not stand.model_fields_set:
        hint = (
            "give mean_dbh, basal_area, spruce_in_canopy_percent, place, site_index, what you know; or leave stand out"
        )
        report.warning("missing-value", at, "stand says nothing", hint)
    least = limits().stand_tree_over_in
    if stand.mean_dbh_in is not None and stand.mean_dbh_in <= least:
        over = report.amount(least, "in")
        message = f"mean_dbh {report.amount(stand.mean_dbh_in, 'in')} cannot be: only living spruce over {over} count"
        report.error(
            "out-of-range", (*at, "mean_dbh"), message, f"leave out spruce of {over} and less, and take the mean"
        )


def _number(at: Loc, report: Report) -> float | None:
    value = report.document.node(at).value if report.has_key(at) else None
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None


def _currency(report: Report) -> None:
    at: Loc = ("currency",)
    text = report.document.written(at) if report.has_key(at) else "USD"
    if at not in report.faulty and not re.fullmatch(r"[A-Z]{3}", text):
        meant = _CURRENCY.get(text.casefold()) or (text.upper() if re.fullmatch(r"[a-z]{3}", text) else "USD")
        report.error("bad-value", at, f"currency '{text}' is no code of three letters", f"write {meant}")


def _paths(at: Loc, report: Report) -> None:
    node = report.document.node(at)
    if not report.has_key(at) or not isinstance(node.value, list):
        return
    if len(node.value) > MOST_PATHS:
        hint = "name the folder in which they are, or keep only those that are needed"
        report.error("too-large", at, f"{len(node.value):,} files are named, more than {MOST_PATHS}", hint)
        return
    for number, item in enumerate(node.value):
        problem = _bad_path(item.text) if item.kind == "scalar" and item.value is not None else None
        if problem:
            hint = "put the file beside the inventory or in a folder below it, and write its name from there"
            report.error("bad-path", (*at, number), f"'{item.text}' {problem}", hint)


def _bad_path(text: str) -> str | None:
    if re.match(r"[A-Za-z][A-Za-z0-9+.-]+://", text):
        return "is a web address: nothing is fetched"
    if PurePosixPath(text).is_absolute() or PureWindowsPath(text).anchor or text.startswith("~"):
        return "is not a path from the inventory's own folder"
    if ".." in PurePosixPath(text.replace("\\", "/")).parts:
        return "leads out of the inventory's folder"
    return None if text.strip() else "is empty"
