"""What published work says of a method, asked of the bench. Nothing is judged here."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Inventory
from barkwright.season.site import season_of
from barkwright.stem.pieces import Piece
from barkwright.treatment.bench import Bench
from barkwright.treatment.limits import LIMITS
from barkwright.treatment.ways import Window

KINDS = ("chain-saw", "drawknife", "saw-debarker", "maul", "excavator", "truck")
CHIPPER = {"kind": "chipper", "owned": True, "capacity": 15.0, "working_capacity": 15.0, "feed": "loader"}
CREW = {"name": "crew", "people": 3, "hours_per_day": 8.0, "skills": ("saw", "machine"), "unpaid": True}
PIECE = Piece("T1/1", "T1", "log", 1, 0.5, 8.0, 8.0, 7.5, 7.4, 6.9, 3.0, 0.3, 16.0, 120.0, 50.0, 0.0, 0.03, 0.1, False)
STAGES = {
    "larvae": PieceBrood("T1/1", "likely", "larvae", False, 2028, date(2027, 8, 1), "high", 1.0, ()),
    "adults": PieceBrood("T1/1", "likely", "adults", False, 2027, date(2026, 9, 1), "high", 1.0, ()),
    "none": PieceBrood("T1/1", "none", None, False, None, None, "high", 0.0, ()),
}


def verdict(
    way: str,
    stage: str,
    day: str,
    destination_spruce_miles: float | None = None,
    processes_by: str | None = None,
    kind: str = "log",
) -> str:
    """The verdict on a way for one stage under the bark, on one day."""
    return _window(way, stage, day, destination_spruce_miles, processes_by, kind).verdict


def end(
    way: str,
    stage: str,
    day: str,
    destination_spruce_miles: float | None = None,
    processes_by: str | None = None,
    kind: str = "log",
) -> str:
    """What a way comes to for one stage under the bark, on one day."""
    return _window(way, stage, day, destination_spruce_miles, processes_by, kind).end


def says(way: str, stage: str, day: str, text: str) -> bool:
    """Is this said of a way?"""
    return any(text in reason.because for reason in _window(way, stage, day, None, None, "log").reasons)


def is_saw_log(top_dob_in: float) -> bool:
    """Is a log of this small end thick enough to be sawn?"""
    return top_dob_in >= LIMITS["sawlog_top_in"]


def _window(way: str, stage: str, day: str, spruce: float | None, by: str | None, kind: str) -> Window:
    end = {
        "kind": "mill",
        "miles": 10.0,
        "takes": ("logs", "bark"),
        "live_spruce_within": spruce or "unknown",
        "processes_by": by,
    }
    site = {
        "name": "made up", "units": "imperial", "latitude": 53.98, "longitude": -123.02, "region": "interior-plateau",
        "nearest_live_spruce": 300.0, "machine_access": True, "ground": {"diggable": True, "services_located": True},
        "burning": {"permit": "held"}, "destinations": (end,),
    }  # fmt: skip
    tools = (*({"kind": kind, "owned": True} for kind in KINDS), CHIPPER)
    tree = {"id": "T1", "species": "engelmann", "dbh": 12.0, "attacked": 2026}
    fields = {"barkwright": 1, "site": site, "trees": (tree,), "crew": (CREW,), "equipment": tools}
    made = Inventory.model_validate(fields, strict=False)
    on = date(2026, 11, 25)
    table = Bench(made, season_of(made.site, on), on, date(2028, 7, 31))
    piece = PIECE if kind == "log" else replace(PIECE, id=f"T1/{kind}", kind=kind, number=0)  # type: ignore[arg-type]
    found = next(one for one in table.ways(made.trees[0], piece, STAGES[stage]) if one.id == way)
    return next(one for one in found.windows if one.first <= date.fromisoformat(day) <= one.last)
