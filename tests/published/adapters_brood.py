"""Trees as the sources describe them, judged by our own functions. Nothing is computed here."""

from __future__ import annotations

from datetime import date
from typing import Any

from adapters_season import season

from barkwright.brood.finding import PieceBrood
from barkwright.brood.judge import judge_tree
from barkwright.brood.look import adults_from, look_book
from barkwright.brood.signs import attack_years
from barkwright.brood.sizes import Winter, winter_of
from barkwright.brood.stand import rate_stand
from barkwright.inventory.model import Found, Tree
from barkwright.inventory.reading import read_inventory
from barkwright.season.flight import flight_year
from barkwright.stem.pieces import Piece, TreeStem
from barkwright.units import CM_PER_IN


def _tree(found: dict[str, Any] | None = None, **fields: Any) -> Tree:
    if found is not None:
        lists = {name: tuple(value) if isinstance(value, list) else value for name, value in found.items()}
        seen = lists.pop("seen", None)
        fields["found"] = Found(**lists, seen=date.fromisoformat(seen) if seen else None)
    for name in ("felled_on", "down_since"):
        if name in fields:
            fields[name] = date.fromisoformat(fields[name])
    return Tree(id="T1", species="engelmann", dbh=20.0, **fields)


def _log(number: int, from_ft: float, thick_in: float) -> Piece:
    ends = (thick_in, thick_in, thick_in, thick_in)
    return Piece(f"T1/{number}", "T1", "log", number, from_ft, 8.0, *ends, 1.0, 0.1, 10.0, 50.0, 60.0, 0, 0, 0, False)


def finding(
    on: str, region: str = "interior-plateau", thick_in: float = 16.0, from_ft: float = 8.5, **fields: Any
) -> PieceBrood:
    """The finding on one log whose thick end is `from_ft` above the ground."""
    butt, log = _log(1, 0.5, 40.0), _log(2, from_ft, thick_in)
    stem = TreeStem("T1", 20.0, None, False, (butt, log), (), ())
    return judge_tree(_tree(**fields), stem, season(region), date.fromisoformat(on)).pieces[1]


def brood_level(on: str = "2026-11-15", attacked: int = 2026, thick_cm: float | None = None, **fields: Any) -> str:
    """Brood of one log, its thick end in inches or centimetres."""
    if thick_cm is not None:
        fields["thick_in"] = thick_cm / CM_PER_IN
    return finding(on, attacked=attacked, **fields).brood


def thin_wood(thick_in: float) -> str:
    """What is said of a log too thin to be counted."""
    return finding("2026-11-15", attacked=2026, thick_in=thick_in).reasons[0].rule


def exits_in(region: str, year: int, month: int) -> bool:
    """Does the flight of that year touch that month?"""
    flight = flight_year(season(region), year)
    return flight.onset.month <= month <= flight.end.month


def winters_before_flight(attacked: int, flight: int) -> int:
    """Winters between the first day new adults must be expected and their flight."""
    return flight - adults_from(flight).year


def new_adults_by(flight: int) -> str:
    """Month from which new adults must be expected, the year before they fly."""
    return f"{adults_from(flight):%B}"


def adult_winter(status: str, felled_on: str | None, stood: bool, attacked: int, on: str) -> Winter:
    """Where two-year adults winter."""
    tree = _tree(status=status, attacked=attacked, **({"felled_on": felled_on} if felled_on else {}))
    return winter_of(tree, stood, "adults", attacked + 2, date.fromisoformat(on))


def crown_allows(crown: str, attacked_on: str, months: float, region: str = "interior-plateau") -> bool:
    """Does this crown allow its true attack year, so many months after the attack?"""
    attacked = date.fromisoformat(attacked_on)
    seen = date.fromordinal(attacked.toordinal() + round(months * 30.44))
    tree = _tree({"crown": crown, "insect": "spruce-beetle", "seen": seen.isoformat()}, attacked="unknown")
    return attacked.year in attack_years(tree, season(region), seen).years


def full_look_needs(side: str, lies: bool) -> bool:
    """Must this side have been looked at before "larvae only" counts?"""
    need = look_book().full_look
    return side in (need.down if lies else need.standing)


def where_to_look(words: str, lies: bool) -> bool:
    """Does the inspection say these words?"""
    where = look_book().where
    return words in (where.down if lies else where.standing)


def stand_row(row: str, written: str) -> int:
    """Points of one row of the stand rating, its number as somebody writes it into an inventory."""
    text = (
        "barkwright: 1\nsite: {name: A, units: imperial, latitude: 54, longitude: -122, "
        f"stand: {{{row}: {written}}}}}\ntrees: [{{id: T1, species: engelmann, dbh: 16, attacked: never}}]\n"
    )
    inventory, found = read_inventory(text, "site.yaml", date(2026, 11, 27))
    assert inventory is not None, found
    rating = rate_stand(inventory.site.stand)
    assert rating is not None
    return next(one.low for one in rating.rows if one.name == row and one.low == one.high)
