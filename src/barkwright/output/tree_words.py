"""A tree in words, as cards and sheets say it: its size, what lives in it, how it comes down."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.output.brood_words import brood_words
from barkwright.output.hazards import keep_off, line_near, line_words, places_near, say_hazards
from barkwright.output.names import part_names
from barkwright.output.view import View, sentences
from barkwright.output.words import listing
from barkwright.stem.ownwords import HEIGHT

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree
    from barkwright.stem.pieces import TreeStem

SAID_ELSEWHERE = ("hazard-", "line-distance", "trained-sawyer-only")  # reasons whose words stand in a fact of their own


def size_words(view: View, tree: Tree, for_client: bool = False) -> str:
    """How thick and how tall it is, and what of that is estimated; for a client where it is measured, too."""
    stem, units = view.stems[tree.id], view.units
    parts = []
    if stem.dbh_in is not None:
        where = f" ({units.feet(4.5, 1)})" * for_client
        parts.append(f"{units.inches(stem.dbh_in)} across at breast height{where}")
    elif tree.diameter_in is not None:
        parts.append(f"{units.inches(tree.diameter_in)} across at the cut")
    if stem.height_ft is not None and tree.status != "stump":
        height = f"{units.feet(stem.height_ft.likely)} tall"
        if stem.height_estimated and for_client:
            height += estimated(stem)
        elif stem.height_estimated:
            between = f"between {units.feet(stem.height_ft.low)} and {units.feet(stem.height_ft.high)}"
            height += f"{estimated(stem)[:-1]}; {between})"
        parts.append(height)
    return ", ".join(parts)


def estimated(stem: TreeStem) -> str:
    """That a height is estimated, and by whose curve."""
    return " (estimated, local curve)" if HEIGHT in stem.local else " (estimated)"


def beetle_words(view: View, tree: Tree, big: bool = False) -> str:
    """What lives in it, when that flies, and why one thinks so. big : for a site of many trees, shorter."""
    brood, felling = view.tree_broods[tree.id], view.plan.fellings.get(tree.id)
    held = [found for found in brood.pieces if found.brood != "none" or found.host]
    groups: dict[str, list[str]] = {}
    for found in held:
        groups.setdefault(brood_words(found), []).append(found.piece.rpartition("/")[2])
    if big or len(groups) == 1:
        worst = sorted(held, key=lambda found: ("likely", "possible", "none").index(found.brood))[:1]
        said = [f"{brood_words(found).removeprefix('beetles ').capitalize()}." for found in worst]
    else:
        said = [f"{part_names(parts)}: {words}.".capitalize() for words, parts in groups.items()]
    said.extend(sentences(view.say(found.reasons[-1 if found.host else 0]) for found in held if found.reasons))
    if brood.may_stay_standing and (felling is None or felling.who != "not needed"):
        said.append(view.units.sentence(brood.may_stay_standing))
    if not said:
        said.extend(sentences(view.say(found.reasons[0]) for found in brood.pieces[:1] if found.reasons))
    return " ".join(said) or "No beetles are expected."


def felling_words(view: View, tree: Tree) -> list[tuple[str, str]]:
    """Who takes it down or cuts it up, and why, under its label; nothing for what is in pieces already."""
    felling = view.plan.fellings.get(tree.id)
    if felling is None or tree.status in ("logs", "stump") or tree.cut_up is not None:
        return []
    verb = "felled" if tree.status == "standing" else "cut up"
    crew = listing(felling.crews, "or") or "the crew"
    how = {"fell": verb, "dismantle": "taken down in pieces", "aerial-lift": "taken down from a lift"}[felling.how]
    who = {
        "crew": f"To be {how} by {crew}.",
        "professional": f"To be {verb} by a {felling.by}, not by the crew.",
        "provisional": f"Not to be {verb} before an open question is answered.",
        "not allowed": f"Not to be {verb} now.",
        "not needed": f"Need not be {verb}.",
    }[felling.who]
    if tree.status == "standing" and tree.id not in view.felled and felling.who in ("crew", "professional"):
        who = "It stays standing in this plan."
    said = sentences(view.say(reason) for reason in felling.reasons if not reason.rule.startswith(SAID_ELSEWHERE))
    return [("Felling" if tree.status == "standing" else "Cutting up", " ".join((who, *said)))]


def danger_words(view: View, tree: Tree) -> Iterator[tuple[str, str]]:
    """Its hazards, a line near it, and what stands out of its reach, each under its label."""
    if said := say_hazards(view, tree):
        yield "Hazards", view.units.sentence(said)
    if (line := line_near(view, tree)) is not None:
        words = line_words(line)
        yield "Line", f"{words[0].upper()}{words[1:]}. Keep off: {keep_off(view, line)}."
    if tree.id in view.felled and (far := places_near(view, tree)):
        yield "Near", far
