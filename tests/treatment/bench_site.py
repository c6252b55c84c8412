"""A bench made in the test, and pieces and broods put on it as they come, without the rooms that make them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Inventory, Tree
from barkwright.season.site import season_of
from barkwright.stem.pieces import Piece
from barkwright.treatment.bench import Bench
from barkwright.treatment.ways import Way, Window

ON = date(2026, 11, 25)
HORIZON = date(2028, 7, 31)
HAND = ("chain-saw", "drawknife", "bark-spud", "saw-debarker", "cant-hook", "maul", "splitter")
MACHINES = ("excavator", "backhoe", "stump-grinder", "truck", "trailer", "chip-truck")
CHIPPER = {"kind": "chipper", "owned": True, "capacity": 12.0, "working_capacity": 9.0, "feed": "hand"}
ALL = (*({"kind": kind, "owned": True} for kind in (*HAND, *MACHINES)), CHIPPER)
CREW = {"name": "crew", "people": 3, "hours_per_day": 8.0, "skills": ("saw", "machine"), "unpaid": True}
SITE = {
    "name": "made up", "units": "imperial", "latitude": 53.98, "longitude": -123.02, "region": "interior-plateau",
    "nearest_live_spruce": 60.0, "slope_percent": 5.0, "machine_access": True,
    "ground": {"diggable": True, "services_located": True}, "burning": {"permit": "held", "windows": ()},
}  # fmt: skip
MILL = {"kind": "mill", "miles": 14.0, "takes": ("logs", "bark", "slash", "chips"), "processes_by": date(2027, 4, 30)}


def site(tree: dict[str, Any] | None = None, **more: Any) -> Inventory:
    place = {**SITE, **more.pop("site", {})}
    fields = {"crew": (CREW,), "equipment": ALL, **more}
    one = {"id": "T1", "species": "white", "dbh": 16.5, "attacked": 2026, **(tree or {})}
    return Inventory.model_validate({"barkwright": 1, "site": place, "trees": (one,), **fields}, strict=False)


def bench(inventory: Inventory, on: date = ON, horizon: date = HORIZON) -> Bench:
    return Bench(inventory, season_of(inventory.site, on), on, horizon)


def piece(kind: Any = "log", butt: float = 9.0, **more: Any) -> Piece:
    name = "T1/1" if kind == "log" else f"T1/{kind}"
    length = more.pop("length_ft", {"log": 8.0, "stump": 0.5, "top": 20.0, "limbs": 0.0}[kind])
    made = Piece(name, "T1", kind, int(kind == "log"), 0.5, length, butt, max(butt - 1.5, 0.0), butt - 0.7, butt - 2.2,
                 6.0, 0.7, 25.0, 300.0, 90.0, 0.0, 0.05, 0.2, False)  # fmt: skip
    return replace(made, **more)


def brood(level: Any = "likely", stage: Any = "larvae", **more: Any) -> PieceBrood:
    made = PieceBrood("T1/1", level, stage if level != "none" else None, False, 2027 if level != "none" else None,
                      None, "high", 1.0 if level != "none" else 0.0, ())  # fmt: skip
    return replace(made, **more)


ADULTS = brood("likely", "adults", adults_from=date(2026, 9, 1))
LARVAE = brood("likely", "larvae", flight_to_beat=2028, adults_from=date(2027, 8, 1))
HOST = brood("none", host=True, flight_to_beat=2027)
EMPTY = brood("none")


def ways(inventory: Inventory, log: Piece, found: PieceBrood, on: date = ON, all_tools: bool = False) -> dict[str, Way]:
    tree: Tree = inventory.trees[0]
    return {one.id: one for one in bench(inventory, on).ways(tree, log, found, all_tools)}


def window(way: Way, day: date) -> Window:
    return next(one for one in way.windows if one.first <= day <= one.last)


def rules(one: Window) -> set[str]:
    return {reason.rule for reason in one.reasons}
