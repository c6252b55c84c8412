"""Sites made in the test: trees cut, judged and put on the bench, as the program itself does it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from barkwright.brood.judge import judge_tree
from barkwright.inventory.model import Inventory
from barkwright.season.site import season_of
from barkwright.stem.bucking import cut_tree
from barkwright.treatment.bench import Bench
from barkwright.treatment.effort import steps_of
from barkwright.treatment.felling import Felling, felling_of
from barkwright.treatment.ways import Step, Window, Yields
from barkwright.treatment.yields import yields_of

ON = date(2026, 10, 24)
CREW = {"name": "crew", "people": 3, "hours_per_day": 8, "skills": ("saw", "felling", "machine"), "rate": "38"}
CLEAR = {"line": "out-of-reach", "building": "out-of-reach", "road": "out-of-reach", "neighbour": "out-of-reach"}
KINDS = (
    "chain-saw", "drawknife", "bark-spud", "saw-debarker", "maul", "splitter", "excavator", "backhoe", "stump-grinder",
    "trailer", "truck", "chip-truck",
)  # fmt: skip
CHIPPER = {"kind": "chipper", "owned": True, "capacity": 12.0}
TOOLS = (*({"kind": kind, "owned": True} for kind in KINDS), CHIPPER)


def inventory(*trees: dict[str, Any], **more: Any) -> Inventory:
    site = {
        "name": "made up",
        "units": "imperial",
        "latitude": 53.98,
        "longitude": -123.02,
        "region": "interior-plateau",
    }
    site |= more.pop("site", {})
    fields = {"crew": (CREW,), "equipment": TOOLS, **more}
    made = tuple({"id": "T1", "species": "white", "attacked": 2025, "near": CLEAR, **tree} for tree in trees)
    return Inventory.model_validate({"barkwright": 1, "site": site, "trees": made, **fields}, strict=False)


class Site:
    """One site on the bench."""

    def __init__(self, *trees: dict[str, Any], on: date = ON, **more: Any) -> None:
        self.on = on
        self.inventory = inventory(*(trees or ({"dbh": 16.5, "height": 72.0},)), **more)
        self.season = season_of(self.inventory.site, on)
        self.bench = Bench(self.inventory, self.season, on, on + timedelta(days=400))
        self.tree = self.inventory.trees[0]
        self.stem = cut_tree(self.tree, self.inventory)
        self.brood = judge_tree(self.tree, self.stem, self.season, on)

    def felling(self) -> Felling:
        return felling_of(self.tree, self.stem, self.brood, self.inventory, self.season, self.on)

    @property
    def thin_wood(self) -> bool:
        """Is the butt log under 10 in on the mean, where a pile packs looser?"""
        log = next(piece for piece in self.stem.pieces if piece.kind == "log")
        return (log.butt_dob_in + log.top_dob_in) / 2 <= 10

    def ways(self, piece: str) -> dict[str, Any]:
        place = [each.id for each in self.stem.pieces].index(piece)
        found = self.bench.ways(self.tree, self.stem.pieces[place], self.brood.pieces[place])
        return {way.id: way for way in found}

    def steps(self, piece: str, way: str, bark: str | None = None) -> tuple[Step, ...]:
        place = [each.id for each in self.stem.pieces].index(piece)
        one = self.ways(piece)[way]
        window = one.windows[0]
        if bark is not None:
            window = Window(window.first, window.last, window.verdict, window.end, bark, ())
        return steps_of(self.bench, self.tree, self.stem.pieces[place], self.brood.pieces[place], one, window)

    def yields(self, piece: str, way: str) -> Yields:
        place = [each.id for each in self.stem.pieces].index(piece)
        return yields_of(self.bench, self.tree, self.stem.pieces[place], self.ways(piece)[way])


def hours(steps: tuple[Step, ...]) -> tuple[float, float, float]:
    found = [step.person_hours for step in steps]
    return sum(each.low for each in found), sum(each.likely for each in found), sum(each.high for each in found)
