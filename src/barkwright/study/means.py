"""Changes of means: hands, days and machines, more of them or fewer."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from barkwright.costs.prices import Prices
from barkwright.costs.tariff import rentable
from barkwright.inventory.model import Crew, Equipment, Inventory, Kind
from barkwright.schedule.calendar import WEEK, first_day, within
from barkwright.schedule.machines import label
from barkwright.season.daylight import daylight_hours
from barkwright.season.year import in_words
from barkwright.study.change import Change, UnfitChangeError, read_part
from barkwright.treatment.crews import SAW_PEOPLE

WORDS = ("no", "one", "two", "three", "four", "five")
YEAR = 366  # days in which a day off is looked for
WEEKEND = (5, 6)


def counted(count: int, one: str, many: str) -> str:
    """One more day, two more people, 12 more days."""
    word = WORDS[count] if count < len(WORDS) else str(count)
    return f"{word} more {one if count == 1 else many}"


def more_people(inventory: Inventory, on: date, count: int, place: int) -> Change:
    """More hands in a crew, with its skills, hours and pay."""
    crew = inventory.crew[place]
    people = read_part(inventory, on, "crew", {"name": "?", "people": crew.people + count, "hours_per_day": 8}).people
    phrase = f"{counted(count, 'person', 'people')} with {crew.name}"
    assumed = () if crew.unpaid else (f"It takes that they are skilled, equipped and paid as {crew.name}.",)
    more = _with_crew(inventory, place, crew.model_copy(update={"people": people}))
    judged = crew.people < SAW_PEOPLE or bool(inventory.local)  # the rules only ask whether anybody is alone
    return Change(phrase, _title(phrase), "people", more, judged, assumed)


def more_days(inventory: Inventory, on: date, count: int, place: int) -> Change:
    """A crew's first days off are worked."""
    crew = inventory.crew[place]
    days = [day for day, _ in zip(_days_off(inventory, crew, on), range(count), strict=False)]
    if len(days) < count:
        raise UnfitChangeError(f"{crew.name} has no {counted(count, 'day', 'days')} off", "they work every day already")
    phrase = f"{counted(count, 'day', 'days')} with {crew.name}"
    return _worked(inventory, place, phrase, days)


def more_weekends(inventory: Inventory, on: date, count: int, place: int) -> Change:
    """A crew's first weekends off are worked; where one of the two days is worked already, the other."""
    crew = inventory.crew[place]
    weekends: dict[date, list[date]] = {}
    for day in _days_off(inventory, crew, on):
        if day.weekday() in WEEKEND:
            weekends.setdefault(day - timedelta(days=day.weekday()), []).append(day)
    if len(weekends) < count:
        hint = f"try 'one more day with {crew.name}'"
        raise UnfitChangeError(f"{crew.name} has no {counted(count, 'weekend', 'weekends')} off", hint)
    phrase = f"{counted(count, 'weekend', 'weekends')} with {crew.name}"
    return _worked(inventory, place, phrase, [day for monday in sorted(weekends)[:count] for day in weekends[monday]])


def rented(inventory: Inventory, on: date, fields: dict[str, object], phrase: str) -> Change:
    """One more machine that can be had; without a rent it costs what the program takes for a machine without price."""
    machine: Equipment = read_part(inventory, on, "equipment", fields)
    more = inventory.model_copy(update={"equipment": (*inventory.equipment, machine)})
    if rentable(machine) or machine.cost_per_hour is not None:
        return Change(phrase, f"A rented {label(machine)}", "machine", more)
    price = Prices(inventory).machine(machine, 1.0)
    if price.basis == "placeholder":
        said = f"No rent is given for the {machine.kind}, so it costs nothing here, which is a placeholder."
    else:
        said = f"No rent is given for the {machine.kind}, so it counts {price.text}: a placeholder, not a price."
    return Change(phrase, f"A rented {label(machine)}", "machine", more, True, (said,), True)


def dropped(inventory: Inventory, kind: Kind) -> Change:
    """The site without its machines of a kind."""
    left = tuple(one for one in inventory.equipment if one.kind != kind)
    if len(left) == len(inventory.equipment):
        there = ", ".join(dict.fromkeys(one.kind for one in inventory.equipment)) or "no machine at all"
        raise UnfitChangeError(f"there is no {kind} to do without", f"listed under equipment: {there}")
    return Change(
        f"drop {kind}", f"Doing without the {kind}", "machine", inventory.model_copy(update={"equipment": left})
    )


def _worked(inventory: Inventory, place: int, phrase: str, days: list[date]) -> Change:
    crew = inventory.crew[place]
    more = crew.model_copy(update={"extra_days": tuple(sorted({*crew.extra_days, *days}))})
    named = ", ".join(in_words(day) for day in days)
    assumed = (f"Worked beside the usual days: {named}.",)
    return Change(phrase, _title(phrase), "days", _with_crew(inventory, place, more), False, assumed)


def _days_off(inventory: Inventory, crew: Crew, on: date) -> Iterator[date]:
    """Days with daylight, from the first day of work on, on which a crew does not come."""
    site, calendar = inventory.site, inventory.calendar
    first = first_day(calendar, on)
    for day in (first + timedelta(days=offset) for offset in range(YEAR)):
        off = WEEK[day.weekday()] not in crew.days or within(day, crew.off) or within(day, calendar.off)
        if off and day not in crew.extra_days and daylight_hours(site.latitude, site.longitude, day) > 0.0:
            yield day


def _with_crew(inventory: Inventory, place: int, crew: Crew) -> Inventory:
    crews = tuple(crew if at == place else one for at, one in enumerate(inventory.crew))
    return inventory.model_copy(update={"crew": crews})


def _title(phrase: str) -> str:
    return phrase[0].upper() + phrase[1:]
