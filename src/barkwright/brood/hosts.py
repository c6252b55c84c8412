"""Clean green wood on the ground: the next flight takes it first."""

from __future__ import annotations

from datetime import date

from barkwright.brood.look import down_on, look_book
from barkwright.brood.sizes import sizes
from barkwright.inventory.model import Tree
from barkwright.season.flight import coming_flight, flight_year
from barkwright.season.site import Season
from barkwright.stem.pieces import Piece


def draws_beetles(tree: Tree, season: Season, on: date) -> bool:
    """Does this tree's wood, free of brood, draw the next flight? It lies, is green, and is fresh enough."""
    if tree.status == "standing" or tree.bark.condition in ("dried", "loosened") or tree.bark.left_percent == 0:
        return False
    if tree.found and tree.found.crown in ("dropping", "bare"):
        return False
    return flights_lain_through(tree, season, on) < look_book().host_flights


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
