"""Questions about the brood: what to look at under the bark, and what does not fit together."""

from __future__ import annotations

from datetime import date

from barkwright.brood.finding import Question
from barkwright.brood.look import adults_from, look_book, posture, settled_from
from barkwright.inventory.model import Tree
from barkwright.season.flight import finish_by, flight_year
from barkwright.season.site import Season
from barkwright.season.year import in_words

BROOD_RANK = 2


def look_under_bark(tree: Tree, season: Season, on: date, early: int) -> Question:
    """The question for a tree that nobody has looked at as it must be.

    early : int    first flight that may come of the brood [year]
    """
    book = look_book()
    where = {"standing": book.where.standing, "down": book.where.down, "stump": book.where.stump}[posture(tree, on)]
    how = book.how.format(where=where)
    settled = settled_from(early)
    if on < settled:
        how += book.too_early.format(day=in_words(settled))
    sides = _sides(tree, on)
    return Question(
        subject=tree.id,
        code="look-under-bark",
        text="What lives under the bark: white larvae only, a dark adult anywhere, or nothing?",
        how=how,
        then=(
            f"With a dark adult anywhere the beetles fly in {early}, and all must be done {_by(season, early, on)}. "
            f"With white larvae only, {sides}, they fly in {early + 1}: the work may take until "
            f"{in_words(finish_by(flight_year(season, early + 1)))}, and bark stripped before "
            f"{in_words(adults_from(early + 1))} holds no adults. "
            f"With nothing alive {sides}, there is nothing here to treat."
        ),
        rank=BROOD_RANK,
    )


def look_at_host(tree: Tree, on: date) -> Question:
    """The question for clean down wood that has already lain through a flight."""
    return Question(
        subject=tree.id,
        code="look-under-bark",
        text="Is this wood still free of beetles? It has lain through a flight, and down spruce is attacked first.",
        how=look_book().how.format(
            where=look_book().where.down if posture(tree, on) == "down" else look_book().where.stump
        ),
        then="With tunnels or white larvae, give the year of attack: it is planned as infested wood. Without, it draws "
        "the next flight and is planned as such.",
        rank=BROOD_RANK,
    )


def look_higher(tree: Tree, season: Season, on: date, early: int) -> Question:
    """The question for a tree with larvae low down, in a summer so warm that higher up brood may take one year.

    early : int    the flight that such brood would make [year]
    """
    book = look_book()
    return Question(
        tree.id,
        "look-higher",
        "Is there a dark adult under the bark higher up, on the sunny side, where nobody has looked yet?",
        f"{book.higher} {book.looks['adult']}",
        f"With a dark adult up there those logs must be done {_by(season, early, on)}. Without one, and with 'upper' "
        f"written among the sides looked at, they may wait for the flight of {early + 1} like the rest.",
        BROOD_RANK,
    )


def other_insect(tree: Tree, season: Season, on: date, early: int) -> Question:
    """The question for a tree where another insect was found, and nobody looked for spruce beetle at the base."""
    look = look_under_bark(tree, season, on, early)
    return Question(
        tree.id,
        "spruce-beetle-too",
        "Is there spruce beetle as well as the other insect?",
        f"{look.how} {look_book().looks['gallery']} {look_book().looks['engraver']}",
        "Without single up-and-down tunnels this tree holds no spruce beetle. With them it is planned as infested.",
        BROOD_RANK,
    )


def attack_year(tree: Tree, why: str, worst: str) -> Question:
    """The question for a tree whose signs do not fit the attack year written down."""
    written = "never attacked" if tree.attacked == "never" else f"attacked in {tree.attacked}"
    return Question(
        tree.id,
        "attack-year-doubtful",
        f"When was this tree attacked? It is written down as {written}, but {why}.",
        "Ask when boring dust or pitch was first seen. Look for exit holes, and for how many needles are left.",
        f"The right year sets the flight to beat. Until it is known the worst is planned for: {worst}.",
        BROOD_RANK,
    )


def mass_without_brood(tree: Tree, season: Season, on: date, early: int) -> Question:
    """The question for a tree that was attacked all round last summer and yet seems to hold nothing."""
    look = look_under_bark(tree, season, on, early)
    return Question(
        tree.id,
        "attack-without-brood",
        "Is there really nothing alive under the bark? This tree was attacked all the way round last summer.",
        look.how,
        look.then,
        BROOD_RANK,
    )


def strip_attack(tree: Tree) -> Question:
    """The question for a standing tree that holds live brood on one side only."""
    return Question(
        tree.id,
        "strip-attack",
        "How much of the way round is this tree attacked? One attacked on one side only may live.",
        "Follow the tunnels round the stem at the base and as high as you can reach.",
        "If most of the way round is sound, the bark of the attacked strip can be dealt with on the standing tree as "
        "far as one can reach, and the tree need not be felled. It is planned as a tree to fell until you decide.",
        BROOD_RANK,
    )


def _by(season: Season, flight: int, on: date) -> str:
    last = finish_by(flight_year(season, flight))
    return f"by {in_words(last)}" if on <= last else "at once"


def _sides(tree: Tree, on: date) -> str:
    if posture(tree, on) == "down":
        return "on top and underneath"
    return "at the base and all the way round" if tree.attack == "strip" else "at the base and on the sunny side"
