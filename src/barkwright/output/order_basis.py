"""What is estimated, local, ours or a placeholder; and the sources of what was said."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from barkwright.output.blocks import Para, Section, plain
from barkwright.output.flight_dates import other_in_short
from barkwright.output.merging import merged, shape
from barkwright.output.names import tree_names
from barkwright.output.order_hours import working_hours
from barkwright.output.own_words import chosen_ways, rule_lines
from barkwright.output.view import View, site_word
from barkwright.output.words import amount, listing
from barkwright.schedule.paying import short_names
from barkwright.season.doubts import left_out
from barkwright.season.springs import years_read
from barkwright.sources import Source, cite, load_sources
from barkwright.treatment.basis import figures_behind

if TYPE_CHECKING:
    from barkwright.diagnostics import Diagnostic
    from barkwright.sources import Citation
    from barkwright.treatment.bench import Bench


DIGGING = frozenset(("bury", "cover-stump", "destroy-bark-bury"))
MARKS = {"read": "", "secondary": "*", "memory": "**"}


def basis(view: View) -> Section | None:
    """Everything on the order that is not measured, not published or not yours."""
    undated = left_out(view.plan.season)
    entries = list(
        dict.fromkeys(
            (
                *_words(view),
                *_dated(view),
                *working_hours(view),
                *_climate(view),
                *_evidence(view),
                *_estimated(view),
                *_figures(view),
                *_rules(view),
                *note_lines(note for note in view.plan.diagnostics if note.code != "estimated" and note not in undated),
                *view.plan.schedule.notes,
            )
        )
    )
    return (
        Section("What this rests on", (plain([view.units.sentence(entry) for entry in entries]),)) if entries else None
    )


def sources(view: View) -> Section | None:
    """The publications behind the sentences on this order, with the places in them."""
    entries = cited_lines(view.cited, whole=False, places=not view.small)
    if not entries:
        return None
    marks = "* known through another publication; ** from memory, not seen."
    site = site_word(view.made_from)
    text = (
        f"'barkwright why {site} PIECE' shows every rule and number behind one piece; 'barkwright sources' lists all."
    )
    tail = text if site != "SITE" else f"With --save SITE you keep this as a file: {text}"
    return Section("Sources", (Para(" ".join(entries)), Para(f"{marks} {tail}")))


def cited_lines(cited: Iterable[Citation], whole: bool = True, places: bool = True) -> list[str]:
    """One line per publication, alphabetical: who, when, what, and where in it. Not `whole`: without the title."""
    where: dict[str, list[str]] = defaultdict(list)
    for citation in cited:
        if citation.locator not in where[citation.key]:
            where[citation.key].append(citation.locator)
    known = load_sources()
    return [
        _source_line(known[key], [place for place in where[key] if place] if places else None, whole)
        for key in sorted(where)
    ]


def _source_line(source: Source, places: list[str] | None, whole: bool) -> str:
    where = "; ".join(places or ())
    if not whole:
        number = f" ({source.number})" if source.number and places else ""
        return f"{short_author(source.author)} {source.year}{number}{MARKS[source.seen]}{': ' if where else ''}{where}."
    seen = {"read": "", "secondary": ", known through another publication", "memory": ", from memory, not seen"}
    return (
        f"{source.author} {source.year}: {source.title.rstrip('.')}{f' ({where})' if where else ''}{seen[source.seen]}."
    )


def short_author(author: str) -> str:
    """The first author's family name, or an office as it is written."""
    if author == "US Occupational Safety and Health Administration":
        return "OSHA"
    names = author.split(", ")
    if len(names) < 2 or not re.fullmatch(r"(?:[A-Z]\.[ -]?)+", names[1]):
        return author
    return names[0] if len(names) == 2 else f"{names[0]} and others"


def _words(view: View) -> Iterator[str]:
    """Words of the trade that stand on the sheet and not in everybody's mouth."""
    if any(found.brood != "none" for found in view.broods.values()):
        yield "Brood is what grows under the bark, from egg to new beetle; the flight is when the beetles leave it."


def _dated(view: View) -> Iterator[str]:
    """What dates the flights, and what the other rule would say of the first of them."""
    bases = list(dict.fromkeys(flight.basis for flight in view.plan.flights))
    for position, basis in enumerate(bases):
        other = None if position else other_in_short(view.plan.season, view.plan.flights[0])
        yield f"{basis} Beside that, {other}." if other else basis
    yield from _undated(view)


def _undated(view: View) -> Iterator[str]:
    """The years of the record that date no flight, in one sentence: why is for the flight page."""
    if (weather := view.plan.season.weather) is None:
        return
    years = [str(read.year) for read in years_read(weather, view.plan.season.on) if read.left_out]
    if years:
        site = site_word(view.made_from)
        dates = "dates" if len(years) == 1 else "date"
        yield f"Of the years on record {listing(years)} {dates} no flight: 'barkwright flight {site}' says why."


def climate_lines(bench: Bench, ways: Iterable[str]) -> tuple[tuple[str, ...], tuple[Citation, ...]]:
    """What frozen ground and drying rest on where one of these ways digs or splits, and the sources of it."""
    done = {step.do for way in ways for step in bench.template(way).steps}
    digs, splits = bool(done & DIGGING), "split" in done
    if not (digs or splits):
        return (), ()
    from barkwright.season.climatewords import climate_sources, climate_words

    return climate_words(bench.season, digs, splits), climate_sources(bench.season, digs, splits)


def _climate(view: View) -> tuple[str, ...]:
    words, cited = climate_lines(view.plan.bench, [way.id for piece in view.choices if (way := view.way(piece))])
    view.cited.extend(cited)
    return words


def _evidence(view: View) -> Iterator[str]:
    kinds = Counter(view.bases.values())
    said = {
        "published": "on published work",
        "common practice, no source": "on common practice without a source",
        "ours": "on rules of our own",
        "from memory": "on memory, not seen again",
        "placeholder": "on placeholders",
    }
    counts = [f"{kinds[basis]} {text}" for basis, text in said.items() if kinds[basis]]
    if counts:
        yield f"Of the reasons and cautions above, {listing(counts)}."
    margins = sorted({flight.margin_days for flight in view.plan.flights})
    ours = [f"the margin of {listing([str(days) for days in margins], 'or')} days before the first beetles"]
    if view.plan.schedule.infested_before_ft2 > 0:
        ours.append("infested bark counts by how likely beetles are in it")
    if margins:
        yield f"Ours: {'; '.join(ours)}."


def _estimated(view: View) -> Iterator[str]:
    guessed = [stem.tree for stem in view.plan.stems if stem.height_estimated]
    if guessed:
        yield f"Estimated from the diameter: the height of {tree_names(guessed)}. Measure it before anybody fells."
    modelled = [piece for piece in view.pieces.values() if piece.kind == "log" and not piece.measured]
    if modelled:
        logs = amount(len(modelled), "log")
        yield f"Estimated by a stem model: sizes and weights of {logs}, weights cautiously high."


def _figures(view: View) -> Iterator[str]:
    """What prices and hours rest on, by how well it is known; the sources of the published ones go on the list."""
    chosen = [
        (way.id, window.bark) for piece in view.choices if (way := view.way(piece)) and (window := view.window(piece))
    ]
    figures = figures_behind(view.plan.bench, chosen, bool(view.felled))
    if not view.small:
        view.cited.extend(cite(source) for source in figures.sources)
    prices: dict[str, list[str]] = defaultdict(list)
    for line in view.plan.schedule.costs:
        prices[line.basis].append(line.what.partition(", no price")[0])
    unpriced = short_names(prices["placeholder"])
    said = (
        ("Local, read from your own files", figures.local),
        ("Placeholders that nobody published, enter your own", (*unpriced, *figures.placeholders)),
        ("Local rates in the place of prices you did not give", prices["local rate"]),
        ("Published rates in the place of prices you did not give", prices["published proxy"]),
        ("Our own figures, which you can change", prices["ours"]),
    )
    for lead, names in said:
        if names and not (view.small and lead != said[0][0]):  # on a small site the costs say whose figure it is
            yield f"{lead}: {'; '.join(dict.fromkeys(names))}."
    counted = (
        (figures.ours, "our own"),
        (figures.practice, "common practice without a source"),
        (figures.from_memory, "from memory"),
    )
    counts = [f"{len(names)} {word}" for names, word in counted if names]
    if counts:
        more = f", {len(figures.sources)} published" if view.small and figures.sources else ""
        yield f"Of the figures behind the hours, {listing(counts)}{more}: 'barkwright why' shows each."


def _rules(view: View) -> Iterator[str]:
    """The local rules behind what was decided."""
    return rule_lines(chosen_ways(view)[1])


def note_lines(notes: Iterable[Diagnostic]) -> Iterator[str]:
    """Notes of the stages as sentences; what several trees share is said once."""
    groups: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for note in notes:
        subject = note.subject or ""
        message = note.message.replace(subject, "\0") if subject else note.message
        groups[shape(message)].append((message, subject))
    for same in groups.values():
        message = merged([message for message, _ in same]) or same[0][0]
        named = [subject for subject in dict.fromkeys(subject for _, subject in same) if subject]
        if "\0" in message:
            text = message.replace("\0", tree_names(named))
        else:
            text = f"{tree_names(named)}: {message}" if named else message
        yield text[0].upper() + text[1:].rstrip(".") + "."
