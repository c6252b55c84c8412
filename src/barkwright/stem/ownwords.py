"""What of one tree's sizes rests on the user's own figures, in words."""

from __future__ import annotations

from barkwright.diagnostics import Diagnostic
from barkwright.stem.tables import SpeciesFacts

NAMES = {
    "wood_sg": "density of the wood",
    "wood_mc": "moisture of the green wood",
    "bark_sg": "density of the bark",
    "bark_mc": "moisture of the green bark",
    "bark_percent": "share of bark",
    "bark_factor": "bark factor",
    "height": "curve of height from diameter",
}
HEIGHT = NAMES["height"]


def own_words(facts: SpeciesFacts, height_estimated: bool) -> tuple[str, ...]:
    """The figures of the user's own that a tree's sizes rest on: the height curve only where a height is estimated."""
    return tuple(NAMES[key] for key in facts.own if key != "height" or height_estimated)


def own_note(facts: SpeciesFacts, words: tuple[str, ...], tree: str) -> Diagnostic | None:
    """That they are local, and what they rest on; None where there are none."""
    if not words:
        return None
    named = " and ".join((", ".join(words[:-1]), words[-1])) if len(words) > 1 else words[0]
    verb = "are" if len(words) > 1 else "is"
    message = f"its {named} {verb} local, resting on: {facts.own_source}"
    return Diagnostic("note", "local", message, subject=tree, hint="sizes and weights change with it")


def own_basis(facts: SpeciesFacts, words: tuple[str, ...]) -> tuple[str, ...]:
    """The same as one entry of what a tree's sizes rest on."""
    return (f"local {', '.join(words)} ({facts.own_source})",) if words else ()
