"""The season at one look: a column for each week, with warmth, past flights, this plan's dates and the days left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Columns, Facts
from barkwright.output.words import MONTHS, amount, day
from barkwright.season.emergence import model
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.season.site import Season
    from barkwright.season.strip import Strip, Week, What

LABEL = 14
COLUMNS = 63  # weeks beside the labels on one page, with room for a word that begins over the last
EVERY = 4  # so many weeks apart the days left are printed
MOST_COUNTED = 9  # so many years fit one digit as they are; more are shown in tenths
LETTERS: dict[What, str] = {"now": "N", "finish by": "D", "first beetles": "F", "half out": "H", "over": "O"}
WARM = "Warm days"
OWN = "This year"
FLYING = "Years flying"
DATES = "Dates"
LEFT = "Days left"


def strip_columns(strip: Strip, days_left: Mapping[date, int]) -> tuple[Columns, ...]:
    """The strip as lines, in as many parts of like length as the page asks for.

    days_left : Mapping    Working days left before the next date, by the Monday of the week.
    """
    weeks = strip.weeks
    parts = -(-len(weeks) // COLUMNS)
    size = -(-len(weeks) // parts)
    rows = _rows(strip)
    return tuple(
        Columns(
            ("",) * (at > 0)
            + tuple(_part(weeks[at : at + size], [(label, cells[at : at + size]) for label, cells in rows], days_left))
        )
        for at in range(0, len(weeks), size)
    )


def legend(season: Season, strip: Strip, days_left: Mapping[date, int]) -> Facts:
    """What each row of the strip says, in words."""
    warm_c = model().warm_day_c
    reach = f"reach {warm_c:g} C ({warm_c * 9 / 5 + 32:g} F)"
    pairs = []
    if any(week.warm_days is not None for week in strip.weeks):
        pairs.append((WARM, f"days a week that {reach}, mean of the years on record; a dot is none"))
    if _shows_own(strip):
        pairs.append((OWN, f"warm days of these very weeks, up to {day(season.on)}"))
    if strip.years:
        tenths = "" if strip.years <= MOST_COUNTED else "tenths "
        record = f"{amount(strip.years, 'year')} on record"
        pairs.append((FLYING, f"how many {tenths}of {record} had beetles flying that week; * is all, a dot none"))
    now = "N now, " if _shows_now(strip) else ""
    pairs.append((DATES, f"{now}D be done by, F first beetles, H half are out, O over; - beetles are flying"))
    if days_left:
        pairs.append((LEFT, "working days from that week on to the next D"))
    return Facts(tuple(pairs))


def _part(weeks: Sequence[Week], rows: Sequence[tuple[str, str]], days_left: Mapping[date, int]) -> Iterator[str]:
    left = _left(weeks, days_left)
    for label, cells in (("", _years(weeks)), ("", _months(weeks)), *rows, (LEFT, left)):
        if cells.strip():
            yield label.ljust(LABEL) + cells.rstrip()


def _rows(strip: Strip) -> list[tuple[str, str]]:
    weeks = strip.weeks
    rows = []
    if any(week.warm_days is not None for week in weeks):
        rows.append((WARM, "".join(_digit(week.warm_days) for week in weeks)))
    if _shows_own(strip):
        rows.append((OWN, "".join(" " if week.own_warm_days is None else _digit(week.own_warm_days) for week in weeks)))
    if strip.years:
        rows.append((FLYING, "".join(_share(week.years_flying or 0, strip.years) for week in weeks)))
    first, *more = _letters(strip)
    rows.append((DATES, first))
    rows += [("", line) for line in more]
    return rows


def _letters(strip: Strip) -> list[str]:
    """The letters of the dates, each in its week; where one week has several, they stand one below the other."""
    weeks = strip.weeks
    deep = max(len(_shown(week, strip)) for week in weeks)
    lines = [[" "] * len(weeks) for _ in range(max(deep, 1))]
    flying = strip.flying_before
    for column, week in enumerate(weeks):
        shown = _shown(week, strip)
        lines[0][column] = "-" if flying else " "
        for depth, what in enumerate(shown):
            lines[depth][column] = LETTERS[what]
        for mark in week.marks:
            flying = (flying or mark.what == "first beetles") and mark.what != "over"
    return ["".join(line) for line in lines]


def _shown(week: Week, strip: Strip) -> list[What]:
    return [mark.what for mark in week.marks if mark.what != "now" or _shows_now(strip)]


def _shows_now(strip: Strip) -> bool:
    """Does the plan's day need a mark of its own, because the strip starts before it?"""
    return not any(mark.what == "now" for mark in strip.weeks[0].marks)


def _shows_own(strip: Strip) -> bool:
    """Is more on record of these very weeks than the one in which the plan is made?"""
    return sum(week.own_warm_days is not None for week in strip.weeks) > 1


def _months(weeks: Sequence[Week]) -> str:
    """The name of each month over the week that holds its first day; the first week has its own where there is room."""
    starts = [(column, found) for column, week in enumerate(weeks) if (found := _turn(week)) is not None]
    if not starts or starts[0][0] > 3:
        starts.insert(0, (0, weeks[0].first))
    return _placed((column, MONTHS[found.month - 1]) for column, found in starts)


def _years(weeks: Sequence[Week]) -> str:
    """The year over January, and over the first column unless January comes at once."""
    starts = [(column, found) for column, week in enumerate(weeks) if (found := _turn(week)) and found.month == 1]
    if not starts or starts[0][0] > 4:
        starts.insert(0, (0, weeks[0].first))
    return _placed((column, str(found.year)) for column, found in starts)


def _turn(week: Week) -> date | None:
    """The first of a month in a week."""
    days = (week.first + timedelta(days=number) for number in range(7))
    return next((one for one in days if one.day == 1), None)


def _placed(words: Iterable[tuple[int, str]]) -> str:
    line = ""
    for column, word in words:
        line = line.ljust(column) + word
    return line


def _digit(value: float | None) -> str:
    if value is None:
        return "?"
    return str(half_up(value)) if half_up(value) else "."


def _share(count: int, of: int) -> str:
    """The years of them all; of ten and more in tenths, where one is never shown as none, nor all but one as all."""
    if count in (0, of):
        return "*" if count else "."
    return str(count if of <= MOST_COUNTED else min(max(int(half_up(10 * count / of)), 1), 9))


def _left(weeks: Sequence[Week], days_left: Mapping[date, int]) -> str:
    shown = [(column, week) for column, week in enumerate(weeks) if column % EVERY == 0 and week.first in days_left]
    return _placed((column, str(days_left[week.first])) for column, week in shown)
