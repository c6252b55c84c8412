"""The inventory as the program sees it: one site, its trees, hands, machines, dates and wishes.

Wood is in inches and feet whatever the file was written in; an attribute's name ends in its unit, its YAML key does
not.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

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


class Record(BaseModel):
    """Base of every part of the inventory: strict, frozen, unknown keys refused."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", allow_inf_nan=False, populate_by_name=True)


class Span(Record):
    """Days, both ends included."""

    first: date = Field(alias="from")
    last: date = Field(alias="to")


class Ground(Record):
    """Can one dig here, and have buried services been located? None: not answered."""

    diggable: bool | None = None
    services_located: bool | None = None


class Burning(Record):
    """What the user answered about the burn permit, and when burning is open."""

    permit: Literal["unknown", "held", "not-needed", "refused"] = "unknown"
    windows: tuple[Span, ...] = ()


class Destination(Record):
    """Where wood may be hauled to."""

    kind: Literal["mill", "landfill", "yard", "burn-site", "buyer", "other"]
    name: str | None = None
    miles: float
    takes: tuple[Literal["logs", "firewood", "chips", "bark", "slash"], ...]
    processes_by: date | None = None
    live_spruce_within_miles: float | Literal["none", "unknown"] = Field(default="unknown", alias="live_spruce_within")
    fee_per_load: Decimal | None = None


class Site(Record):
    """The place."""

    name: str
    units: Literal["imperial", "metric"]
    latitude: float
    longitude: float
    elevation_ft: float | None = Field(default=None, alias="elevation")
    region: str | None = None
    ecodivision: str | None = None
    weather: tuple[str, ...] = ()
    nearest_live_spruce_ft: float | Literal["none", "unknown"] = Field(default="unknown", alias="nearest_live_spruce")
    slope_percent: float = 0.0
    machine_access: bool | None = None
    ground: Ground = Ground()
    burning: Burning = Burning()
    destinations: tuple[Destination, ...] = ()


class Found(Record):
    """What was seen, where and when."""

    insect: Literal["spruce-beetle", "engraver", "other", "not-sure"] = "not-sure"
    stages: tuple[BroodStage, ...] | None = None  # None: nobody looked under the bark
    looked: tuple[Looked, ...] = ()
    exit_holes: Literal["none", "some", "many"] | None = None
    crown: Crown | None = None
    seen: date | None = None


class Near(Record):
    """Distance from the stem to the nearest such thing [ft]."""

    line: Distance = "not-checked"
    line_kind: Literal["service-drop", "distribution", "transmission", "communication", "unknown"] = "unknown"
    line_kv: float | None = None
    building: Distance = "not-checked"
    road: Distance = "not-checked"
    neighbour: Distance = "not-checked"


class Removal(Record):
    """How a professional will take the tree down, as that professional said."""

    by: Literal["dismantle", "aerial-lift", "crane", "fell"]
    hours: float
    price: Decimal | None = None


class Bark(Record):
    """The bark of a down log."""

    left_percent: float = 100.0
    condition: Literal["tight", "slipping", "loosened", "dried"] = "tight"


class MeasuredLog(Record):
    """A log as measured: ends outside bark [in], length [ft]."""

    butt_in: float = Field(alias="butt")
    top_in: float = Field(alias="top")
    length_ft: float = Field(alias="length")
    count: int = 1


class Tree(Record):
    """One tree, or what is left of one."""

    id: str
    where: str | None = None
    tag: str | None = None
    count: int = 1
    note: str | None = None
    species: Species
    status: Status = "standing"
    dbh_in: float | None = Field(default=None, alias="dbh")
    girth_in: float | None = Field(default=None, alias="girth")
    height_ft: float | None = Field(default=None, alias="height")  # of a stump: its height above ground
    broken_at_ft: float | None = Field(default=None, alias="broken_at")  # height of the break of a broken top
    diameter_in: float | None = Field(default=None, alias="diameter")  # stump, outside bark at the cut
    attacked: int | Literal["unknown", "never"] = "unknown"
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

    @property
    def breast_height_in(self) -> float | None:
        """Diameter outside bark at 4.5 ft [in], from the diameter or the girth as the user gave it."""
        if self.dbh_in is not None:
            return self.dbh_in
        return None if self.girth_in is None else self.girth_in / 3.141592653589793


class Cutting(Record):
    """How trees are cut up on paper."""

    stump_height_ft: float = Field(default=0.5, alias="stump_height")
    log_length_ft: float = Field(default=8.0, alias="log_length")
    trim_ft: float = Field(default=0.0, alias="trim")
    fuel_length_in: float = Field(default=16.0, alias="fuel_length")
    treat_over_in: float = Field(default=5.0, alias="treat_over")


class Crew(Record):
    """Hands of one kind."""

    name: str
    people: int
    hours_per_day: float
    days: tuple[Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"], ...] = ("mon", "tue", "wed", "thu", "fri")
    skills: tuple[Skill, ...] = ()
    unpaid: bool = False
    rate: Decimal | None = None  # per person-hour
    worth: Decimal | None = None  # per person-hour of unpaid hands; default in data
    off: tuple[Span, ...] = ()


class Equipment(Record):
    """One machine or tool class that is there or can be had."""

    kind: Kind
    name: str | None = None
    owned: bool = False
    count: int = 1
    capacity: Annotated[float | None, Field(description="maker's figure; unit by kind, see data")] = None
    working_capacity: float | None = None
    feed: Literal["hand", "winch", "loader"] | None = None
    rent_per_hour: Decimal | None = None
    rent_per_half_day: Decimal | None = None
    rent_per_day: Decimal | None = None
    rent_per_week: Decimal | None = None
    rent_per_month: Decimal | None = None
    delivery: Decimal | None = None
    with_operator: bool = False
    cost_per_hour: Decimal | None = None
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

    budget: Decimal | None = None
    chips_site_takes_yd3: float | None = Field(default=None, alias="chips_site_takes")
    firewood_cords_per_week: float | None = None


class Wishes(Record):
    """What the user would like: avoid is hard unless infested bark would be left; prefer breaks near ties."""

    keep_sawlogs: bool = False
    keep_firewood: bool = False
    avoid: tuple[Method, ...] = ()
    prefer: tuple[Method, ...] = ()


class Worth(Record):
    """What the user says his own fuel and saw logs are worth to him; nothing is assumed."""

    firewood_per_cord: Decimal | None = None
    sawlogs_per_thousand_bf: Decimal | None = None
    chips_per_yd3: Decimal | None = None


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
    local: tuple[str, ...] = ()  # paths of the user's own rulebook and rates, relative to the inventory
