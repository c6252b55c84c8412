"""The stand rating as plain data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.brood.stand import rate_stand
from barkwright.brood.stand_rating import rating_book
from barkwright.output.json_basics import cited
from barkwright.output.json_stand import StandRecord

if TYPE_CHECKING:
    from barkwright.inventory.model import Stand


def stand_record(stand: Stand | None) -> StandRecord | None:
    """The rating with each row; None where the site gives no numbers for it."""
    rating, book = rate_stand(stand), rating_book()
    if rating is None:
        return None
    known = {name: row.known for name, row in book.rows.items()} | {"site": book.site.known}
    return {
        "rows": [
            {
                "row": row.name,
                "given": row.given,
                "points_low": row.low,
                "points_high": row.high,
                "known": known[row.name],
            }
            for row in rating.rows
        ],
        "points_low": rating.low,
        "points_high": rating.high,
        "classes": list(rating.classes),
        "classes_known": "from memory",
        "site_index_outside": rating.index_outside,
        "outbreak_likelier": rating.outbreak_likelier,
        "sources": cited(rating.citations),
    }
