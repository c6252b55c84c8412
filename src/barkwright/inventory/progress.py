"""What the journal adds to an inventory: work that is done. No key of the inventory file holds it."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright.inventory.part import Record

BarkEnd = Literal["lying", "burnt", "buried", "chipped", "hauled"]


class Finished(Record):
    """One piece that has been treated, or on which work has begun."""

    piece: str
    method: str  # of the inventory's methods
    on: date  # the day on which it was done
    way: str | None = None  # id of the way, where the order that was worked by is known
    bark: BarkEnd | None = None  # what became of stripped bark; None: nobody said
    left: str | None = None  # what is still to be done, in the user's words
    by: str | None = None
    entry: int = 0  # number of the journal's entry
