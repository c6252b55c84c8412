"""Clean green wood on the ground, now or once its tree is taken down: the next flight takes it first."""

from __future__ import annotations

from datetime import date

from barkwright.brood.look import down_on, look_book
from barkwright.brood.sizes import sizes
from barkwright.inventory.model import Tree
from barkwright.season.flight import coming_flight, finish_by, flight_year
from barkwright.season.site import Season
from barkwright.stem.pieces import Piece


def draws_beetles(tree: Tree, season: Season, on: date) -> bool:
    """Does this tree's wood, free of brood, draw a flight? It is green, and lies or is to be taken down.

    What lies must be fresh enough; what stands must be alive.
    """
    if tree.bark.condition in ("dried", "loosened") or tree.bark.left_percent == 0:
        return False
    if tree.found and tree.found.crown in ("dropping", "bare"):
        return False
    if tree.status == "standing":
        return tree.removal is not None and _alive(tree, season, on)
    return flights_lain_through(tree, season, on) < look_book().host_flights


def _alive(tree: Tree, season: Season, on: date) -> bool:
    """Is a standing tree alive? An attack before last summer has killed it, unless its crown is seen to be green."""
    if tree.found and tree.found.crown == "green":
        return True
    return not isinstance(tree.attacked, int) or tree.attacked >= coming_flight(season, on) - 1


def flight_drawn(tree: Tree, season: Season, on: date) -> int:
    """The year of the first flight that clean wood would draw: of a tree that stands, the first after its felling.

    From the day by which work against a flight should be done there is too little time to fell it and deal with its
    wood, and while beetles fly no green spruce is felled: then it is the flight of the year after.
    """
    if tree.status != "standing":
        return coming_flight(season, on)
    down = max(on, tree.not_before or on)
    coming = coming_flight(season, down)
    return coming if down <= finish_by(flight_year(season, coming)) else coming + 1


def flights_lain_through(tree: Tree, season: Season, on: date) -> int:
    """How many whole or part flights this tree lay through that are over by now; 0 where its day is not known."""
    down = down_on(tree)
    if down is None:
        return 0
    return sum(down <= flight_year(season, year).end for year in range(down.year, coming_flight(season, on)))


def is_host_piece(piece: Piece) -> bool:
    """Has the piece bark, and is it thick enough to be attacked: stump, logs, tops of the least size for brood?"""
    least = sizes().possible_in
    if piece.kind == "limbs" or piece.bark_ft2 <= 0.0:
        return False
    return piece.butt_dob_in > least if piece.kind == "top" else piece.butt_dob_in >= least
