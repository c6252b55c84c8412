"""The inventory as the program sees it: one site, its trees, hands, machines, dates and wishes.

Wood is in inches and feet whatever the file was written in; an attribute's name ends in its unit, its YAML key does
not.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from barkwright.inventory.measure import Bounds, CapacityOfKind, Measure

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
    miles: Annotated[float, Measure("road miles from the site", "mi", "mi", "mi", 0, 2000)]
    takes: tuple[Literal["logs", "firewood", "chips", "bark", "slash"], ...]
    processes_by: date | None = None
    live_spruce_within_miles: Annotated[
        float | Literal["none", "unknown"],
        Measure("distance from the destination to the nearest live spruce", "mi", "km", "mi", 0, 1000),
    ] = Field(default="unknown", alias="live_spruce_within")
    fee_per_load: Annotated[Decimal | None, Bounds("charge at the gate per load", 0, 100000)] = None


class Site(Record):
    """The place."""

    name: str
    units: Literal["imperial", "metric"]
    latitude: Annotated[float, Bounds("latitude, north is positive", -90, 90, "degrees")]
    longitude: Annotated[float, Bounds("longitude, west is negative", -180, 180, "degrees")]
    elevation_ft: Annotated[float | None, Measure("height above the sea", "ft", "m", "ft", -1500, 20000)] = Field(
        default=None, alias="elevation"
    )
    region: str | None = None
    ecodivision: str | None = None
    weather: tuple[str, ...] = ()
    nearest_live_spruce_ft: Annotated[
        float | Literal["none", "unknown"],
        Measure("distance from the working spot to the nearest live spruce", "ft", "m", "ft", 0, 500000),
    ] = Field(default="unknown", alias="nearest_live_spruce")
    slope_percent: Annotated[float, Measure("slope of the ground", "%", "%", "%", 0, 200)] = 0.0
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


_Near = Measure("distance from the stem to the nearest one", "ft", "m", "ft", 0, 5000)


class Near(Record):
    """Distance from the stem to the nearest such thing [ft]."""

    line: Annotated[Distance, _Near] = "not-checked"
    line_kind: Literal["service-drop", "distribution", "transmission", "communication", "unknown"] = "unknown"
    line_kv: Annotated[float | None, Measure("voltage of the line", "kV", "kV", "kV", 0, 1200)] = None
    building: Annotated[Distance, _Near] = "not-checked"
    road: Annotated[Distance, _Near] = "not-checked"
    neighbour: Annotated[Distance, _Near] = "not-checked"


class Removal(Record):
    """How a professional will take the tree down, as that professional said."""

    by: Literal["dismantle", "aerial-lift", "crane", "fell"]
    hours: Annotated[float, Measure("hours the professional says it takes", "h", "h", "h", 0.1, 200)]
    price: Annotated[Decimal | None, Bounds("price the professional asks for it all", 0, 1000000)] = None


class Bark(Record):
    """The bark of a down log."""

    left_percent: Annotated[float, Measure("share of the bark still on", "%", "%", "%", 0, 100)] = 100.0
    condition: Literal["tight", "slipping", "loosened", "dried"] = "tight"


class MeasuredLog(Record):
    """A log as measured: ends outside bark [in], length [ft]."""

    butt_in: Annotated[float, Measure("diameter of the thick end over the bark", "in", "cm", "in", 0.5, 100)] = Field(
        alias="butt"
    )
    top_in: Annotated[float, Measure("diameter of the thin end over the bark", "in", "cm", "in", 0, 100)] = Field(
        alias="top"
    )
    length_ft: Annotated[float, Measure("length", "ft", "m", "ft", 0.5, 150)] = Field(alias="length")
    count: Annotated[int, Bounds("how many logs like this", 1, 1000)] = 1


class Tree(Record):
    """One tree, or what is left of one."""

    id: str
    where: str | None = None
    tag: str | None = None
    count: Annotated[int, Bounds("how many trees like this", 1, 2000)] = 1
    note: str | None = None
    species: Species
    status: Status = "standing"
    dbh_in: Annotated[
        float | None, Measure("diameter over the bark at 4.5 ft (1.37 m) above ground", "in", "cm", "in", 0.5, 100)
    ] = Field(default=None, alias="dbh")
    girth_in: Annotated[
        float | None, Measure("girth over the bark at 4.5 ft (1.37 m) above ground", "in", "cm", "in", 1.5, 315)
    ] = Field(default=None, alias="girth")
    height_ft: Annotated[float | None, Measure("height; of a stump, above ground", "ft", "m", "ft", 0, 320)] = Field(
        default=None, alias="height"
    )
    broken_at_ft: Annotated[float | None, Measure("height of the break of a broken top", "ft", "m", "ft", 1, 300)] = (
        Field(default=None, alias="broken_at")
    )
    diameter_in: Annotated[
        float | None, Measure("diameter of a stump over the bark at the cut", "in", "cm", "in", 0.5, 150)
    ] = Field(default=None, alias="diameter")
    attacked: Annotated[
        int | Literal["unknown", "never"], Bounds("year of attack, unknown, or never", 1950, 2200, "(a year)")
    ] = "unknown"
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

    stump_height_ft: Annotated[float, Measure("height of the stumps", "ft", "m", "ft", 0, 4.5)] = Field(
        default=0.5, alias="stump_height"
    )
    log_length_ft: Annotated[float, Measure("length of the logs", "ft", "m", "ft", 1, 66)] = Field(
        default=8.0, alias="log_length"
    )
    trim_ft: Annotated[float, Measure("extra length per log", "ft", "m", "ft", 0, 3)] = Field(default=0.0, alias="trim")
    fuel_length_in: Annotated[float, Measure("length of firewood", "in", "cm", "in", 4, 60)] = Field(
        default=16.0, alias="fuel_length"
    )
    treat_over_in: Annotated[
        float,
        Measure("wood over this diameter over the bark is treated, thinner wood is slash", "in", "cm", "in", 1, 20),
    ] = Field(default=5.0, alias="treat_over")


class Crew(Record):
    """Hands of one kind."""

    name: str
    people: Annotated[int, Bounds("how many people", 1, 200)]
    hours_per_day: Annotated[float, Measure("hours on site per person and day", "h", "h", "h", 0.25, 16)]
    days: tuple[Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"], ...] = ("mon", "tue", "wed", "thu", "fri")
    skills: tuple[Skill, ...] = ()
    unpaid: bool = False
    rate: Annotated[Decimal | None, Bounds("money per person-hour", 0, 10000)] = None
    worth: Annotated[
        Decimal | None, Bounds("what a person-hour of unpaid hands is worth; default in data", 0, 10000)
    ] = None
    off: tuple[Span, ...] = ()


class Equipment(Record):
    """One machine or tool class that is there or can be had."""

    kind: Kind
    name: str | None = None
    owned: bool = False
    count: Annotated[int, Bounds("how many of these", 1, 200)] = 1
    capacity: Annotated[float | None, CapacityOfKind("the maker's figure")] = None
    working_capacity: Annotated[float | None, CapacityOfKind("what it takes all day")] = None
    feed: Literal["hand", "winch", "loader"] | None = None
    rent_per_hour: Annotated[Decimal | None, Bounds("rent for an hour", 0, 1000000)] = None
    rent_per_half_day: Annotated[Decimal | None, Bounds("rent for half a day", 0, 1000000)] = None
    rent_per_day: Annotated[Decimal | None, Bounds("rent for a day", 0, 1000000)] = None
    rent_per_week: Annotated[Decimal | None, Bounds("rent for a week", 0, 1000000)] = None
    rent_per_month: Annotated[Decimal | None, Bounds("rent for a month", 0, 1000000)] = None
    delivery: Annotated[Decimal | None, Bounds("delivery and pick-up together", 0, 1000000)] = None
    with_operator: bool = False
    cost_per_hour: Annotated[Decimal | None, Bounds("cost of running one's own machine per hour", 0, 1000000)] = None
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

    budget: Annotated[Decimal | None, Bounds("money that may be spent", 0, 100000000)] = None
    chips_site_takes_yd3: Annotated[
        float | None, Measure("loose chips that find a place on the site", "yd3", "m3", "yd3", 0, 100000)
    ] = Field(default=None, alias="chips_site_takes")
    firewood_cords_per_week: Annotated[
        float | None, Measure("firewood burned in a week", "cord", "cord", "cord", 0, 100)
    ] = None


class Wishes(Record):
    """What the user would like: avoid is hard unless infested bark would be left; prefer breaks near ties."""

    keep_sawlogs: bool = False
    keep_firewood: bool = False
    avoid: tuple[Method, ...] = ()
    prefer: tuple[Method, ...] = ()


class Worth(Record):
    """What the user says his own fuel and saw logs are worth to him; nothing is assumed."""

    firewood_per_cord: Annotated[Decimal | None, Bounds("what a cord of firewood is worth", 0, 100000)] = None
    sawlogs_per_thousand_bf: Annotated[
        Decimal | None, Bounds("what a thousand board feet of saw logs are worth", 0, 100000)
    ] = None
    chips_per_yd3: Annotated[Decimal | None, Bounds("what a cubic yard of loose chips is worth", 0, 100000)] = None


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
