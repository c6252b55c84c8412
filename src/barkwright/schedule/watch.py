"""The watch: what a long search tells whoever waits for it, and how he stops it."""

from __future__ import annotations


class Watch:
    """Nobody watches. A command line overrides `tell`, and sets `stop` when the user has had enough."""

    stop = False

    def tell(self, doing: str) -> None:
        """Say what is being done."""
