"""How split wood dries here: by the place's mean year, or by a rule of thumb where that is not known."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cached_property

from barkwright.season.climate import climate_of
from barkwright.season.drying import Answer, dry_dates, last_split
from barkwright.season.dryness import air_of
from barkwright.season.site import Season
from barkwright.season.year import in_words
from barkwright.treatment.limits import LIMITS

DAY = timedelta(days=1)


class Drying:
    """When wood of this place is dry enough for a stove, if it is split at the earliest or on a given day.

    It speaks of fuel alone: drying is no proof that brood is dead.
    """

    def __init__(self, season: Season, on: date) -> None:
        self.on = on
        self._season = season
        self._last: dict[date, tuple[date, date]] = {}

    @cached_property
    def name(self) -> str:
        """What it rests on, in a few words."""
        climate = climate_of(self._season)
        if climate is None or air_of(self._season) is None:
            return "by a rule of thumb: from the start of May to the end of September wood dries"
        return f"reckoned coarsely from {climate.name}"

    @cached_property
    def stove_from(self) -> tuple[date | None, date | None]:
        """First days on which wood split on the plan's date is perhaps, and is likely dry; None: not in two years."""
        air = air_of(self._season)
        if air is None:
            day = _after_summer(self.on)
            return day, day
        dry = dry_dates(self.on, air)
        return _next(dry.high), _next(dry.low)

    @cached_property
    def stove_split(self) -> tuple[date, date] | None:
        """The last day to split wood for the stove, and the first to burn it: all of it is likely dry by then.

        Wood that is split later than the plan's date dries later, so the stove waits some days more (ours, see
        data/treatment/limits.yaml). None: not dry within two years.
        """
        first = self.stove_from[1]
        if first is None:
            return None
        air = air_of(self._season)
        if air is None:
            return LIMITS.day("drying_from", first.year), first
        burn = first + timedelta(days=LIMITS["stove_slack_days"])
        return last_split(air, burn, "likely"), burn

    @cached_property
    def words(self) -> str:
        """The same in words: "perhaps from 10 June 2027, likely from 12 August 2027"."""
        perhaps, likely = self.stove_from
        if perhaps is None:
            return "not within two years"
        if likely == perhaps:
            return f"from {in_words(perhaps)}"
        return f"perhaps from {in_words(perhaps)}, " + (
            "not surely within two years" if likely is None else f"likely from {in_words(likely)}"
        )

    def in_stove(self, day: date) -> Answer:
        """Is wood split on the plan's date dry enough for a stove on a day?"""
        perhaps, likely = self.stove_from
        if likely is not None and day >= likely:
            return "likely"
        return "uncertain" if perhaps is not None and day >= perhaps else "unlikely"

    def by_flight(self, split_on: date, onset: date) -> Answer:
        """Is wood split on a day dry before a flight?"""
        likely, uncertain = self.last_days(onset)
        if split_on <= likely:
            return "likely"
        return "uncertain" if split_on <= uncertain else "unlikely"

    def last_days(self, onset: date) -> tuple[date, date]:
        """The last days to split wood that is likely, and that is perhaps, dry before a flight."""
        found = self._last.get(onset)
        if found is None:
            air = air_of(self._season)
            if air is None:
                day = LIMITS.day("drying_from", onset.year - 1) - DAY
                found = day, day
            else:
                found = last_split(air, onset, "likely"), last_split(air, onset, "uncertain")
            self._last[onset] = found
        return found

    def breaks(self, onset: date | None) -> set[date]:
        """First days of the spans in which the answers stay the same."""
        found = {one for one in self.stove_from if one is not None}
        if onset is not None:
            found |= {one + DAY for one in self.last_days(onset)}
        return found


def _after_summer(split_on: date) -> date:
    """First day on which wood split on a day has had a full drying season. Ours, see data/treatment/limits.yaml."""
    year = split_on.year if split_on <= LIMITS.day("drying_from", split_on.year) else split_on.year + 1
    return LIMITS.day("drying_to", year) + DAY


def _next(day: date | None) -> date | None:
    return None if day is None else day + DAY
