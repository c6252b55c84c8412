"""The years on record, one by one: what each says of the flight, and which are left out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Para, Table, plain
from barkwright.output.words import MONTHS
from barkwright.season.emergence import tree_brood
from barkwright.season.springs import years_read
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.season.site import Season
    from barkwright.season.springs import Spring, Summer, YearRead

HEAD = (
    "Year",
    "Warm\nbefore",
    "One-year\nparents",
    "Warm\nneeded",
    "Fifth\nwarm day",
    "First\nbeetles",
    "Half\nout",
    "Over",
    "One-year\nbrood",
)
TOLD = (
    "Warm before: warm days of the year before. One-year parents: the share of one-year beetles among those that fly. "
    "Warm needed: warm days until half of them are out. The more warm days the year before had, the more beetles of "
    "one year are among those that fly, and the more warm days are needed until half of them are out. The fifth warm "
    "day is counted from 1 April. One-year brood is the share of a standing tree's brood, attacked in that year, that "
    "grows up in one year and flies in the next; a dash where the summer is not on record in full."
)


def year_blocks(season: Season) -> Iterator[Table | Para | Items]:
    """The table of years; nothing for a site without daily weather."""
    if season.weather is None:
        return
    read = years_read(season.weather, season.on)
    rows = tuple(_row(year, year.spring) for year in read if year.spring is not None and not year.left_out)
    if rows:
        yield Table(HEAD, rows, "lrrrlllll")
        yield Para(TOLD)
    lines = [f"{year.year} is left out: {year.left_out}." for year in read if year.left_out]
    if lines:
        yield plain(lines)
    if not read:
        yield Para("The record has no day with a highest temperature.")


def one_year_share(summer: Summer | None) -> float | None:
    """Share of one-year brood in a standing tree attacked in that year; None where its summer is not complete."""
    return tree_brood(summer.hours) if summer is not None and summer.complete else None


def _row(year: YearRead, spring: Spring) -> tuple[str, ...]:
    share = one_year_share(year.summer)
    return (
        str(year.year),
        str(spring.prior_warm_days),
        f"{half_up(100 * spring.parents)} %",
        str(spring.needed),
        *(_short(when) for when in (spring.fifth_day, spring.onset, spring.median, spring.end)),
        "-" if share is None else f"{half_up(100 * share)} %",
    )


def _short(when: date | None) -> str:
    return "-" if when is None else f"{when.day} {MONTHS[when.month - 1]}"
