"""How each method on the order is done, and how sure that is: the reasons of the ways that were chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Para, Section, plain
from barkwright.output.merging import dates, merged, shape
from barkwright.output.view import View

if TYPE_CHECKING:
    from barkwright.sources import Reason
    from barkwright.treatment.ways import Way

METHODS = {
    "chip": "Chip", "debark": "Strip the bark", "score": "Score the bark", "burn": "Burn", "bury": "Bury",
    "split": "Split for firewood", "haul": "Haul away", "leave": "Leave",
}  # fmt: skip
GRADES = "How sure: A tested on spruce beetle, B on a related insect or wood in general, C common practice or ours."


def how_it_is_done(view: View) -> Section | None:
    """The reasons of the chosen ways by method, each sentence once, with its grade."""
    found: dict[str, dict[str, dict[int, Reason]]] = {}  # like pieces share their reasons: each of them once
    asked = {rule.id for rule in view.plan.bench.book.rules if rule.needs}  # stands among the questions or the calls
    for piece in view.choices:
        way, window = view.way(piece), view.window(piece)
        if way is None or window is None or (way.method == "leave" and view.broods[piece].brood == "none"):
            continue
        for reason in window.reasons:
            if reason.rule in asked:
                continue
            found.setdefault(_heading(way), {}).setdefault(reason.rule, {})[id(reason)] = reason
    if not found:
        return None
    seen: set[str] = set()
    cards = [
        Card(heading, (plain(_new([reason_words(view, list(same.values())) for same in rules.values()], seen)),))
        for heading, rules in sorted(found.items(), key=lambda entry: list(METHODS.values()).index(entry[0]))
    ]
    return Section("How it is done", (Para(GRADES), *cards))


def _new(said: list[str], seen: set[str]) -> list[str]:
    """What has not been said under a method before."""
    fresh = [text for text in said if text not in seen]
    seen.update(fresh)
    return fresh


def _heading(way: Way) -> str:
    return METHODS[way.method]


def reason_words(view: View, reasons: list[Reason]) -> str:
    """What one rule says of several pieces, with its grade: in one sentence where only amounts differ."""
    for reason in reasons:
        view.say(reason)
    texts = list(dict.fromkeys(view.units.sentence(reason.because) for reason in reasons))
    text = merged(texts) or " ".join(_apart(texts))
    local = ", local rule" if reasons[0].local else ""
    return f"{text} ({reasons[0].grade}{local})"


def _apart(texts: list[str]) -> list[str]:
    """Those that say something else than the others; of what differs in amounts alone, one sentence."""
    groups: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for text in texts:
        groups.setdefault((shape(text), dates(text)), []).append(text)
    return [merged(same) or same[0] for same in groups.values()]
