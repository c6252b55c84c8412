"""Phrases that ask for one change: what each makes of the inventory, and what is said of those not understood."""

from datetime import date
from decimal import Decimal

import pytest
from made_sites import site_text

from barkwright.inventory.model import Inventory
from barkwright.inventory.reading import read_inventory
from barkwright.study.change import Change, UnfitChangeError
from barkwright.study.phrases import PHRASES, read_phrase

ON = date(2026, 11, 25)
MORE = "limits: {budget: 3000}\nwishes: {avoid: [burn], prefer: [chip]}\n"


def site(more: str = MORE, change: tuple[str, str] = ("", "")) -> Inventory:
    text = site_text(3, 2, start="2026-11-30") + more
    inventory, faults = read_inventory(text.replace(*change) if change[0] else text, "site.yaml", ON)
    assert inventory is not None, faults[:2]
    return inventory


def asked(phrase: str, inventory: Inventory | None = None) -> Change:
    return read_phrase(phrase, inventory or site(), ON)


def only(change: Change, before: Inventory, *keys: str) -> None:
    """Nothing but these keys of the inventory has changed."""
    for key in Inventory.model_fields:
        if key not in keys:
            assert getattr(change.inventory, key) == getattr(before, key), key


@pytest.mark.parametrize(
    ("phrase", "expected"),
    [
        ("rent chipper 12 in", {"capacity": 12.0}),
        ("Rent a chipper 12\"", {"capacity": 12.0}),
        ("hire chipper 30 cm", {"capacity": pytest.approx(30 / 2.54)}),
        (
            "rent chipper 12 in at 310 a day, 90 delivery",
            {"capacity": 12.0, "rent_per_day": Decimal(310), "delivery": Decimal(90)},
        ),
        (
            "rent chipper 12 in takes 9 in, fed by winch, 310.50/day and 1,100 per week, delivery 90",
            {
                "capacity": 12.0, "working_capacity": 9.0, "feed": "winch", "rent_per_day": Decimal("310.5"),
                "rent_per_week": Decimal(1100), "delivery": Decimal(90),
            },
        ),
        ("rent excavator at USD 60 an hour with operator", {"rent_per_hour": Decimal(60), "with_operator": True}),
        ("rent stump grinder 210 per half day", {"rent_per_half_day": Decimal(210)}),
    ],
)  # fmt: skip
def test_a_machine_in_words_stands_in_the_inventory_as_it_would_in_the_file(phrase, expected) -> None:
    before = site()
    change = asked(phrase, before)
    only(change, before, "equipment")
    *rest, machine = change.inventory.equipment
    assert tuple(rest) == before.equipment
    assert not machine.owned
    given = {name for name in type(machine).model_fields if getattr(machine, name) is not None} - {"kind", "name"}
    assert {name: getattr(machine, name) for name in expected} == expected
    assert given == set(expected) | {"owned", "count", "with_operator"}


def test_a_machine_without_a_rent_is_called_a_placeholder_and_one_with_a_rent_is_not() -> None:
    bare = asked("rent chipper 12 in")
    assert bare.placeholder
    assert "placeholder" in bare.assumed[0]
    priced = asked("rent chipper 12 in at 310 a day")
    assert not priced.placeholder
    assert priced.assumed == ()


@pytest.mark.parametrize(
    "phrase", ["drop chipper", "without chipper", "without the chipper", "no chipper", "Drop a chipper."]
)
def test_a_machine_is_done_without(phrase: str) -> None:
    before = site()
    change = asked(phrase, before)
    only(change, before, "equipment")
    assert [one.kind for one in change.inventory.equipment] == ["chain-saw", "drawknife", "maul"]


@pytest.mark.parametrize(
    ("phrase", "people"),
    [
        ("one more person", 3), ("another person", 3), ("1 more hand", 3), ("2 more people with Ridge Crew", 4),
        ("five extra people", 7), ("one person more", 3),
    ],
)  # fmt: skip
def test_more_hands(phrase: str, people: int) -> None:
    before = site()
    change = asked(phrase, before)
    only(change, before, "crew")
    (crew,) = change.inventory.crew
    assert crew == before.crew[0].model_copy(update={"people": people})


@pytest.mark.parametrize(
    ("phrase", "days"),
    [
        ("one more day", [date(2026, 12, 5)]),  # Mon 30 Nov is the first day of work; the crew works Monday to Friday
        ("2 more days with ridge crew", [date(2026, 12, 5), date(2026, 12, 6)]),
        ("one more weekend", [date(2026, 12, 5), date(2026, 12, 6)]),
        ("two more weekends", [date(2026, 12, 5), date(2026, 12, 6), date(2026, 12, 12), date(2026, 12, 13)]),
    ],
)
def test_days_off_are_worked(phrase: str, days: list[date]) -> None:
    before = site()
    change = asked(phrase, before)
    only(change, before, "crew")
    assert list(change.inventory.crew[0].extra_days) == days
    assert str(days[0].day) in change.assumed[0]


def test_days_that_are_worked_already_are_not_asked_for_again() -> None:
    every = site(change=("[mon, tue, wed, thu, fri]", "[mon, tue, wed, thu, fri, sat, sun]"))
    assert asked("one more day", every).inventory.crew[0].extra_days == (date(2026, 12, 24),)  # the first of a span off
    weekends = site(change=("[mon, tue, wed, thu, fri]", "[sat, sun]"))
    assert asked("one more weekend", weekends).inventory.crew[0].extra_days == (date(2026, 12, 26), date(2026, 12, 27))
    never = site(change=("[mon, tue, wed, thu, fri]", "[mon, tue, wed, thu, fri, sat, sun]")).model_copy(
        update={"calendar": every.calendar.model_copy(update={"off": ()})}
    )
    with pytest.raises(UnfitChangeError, match="no one more day off"):
        asked("one more day", never)


def test_a_method_is_allowed_or_forbidden() -> None:
    before = site()
    free = asked("allow burn", before)
    only(free, before, "wishes")
    assert free.inventory.wishes.avoid == ()
    assert free.assumed == ()  # the permit is held
    hard = asked("forbid chip", before)
    only(hard, before, "wishes")
    assert hard.inventory.wishes.avoid == ("burn", "chip")
    assert hard.inventory.wishes.prefer == ()  # nothing is both liked and avoided


@pytest.mark.parametrize("permit", ["refused", "unknown"])
def test_burning_takes_a_permit_as_held_and_says_so(permit: str) -> None:
    before = site(change=("permit: held", f"permit: {permit}"))
    change = asked("allow burn", before)
    only(change, before, "wishes", "site")
    assert change.inventory.site.burning.permit == "held"
    assert "permit to burn is held" in change.assumed[0]


def test_the_start_and_the_budget() -> None:
    before = site()
    later = asked("start 2027-01-15", before)
    only(later, before, "calendar")
    assert later.inventory.calendar.start == date(2027, 1, 15)
    assert asked("start now", before).inventory.calendar.start == ON
    less = asked("budget 2,000", before)
    only(less, before, "limits")
    assert less.inventory.limits.budget == 2000
    assert asked("no budget", before).inventory.limits.budget is None


@pytest.mark.parametrize("phrase", PHRASES)
def test_every_phrase_that_is_named_is_understood(phrase: str) -> None:
    asked(phrase.replace("NAME", "ridge crew"))


@pytest.mark.parametrize(
    ("phrase", "said", "hint"),
    [
        ("rnt chiper 12", "'rnt chiper 12' is not understood", "did you mean 'rent chipper 12 in'"),
        ("please hurry", "is not understood", "what may be tried: rent chipper 12 in; "),
        ("", "is not understood", "one more weekend"),
        ("rent chiper 12 in", "no machine 'chiper'", "did you mean 'chipper'"),
        ("rent chipper", "needs its size", "rent chipper 12 in"),
        ("rent chipper 12 in tomorrow", "'tomorrow' in 'rent chipper 12 in tomorrow' is not understood", "write it as"),
        ("rent chipper 12 in at 3 a day, 4 a day", "rent per day twice", "write it as"),
        ("rent chipper 500 in", "capacity 500 in is out of range", "correct it"),
        ("rent chipper 12 in takes 14 in", "above the capacity", "never more than"),
        ("rent drawknife 12 in", "has no capacity", "delete this line"),
        ("drop winch", "no winch to do without", "chain-saw, drawknife"),
        ("drop chipper 9 in", "'9 in'", "drop chipper"),
        ("one more person with ridge cru", "no crew 'ridge cru'", "did you mean 'ridge crew'"),
        ("one more person with Smith", "no crew 'Smith'", "crews here: ridge crew"),
        ("900 more people", "900", "1 to 200"),
        ("199 more people", "people 201 is out of range", ""),
        ("allow brun", "no method 'brun'", "did you mean 'burn'"),
        ("start 2026-01-01", "lies before 2026-11-25", "start 2026-11-25"),
        ("start 2027-02-30", "is not a date", "start 2026-11-25"),
        ("budget 200000000", "out of range", ""),
    ],
)
def test_what_cannot_be_tried_is_refused_and_the_nearest_named(phrase: str, said: str, hint: str) -> None:
    with pytest.raises(UnfitChangeError) as fault:
        asked(phrase)
    assert said in str(fault.value)
    assert hint in fault.value.hint


def test_nobody_cannot_become_more() -> None:
    nobody = site().model_copy(update={"crew": ()})
    with pytest.raises(UnfitChangeError, match="nobody is written down"):
        asked("one more person", nobody)
