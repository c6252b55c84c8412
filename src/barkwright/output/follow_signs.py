"""What to look for and how, and what to do with what is found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.brood.look import look_book
from barkwright.brood.numbers import FOLLOW
from barkwright.output.blocks import Items, Para, plain
from barkwright.output.follow_words import follow_book
from barkwright.output.view import site_word
from barkwright.season.flight import flight_year
from barkwright.season.year import MONTHS

if TYPE_CHECKING:
    from barkwright.output.follow_facts import Gathered
    from barkwright.output.measures import Units

DAYS_PER_MONTH = 30.44


def sign_items(found: Gathered, units: Units) -> Items:
    """The signs, with the months in which the crown of a tree attacked by this flight changes."""
    months = crown_months(found)
    return plain([units.sentence(one.text).format(**months) for one in follow_book().signs])


def crown_months(found: Gathered) -> dict[str, str]:
    """When the crown of a tree that this flight attacked changes, counted from the day on which half are out."""
    year = found.follow.year
    half = flight_year(found.plan.season, year).half
    return {
        "year": str(year),
        "green": _month(half, "green_months"),
        "distress": _month(half, "distress_months"),
        "needles": f"{_month(half, 'needles_from_months')} to {_month(half, 'needles_to_months')}",
    }


def _month(start: date, name: str) -> str:
    when = start + timedelta(days=FOLLOW[name] * DAYS_PER_MONTH)
    return f"{MONTHS[when.month - 1]} {when.year}"


def how_block(units: Units) -> Para:
    """How to look, and where the windows in the bark are cut."""
    return Para(units.sentence(follow_book().how.text.format(where=look_book().where.standing)))


def found_items(found: Gathered, made_from: str, units: Units) -> Items:
    """What to do with a tree on which a sign was seen, with the commands to type."""
    return plain([units.sentence(follow_book().found.text), *_written(found, made_from)])


def _written(found: Gathered, made_from: str) -> Iterator[str]:
    inventory, file, follow = found.plan.tally.inventory, site_word(made_from), found.follow
    species = Counter(tree.species for tree in inventory.trees).most_common(1)[0][0]
    metric = inventory.site.units == "metric"
    looked = [look.flight for look in follow.looks if look.kind != "year-after"]
    year = looked[0] if looked else follow.year
    yield (
        f"Write it under trees: in {file}, with your own numbers, the girth in {'cm' if metric else 'inches'}: "
        f"{{id: N1, species: {species}, girth: {110 if metric else 44}, attacked: {year}}}. The year is that of the "
        "flight after which you look."
    )
    yield f"Then 'barkwright order {file}' says what to do with it, and by when."
    place = f"--latitude {inventory.site.latitude:g} --longitude {inventory.site.longitude:g}"
    yield f"Many trees: write them in a table, and 'barkwright new --from TABLE.csv {place}' makes a list of them."
