"""The stand rating in words: what each number is worth, which class that gives, and how well the rating is known."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.brood.stand import rate_stand
from barkwright.brood.stand_rating import rating_book
from barkwright.output.blocks import Para, Table, plain
from barkwright.output.names import spruce
from barkwright.output.words import listing
from barkwright.units import convert, half_up

if TYPE_CHECKING:
    from barkwright.brood.stand import StandRating, StandRow
    from barkwright.inventory.model import Inventory, Stand
    from barkwright.output.blocks import Block
    from barkwright.output.measures import Units

LABELS = {
    "mean_dbh": "Mean diameter of the spruce",
    "basal_area": "Basal area",
    "spruce_in_canopy": "Spruce in the canopy",
    "site": "Place",
}
KNOWN = {"read": "read", "secondary": "through another publication", "from memory": "from memory"}
MADE_FOR = "engelmann"


def stand_blocks(inventory: Inventory, units: Units) -> tuple[Block, ...]:
    """The rating of the site's stand; nothing where the site gives no numbers for it."""
    stand = inventory.site.stand
    rating = rate_stand(stand)
    if stand is None or rating is None:
        return ()
    rows = tuple(_row(row, stand, units) for row in rating.rows)
    table = Table(("Row", "Here", "Points", "How well the row is known"), rows, "llll", wrap=3)
    return Para(_class(rating)), table, plain(list(_notes(rating, stand, inventory, units)))


def _class(rating: StandRating) -> str:
    scale = "points on a scale from 4 to 12"
    if rating.low == rating.high:
        return f"Risk class of this stand by a published rating: {rating.classes[0]}, with {rating.low} {scale}."
    names = [LABELS[row.name].lower() for row in rating.rows if row.low != row.high]
    open_ = f"the row{'s' if len(names) > 1 else ''} {listing(names)} {'are' if len(names) > 1 else 'is'} open"
    classes = f"between {rating.classes[0]} and {rating.classes[-1]}"
    if len(rating.classes) == 1:
        classes = f"{rating.classes[0]} in any case"
    points = f"{rating.low} to {rating.high} {scale}, because {open_}"
    return f"Risk class of this stand by a published rating: {classes}, with {points}."


def _row(row: StandRow, stand: Stand, units: Units) -> tuple[str, str, str, str]:
    book = rating_book()
    known = book.site.known if row.name == "site" else book.rows[row.name].known
    points = str(row.low) if row.low == row.high else f"{row.low} to {row.high}"
    return LABELS[row.name], _value(row, stand, units) if row.given else "not given", points, KNOWN[known]


def _value(row: StandRow, stand: Stand, units: Units) -> str:
    """The number of a row to a tenth, as it is compared."""
    if row.name == "mean_dbh":
        return _shown(stand.mean_dbh_in, "in", "cm", units)
    if row.name == "basal_area":
        return _shown(stand.basal_area_ft2_per_ac, "ft2/ac", "m2/ha", units)
    if row.name == "spruce_in_canopy":
        return f"{stand.spruce_in_canopy_percent:g} %"
    place = {None: [], "creek-bottom": ["creek bottom"], "elsewhere": ["not in a creek bottom"]}[stand.place]
    index = stand.site_index_ft
    return ", ".join([*place, *([] if index is None else [f"site index {_shown(index, 'ft', 'm', units)}"])])


def _shown(value: float | None, unit: str, metric: str, units: Units) -> str:
    assert value is not None
    shown = half_up(convert(value, unit, metric) if units.metric else value, 1)
    return f"{float(shown):g} {metric if units.metric else unit}".replace("ft2/ac", "sq ft/ac")


def _notes(rating: StandRating, stand: Stand, inventory: Inventory, units: Units) -> Iterator[str]:
    yield (
        "It rates the stand, not a tree. No classes were published for fewer than four rows: a row that is open can be "
        "worth 1 to 3 points. The names of the classes are from memory, their source was not seen."
    )
    species = [one for one in dict.fromkeys(tree.species for tree in inventory.trees) if one != MADE_FOR]
    if species:
        names = listing([spruce(one) for one in species])
        yield f"It was made for {spruce(MADE_FOR)}, and we know of no test of it for {names}: take it as a hint."
    if {"white", "lutz"} & set(species):
        yield "For white and Lutz spruce there is another rating, whose limits we could not see."
    if stand.mean_dbh_in is not None:
        yield f"The mean diameter counts living spruce over {units.inches(10)} and no others."
    if rating.index_outside:
        site = rating_book().site
        low, high = (_shown(one, "ft", "m", units) for one in (site.least, site.most))
        yield f"The rows hold site indexes from {low} to {high}: yours lies outside, so nothing is taken from it."
    if rating.outbreak_likelier:
        area = _shown(rating_book().outbreak.basal_area, "ft2/ac", "m2/ha", units)
        yield (
            f"Another paper found that outbreaks become likelier from a basal area of large spruce of {area} on; your "
            "figure is that of all trees."
        )
