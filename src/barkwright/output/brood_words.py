"""What lives in a piece, in a few words: the same on every sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from barkwright.brood.finding import PieceBrood

STAGE = {"larvae": "larvae", "adults": "grown beetles", "unknown": "stage not known"}
BROOD = {"likely": "beetles likely", "possible": "beetles possible", "none": "no beetles expected"}


def brood_words(found: PieceBrood) -> str:
    """What lives in a piece in a few words: beetles likely, larvae, flying in 2027."""
    if found.host and any(reason.rule == "host-to-fell" for reason in found.reasons):
        return f"no beetles, but green: once it is down the flight of {found.flight_to_beat} would take it"
    if found.host:
        return f"no beetles yet, but green and down: the flight of {found.flight_to_beat} would take it"
    words = [BROOD[found.brood]]
    if found.stage is not None and found.brood != "none":
        words.append(STAGE[found.stage])
    if found.flight_to_beat is not None:
        words.append(f"flying in {found.flight_to_beat}")
    return ", ".join(words)
