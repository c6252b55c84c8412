"""The place's year by month: light, work lost to weather, hours warm enough to fly; frozen ground, drying wood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.blocks import Para, Table
from barkwright.output.measures import Units
from barkwright.output.order_hours import CAUSES, untold
from barkwright.output.words import MONTHS, listing, number
from barkwright.season.climatewords import climate_words
from barkwright.season.daylight import sun_times
from barkwright.season.flyhours import fly_hours
from barkwright.season.lostdays import lost_days
from barkwright.season.year import in_words
from barkwright.treatment.drying import Drying
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.season.flyhours import FlyHours
    from barkwright.season.lostdays import LostDays
    from barkwright.season.site import Season
    from barkwright.season.year import FlightYear

MIDDLE = 15  # day of the month whose light stands for the month's


def place_blocks(season: Season, flights: Sequence[FlightYear], units: Units) -> Iterator[Table | Para]:
    """The table of months, what its columns mean and rest on, and when one can dig and wood dries."""
    fly, lost = fly_hours(season), lost_days(season)
    known = lost is not None and any(month.known for month in lost.months)
    head = ["Month", "Light\n(h)", "With\ntwilight (h)"]
    head += ["Work lost\nto weather"] if known else []
    head += ["Warm enough\nto fly (h a day)"] if fly else []
    rows = tuple(tuple(_row(season, month, lost if known else None, fly)) for month in range(1, 13))
    yield Table(tuple(head), rows, "l" + "r" * (len(head) - 1))
    yield Para(" ".join(_told(season, lost if known else None, fly)))
    for words in climate_words(season):
        yield Para(units.sentence(words))
    yield Para(_split(season, flights))


def _row(season: Season, month: int, lost: LostDays | None, fly: FlyHours | None) -> Iterator[str]:
    sun = sun_times(season.latitude, season.longitude, date(season.on.year, month, MIDDLE))
    yield MONTHS[month - 1]
    yield number(sun.daylight_h, 1)
    yield number(sun.twilight_h, 1)
    if lost is not None:
        told = lost.months[month - 1]
        yield f"{half_up(100 * told.share)} %" if told.known else "-"
    if fly is not None:
        hours = next((one for one in fly.months if one.month == month), None)
        yield "0" if hours is None else _between(hours.low_h, hours.high_h)


def _told(season: Season, lost: LostDays | None, fly: FlyHours | None) -> Iterator[str]:
    yield f"Light is from sunrise to sunset, twilight from dawn to dusk, on the {MIDDLE}th of the month."
    if lost is not None:
        known = [month for month in lost.months if month.known]
        told = listing([word for name, word in CAUSES if any(getattr(month, name) is not None for month in known)])
        take = "takes" if told in ("cold", "wind", "thunder") else "take"
        yield (
            f"Work lost is what {told} {take} of a working day by the record of {lost.station.name}; the limits are "
            "ours."
        )
        yield from untold(known)
    elif season.weather is not None:
        yield "The record tells too little to say what weather takes of the working days."
    else:
        yield "Without daily weather nothing is taken off the working days for it."
    if fly is not None:
        yield (
            f"Warm enough to fly are hours at {fly.from_c:g} C ({fly.from_c * 9 / 5 + 32:.0f} F) or more, reckoned in "
            f"two ways that bound them, by {fly.rests_on}."
        )


def _split(season: Season, flights: Sequence[FlightYear]) -> str:
    """What splitting now, and splitting later, comes to as fuel; of the brood it says nothing."""
    drying = Drying(season, season.on)
    said = [f"Wood split on {in_words(season.on)} is dry enough for a stove {drying.words}."]
    for flight in flights:
        likely, perhaps = drying.last_days(flight.onset)
        if perhaps < season.on:
            said.append(f"Wood split from now on is not dry before the flight of {flight.year}.")
        else:
            sure = f"likely if it is split by {in_words(likely)}, " if season.on <= likely < perhaps else ""
            split = "if by" if sure else "if it is split by"
            how = "" if likely == perhaps else "perhaps "
            said.append(f"It is dry before the flight of {flight.year} {sure}{how}{split} {in_words(perhaps)}.")
    return f"{' '.join(said)} Dry wood is no proof that the beetles in it are dead."


def _between(low_h: float, high_h: float) -> str:
    low, high = number(low_h, 1), number(high_h, 1)
    return low if low == high else f"{low}-{high}"
