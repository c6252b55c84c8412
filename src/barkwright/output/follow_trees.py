"""Which living spruce to look at: those of the list, and those around the work that are not on it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.brood.neighbours import ORDER
from barkwright.brood.numbers import FOLLOW
from barkwright.output.blocks import Card, Items, Para, plain
from barkwright.output.follow_words import Saying, follow_book
from barkwright.output.names import tree_names
from barkwright.output.order_basis import short_author
from barkwright.sources import load_sources
from barkwright.units import FT_PER_M, half_up

if TYPE_CHECKING:
    from barkwright.output.follow_facts import Gathered
    from barkwright.output.measures import Units

FT_PER_MILE = 5280
ROUNDED_FROM_FT = 100  # distances in feet from here on are told in tens; ours
NAMED = 12  # so many trees of one kind are named with their sizes; of more, the ids alone
GROUPS = {
    "down": "Green and lying, which beetles take first",
    "hit-before": "Attacked before on one side or without success, and often attacked again",
    "large": "Large, {large} and more",
    "medium": "From {small} to {large}",
    "size-unknown": "Of unknown size",
    "small": "Under {small}, seldom attacked",
}


def distances_ft() -> dict[str, float]:
    """The distances to look out to, by name [ft]."""
    return {
        "near": FOLLOW["near_m"] * FT_PER_M,
        "survey": FOLLOW["survey_m"] * FT_PER_M,
        "walk": FOLLOW["walk_miles"] * FT_PER_MILE,
    }


def tree_blocks(found: Gathered, units: Units) -> Iterator[Card]:
    """The trees of the list by how likely they are attacked, those around, and which come first."""
    yield Card("On your list, the likeliest first", (_on_the_list(found, units),))
    yield Card("Not on your list", (Para(_around(found, units)), _distances(units)))
    large = whole_inches("large_in", units)
    yield Card("Of those, first", (plain([one.text.format(large=large) for one in follow_book().which]),))


def whole_inches(name: str, units: Units) -> str:
    """A diameter of the follow-up's figures: 16 in, or in cm."""
    return units.inches(FOLLOW[name]) if units.metric else f"{FOLLOW[name]:g} in"


def _on_the_list(found: Gathered, units: Units) -> Items | Para:
    if not found.watched:
        return Para(
            "No living spruce is on your list. Add those that stand near with attacked: never, and the next sheet "
            "names them in order."
        )
    sizes = {name: whole_inches(f"{name}_in", units) for name in ("large", "small")}
    lines = []
    for why in ORDER:
        group = [one for one in found.watched if one.why == why]
        if not group:
            continue
        sized = len(group) <= NAMED
        names = [
            one.tree
            + (f" ({units.inches(one.dbh_in)})" if sized and one.dbh_in is not None else "")
            + (", until it is taken down" if one.to_go and one.why != "down" else "")
            for one in group
        ]
        shown = "; ".join(names) if sized else tree_names(one.tree for one in group)
        lines.append(f"{GROUPS[why].format(**sizes)}: {shown}.")
    return plain(lines)


def _around(found: Gathered, units: Units) -> str:
    trees = tree_names(tree.id for tree in found.plan.tally.inventory.trees)
    spots = f"Look round the spot where the wood is worked, each pile, stack and stump, and each of {trees}."
    return f"{spots} {_nearest(found, units)}"


def _nearest(found: Gathered, units: Units) -> str:
    nearest = found.plan.tally.inventory.site.nearest_live_spruce_ft
    if nearest == "none":
        return "You wrote that no living spruce is near: see whether that still holds, out to the distances below."
    if nearest == "unknown":
        return "How far the nearest living spruce stands is not written down (nearest_live_spruce): begin with it."
    assert not isinstance(nearest, str)
    far = distances_ft()
    said = f"You wrote that the nearest living spruce stands {_paced(nearest, units)} from the work"
    if nearest <= far["survey"]:
        return f"{said}: begin there."
    if nearest <= far["walk"]:
        return f"{said}, farther than {_shown('survey', units)}: begin there all the same."
    return f"{said}, farther than {_shown('walk', units)}: a look at the first trees there is enough."


def _paced(feet: float, units: Units) -> str:
    """A distance that somebody paced or measured, in whole feet or metres."""
    return f"{half_up(feet / FT_PER_M):,} m" if units.metric else f"{half_up(feet):,} ft"


def _shown(name: str, units: Units) -> str:
    """A distance as its reader says it: the source's own figure in its own units, rounded in the other."""
    if name == "walk":
        return "0.4 km" if units.metric else "a quarter mile"
    metres = FOLLOW[f"{name}_m"]
    if units.metric:
        return f"{metres:g} m"
    feet = metres * FT_PER_M
    return f"{half_up(feet, -1):f} ft" if feet > ROUNDED_FROM_FT else f"{half_up(feet)} ft"


def _distances(units: Units) -> Items:
    book = follow_book()
    lines = [f"Out to {_shown(one.to, units)}, {one.text} ({evidence(one)})." for one in book.around]
    return plain([*lines, f"{units.sentence(book.no_safe_distance.text)} ({evidence(book.no_safe_distance)})"])


def evidence(saying: Saying) -> str:
    """How well something is known, in a few letters: A, Hansen and others 2006."""
    known = load_sources()
    names = [f"{short_author(known[cited.key].author)} {known[cited.key].year}" for cited in saying.citations]
    return ", ".join((saying.grade, *(names or [saying.basis])))
