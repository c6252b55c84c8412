"""The place of an inventory: where it is, what the ground is like, what may be burned, where wood may go."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from barkwright.inventory.measure import Bounds, Measure
from barkwright.inventory.part import Record, Span


class Ground(Record):
    """Can one dig here, have buried services been located, and when is it frozen? None: not answered."""

    diggable: bool | None = None
    services_located: bool | None = None
    frozen: tuple[Span, ...] | None = None  # an empty list: not at all


class Burning(Record):
    """What the user answered about the burn permit, and when burning is open."""

    permit: Literal["unknown", "held", "not-needed", "refused"] = "unknown"
    windows: tuple[Span, ...] = ()


class Destination(Record):
    """Where wood may be hauled to."""

    kind: Literal["mill", "landfill", "yard", "burn-site", "buyer", "other"]
    name: str | None = None
    miles: Annotated[float, Measure("mi", "mi", "mi", 0, 2000)]
    takes: tuple[Literal["logs", "firewood", "chips", "bark", "slash"], ...]
    processes_by: date | None = None
    live_spruce_within_miles: Annotated[
        float | Literal["none", "unknown"],
        Measure("mi", "km", "mi", 0, 1000),
    ] = Field(default="unknown", alias="live_spruce_within")
    fee_per_load: Annotated[Decimal | None, Bounds(0, 100000)] = None


class Stand(Record):
    """The living spruce around, for the published rating of how much beetles would take of them. All optional."""

    mean_dbh_in: Annotated[float | None, Measure("in", "cm", "in", 4, 60)] = Field(default=None, alias="mean_dbh")
    basal_area_ft2_per_ac: Annotated[float | None, Measure("ft2/ac", "m2/ha", "ft2/ac", 0, 600)] = Field(
        default=None, alias="basal_area"
    )
    spruce_in_canopy_percent: Annotated[float | None, Measure("%", "%", "%", 0, 100)] = None
    place: Literal["creek-bottom", "elsewhere"] | None = None
    site_index_ft: Annotated[float | None, Measure("ft", "m", "ft", 5, 250)] = Field(default=None, alias="site_index")


class Site(Record):
    """The place."""

    name: str
    units: Literal["imperial", "metric"]
    latitude: Annotated[float, Bounds(-90, 90, "degrees")]
    longitude: Annotated[float, Bounds(-180, 180, "degrees")]
    elevation_ft: Annotated[float | None, Measure("ft", "m", "ft", -1500, 20000)] = Field(
        default=None, alias="elevation"
    )
    region: str | None = None
    ecodivision: str | None = None
    weather: tuple[str, ...] = ()
    weather_units: Literal["imperial", "metric"] | None = None
    weather_station: str | None = None
    weather_elevation_ft: Annotated[float | None, Measure("ft", "m", "ft", -1500, 20000)] = Field(
        default=None, alias="weather_elevation"
    )
    weather_to_site_height: bool = False
    flight_dates: Literal["weather", "calendar"] | None = None
    nearest_live_spruce_ft: Annotated[
        float | Literal["none", "unknown"],
        Measure("ft", "m", "ft", 0, 500000),
    ] = Field(default="unknown", alias="nearest_live_spruce")
    slope_percent: Annotated[float, Measure("%", "%", "%", 0, 200)] = 0.0
    machine_access: bool | None = None
    ground: Ground = Ground()
    burning: Burning = Burning()
    destinations: tuple[Destination, ...] = ()
    stand: Stand | None = None
