"""The inventory as the program sees it: one site, its trees, hands, machines, dates and wishes.

Wood is in inches and feet whatever the file was written in; an attribute's name ends in its unit, its YAML key does
not.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from barkwright.inventory.measure import YEARS, Bounds, CapacityOfKind, Measure
from barkwright.inventory.part import Record as Record
from barkwright.inventory.part import Span as Span
from barkwright.inventory.place import Burning as Burning
from barkwright.inventory.place import Destination as Destination
from barkwright.inventory.place import Ground as Ground
from barkwright.inventory.place import Site as Site
from barkwright.inventory.place import Stand as Stand
from barkwright.inventory.progress import Finished as Finished
from barkwright.inventory.trade import Client as Client
from barkwright.inventory.trade import Contractor as Contractor
from barkwright.inventory.trade import Quote as Quote

Species = Literal["white", "engelmann", "sitka", "lutz", "black", "red", "blue", "norway"]
Status = Literal["standing", "windthrown", "felled", "logs", "stump"]
Looked = Literal["base", "sunny", "shaded", "upper", "top", "side", "bottom"]
BroodStage = Literal["larvae", "pupae", "adults", "none"]
Crown = Literal["green", "yellow-green", "dropping", "bare"]
Hazard = Literal["lean", "hung-up", "dead-top", "split-stem", "decay", "root-plate", "jackstraw"]
Skill = Literal["saw", "felling", "climbing", "aerial-lift", "line-clearance", "machine"]
Method = Literal["chip", "debark", "score", "burn", "bury", "split", "haul", "leave"]
Kind = Literal[
    "chain-saw", "drawknife", "bark-spud", "saw-debarker", "cant-hook", "wedges", "log-arch", "maul", "axe", "splitter",
    "chipper", "winch", "tractor", "skid-steer", "loader", "excavator", "backhoe", "trailer", "truck", "chip-truck",
    "aerial-lift", "portable-sawmill", "stump-grinder", "pole-saw", "moisture-meter", "water-pump",
]  # fmt: skip
Distance = float | Literal["out-of-reach", "not-checked"]  # ft


class Found(Record):
    """What was seen, where and when."""

    insect: Literal["spruce-beetle", "engraver", "other", "not-sure"] = "not-sure"
    stages: tuple[BroodStage, ...] | None = None  # None: nobody looked under the bark
    looked: tuple[Looked, ...] = ()
    exit_holes: Literal["none", "some", "many"] | None = None
    crown: Crown | None = None
    seen: date | None = None


_NEAR = Measure("ft", "m", "ft", 0, 5000)


class Near(Record):
    """Distance from the stem to the nearest such thing [ft]."""

    line: Annotated[Distance, _NEAR] = "not-checked"
    line_kind: Literal["service-drop", "distribution", "transmission", "communication", "unknown"] = "unknown"
    line_kv: Annotated[float | None, Measure("kV", "kV", "kV", 0, 1200)] = None
    building: Annotated[Distance, _NEAR] = "not-checked"
    road: Annotated[Distance, _NEAR] = "not-checked"
    neighbour: Annotated[Distance, _NEAR] = "not-checked"


class Removal(Record):
    """How a professional will take the tree down, as that professional said."""

    by: Literal["dismantle", "aerial-lift", "crane", "fell"]
    hours: Annotated[float, Measure("h", "h", "h", 0.1, 200)]
    price: Annotated[Decimal | None, Bounds(0, 1000000)] = None


class Bark(Record):
    """The bark of a down log."""

    left_percent: Annotated[float, Measure("%", "%", "%", 0, 100)] = 100.0
    condition: Literal["tight", "slipping", "loosened", "dried"] = "tight"


class MeasuredLog(Record):
    """A log as measured: ends outside bark [in], length [ft]."""

    butt_in: Annotated[float, Measure("in", "cm", "in", 0.5, 100)] = Field(alias="butt")
    top_in: Annotated[float, Measure("in", "cm", "in", 0, 100)] = Field(alias="top")
    length_ft: Annotated[float, Measure("ft", "m", "ft", 0.5, 150)] = Field(alias="length")
    count: Annotated[int, Bounds(1, 1000)] = 1


class Tree(Record):
    """One tree, or what is left of one."""

    id: str
    where: str | None = None
    tag: str | None = None
    count: Annotated[int, Bounds(1, 2000)] = 1
    note: str | None = None
    species: Species
    status: Status = "standing"
    dbh_in: Annotated[float | None, Measure("in", "cm", "in", 0.5, 100)] = Field(default=None, alias="dbh")
    girth_in: Annotated[float | None, Measure("in", "cm", "in", 1.5, 315)] = Field(default=None, alias="girth")
    height_ft: Annotated[float | None, Measure("ft", "m", "ft", 0, 320)] = Field(default=None, alias="height")
    broken_at_ft: Annotated[float | None, Measure("ft", "m", "ft", 1, 300)] = Field(default=None, alias="broken_at")
    diameter_in: Annotated[float | None, Measure("in", "cm", "in", 0.5, 150)] = Field(default=None, alias="diameter")
    attacked: Annotated[int | Literal["unknown", "never"], Bounds(*YEARS, "(a year)")] = "unknown"
    attack: Literal["mass", "strip", "pitched-out", "not-sure"] = "not-sure"
    found: Found | None = None
    near: Near = Near()
    hazards: tuple[Hazard, ...] = ()
    not_before: date | None = None
    removal: Removal | None = None
    felled_on: date | None = None
    down_since: date | None = None
    stood_at_attack: bool | Literal["unknown"] = "unknown"
    bark: Bark = Bark()
    logs: tuple[MeasuredLog, ...] = ()
    cut_up: date | None = Field(default=None, exclude=True)  # limbed and bucked by then, as the journal says

    @property
    def breast_height_in(self) -> float | None:
        """Diameter outside bark at 4.5 ft [in], from the diameter or the girth as the user gave it."""
        if self.dbh_in is not None:
            return self.dbh_in
        return None if self.girth_in is None else self.girth_in / 3.141592653589793


class Cutting(Record):
    """How trees are cut up on paper."""

    stump_height_ft: Annotated[float, Measure("ft", "m", "ft", 0, 4.5)] = Field(default=0.5, alias="stump_height")
    log_length_ft: Annotated[float, Measure("ft", "m", "ft", 1, 66)] = Field(default=8.0, alias="log_length")
    trim_ft: Annotated[float, Measure("ft", "m", "ft", 0, 3)] = Field(default=0.0, alias="trim")
    fuel_length_in: Annotated[float, Measure("in", "cm", "in", 4, 60)] = Field(default=16.0, alias="fuel_length")
    treat_over_in: Annotated[
        float,
        Measure("in", "cm", "in", 1, 20),
    ] = Field(default=5.0, alias="treat_over")


class Crew(Record):
    """Hands of one kind."""

    name: str
    people: Annotated[int, Bounds(1, 200)]
    hours_per_day: Annotated[float, Measure("h", "h", "h", 0.25, 16)]
    days: tuple[Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"], ...] = ("mon", "tue", "wed", "thu", "fri")
    skills: tuple[Skill, ...] = ()
    unpaid: bool = False
    rate: Annotated[Decimal | None, Bounds(0, 10000)] = None
    worth: Annotated[Decimal | None, Bounds(0, 10000)] = None
    off: tuple[Span, ...] = ()
    extra_days: tuple[date, ...] = ()


class Equipment(Record):
    """One machine or tool class that is there or can be had."""

    kind: Kind
    name: str | None = None
    owned: bool = False
    count: Annotated[int, Bounds(1, 200)] = 1
    capacity: Annotated[float | None, CapacityOfKind()] = None
    working_capacity: Annotated[float | None, CapacityOfKind()] = None
    feed: Literal["hand", "winch", "loader"] | None = None
    rent_per_hour: Annotated[Decimal | None, Bounds(0, 1000000)] = None
    rent_per_half_day: Annotated[Decimal | None, Bounds(0, 1000000)] = None
    rent_per_day: Annotated[Decimal | None, Bounds(0, 1000000)] = None
    rent_per_week: Annotated[Decimal | None, Bounds(0, 1000000)] = None
    rent_per_month: Annotated[Decimal | None, Bounds(0, 1000000)] = None
    delivery: Annotated[Decimal | None, Bounds(0, 1000000)] = None
    with_operator: bool = False
    cost_per_hour: Annotated[Decimal | None, Bounds(0, 1000000)] = None
    first: date | None = Field(default=None, alias="from")
    last: date | None = Field(default=None, alias="to")


class Calendar(Record):
    """When work starts, and days without work."""

    start: date | None = None
    off: tuple[Span, ...] = ()


class Call(Record):
    """A call already made or an appointment that work waits for."""

    what: str
    trees: tuple[str, ...] = Field(default=(), alias="for")
    on: date = Field(alias="date")


class Limits(Record):
    """Hard limits."""

    budget: Annotated[Decimal | None, Bounds(0, 100000000)] = None
    chips_site_takes_yd3: Annotated[float | None, Measure("yd3", "m3", "yd3", 0, 100000)] = Field(
        default=None, alias="chips_site_takes"
    )
    firewood_cords_per_week: Annotated[float | None, Measure("cord", "cord", "cord", 0, 100)] = None


class Wishes(Record):
    """What the user would like: avoid is hard unless infested bark would be left; prefer breaks near ties."""

    keep_sawlogs: bool = False
    keep_firewood: bool = False
    avoid: tuple[Method, ...] = ()
    prefer: tuple[Method, ...] = ()


class Best(Record):
    """What the best plan may give up, and what partial and late work counts as; what is left out is as in the data."""

    bark_tolerance_ft2: Annotated[float | None, Bounds(0, 1000000, "ft2")] = None
    money_tolerance: Annotated[float | None, Bounds(0, 10000000)] = None
    partial_per_ft2: Annotated[float | None, Bounds(0, 100000)] = None
    late_per_ft2: Annotated[float | None, Bounds(0, 100000)] = None


class Worth(Record):
    """What the user says his own fuel and saw logs are worth to him; nothing is assumed."""

    firewood_per_cord: Annotated[Decimal | None, Bounds(0, 100000)] = None
    sawlogs_per_thousand_bf: Annotated[Decimal | None, Bounds(0, 100000)] = None
    chips_per_yd3: Annotated[Decimal | None, Bounds(0, 100000)] = None


class Inventory(Record):
    """One site file, read and checked."""

    format: Literal[1] = Field(alias="barkwright")
    site: Site
    trees: tuple[Tree, ...]
    cutting: Cutting = Cutting()
    crew: tuple[Crew, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    calendar: Calendar = Calendar()
    calls: tuple[Call, ...] = ()
    currency: str = "USD"
    limits: Limits = Limits()
    wishes: Wishes = Wishes()
    worth: Worth = Worth()
    best: Best = Best()
    client: Client = Client()
    contractor: Contractor = Contractor()
    quote: Quote = Quote()
    local: tuple[str, ...] = ()  # paths of files of local knowledge, relative to the inventory
    finished: tuple[Finished, ...] = Field(default=(), exclude=True)  # as the journal says, by day
