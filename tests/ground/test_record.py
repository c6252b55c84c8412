import copy
import dataclasses

import pytest
from pydantic import TypeAdapter

from barkwright.record import dataclass


@dataclasses.dataclass(frozen=True, slots=True)
class Standard:
    """As the standard library makes it."""

    name: str
    inches: float = 5.0


@dataclass(frozen=True, slots=True)
class Ours:
    """As the program makes it."""

    name: str
    inches: float = 5.0


@dataclass(slots=True)
class Book:
    """One that may change."""

    lines: list[str] = dataclasses.field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Mark:
    """One that holds nothing."""


def test_records_are_equal_when_all_their_fields_are():
    assert Ours("a") == Ours("a", 5.0)
    assert Ours("a") != Ours("a", 5.1)
    assert Ours("a") != Ours("b")
    assert Ours("a") != Standard("a")
    assert Mark() == Mark() != Ours("a")


def test_equal_records_are_one_key():
    assert len({Ours("a"), Ours("a"), Ours("b"), Mark(), Mark()}) == 3


def test_a_record_that_may_change_is_no_key():
    assert Book() == Book([])
    with pytest.raises(TypeError, match="unhashable"):
        hash(Book())


def test_a_record_is_shown_as_the_standard_one_is():
    assert repr(Ours("a")) == repr(Standard("a")).replace("Standard", "Ours")
    assert repr(Mark()) == "Mark()"


def test_records_are_dataclasses_to_everyone_else():
    assert dataclasses.replace(Ours("a"), inches=6.0) == Ours("a", 6.0)
    assert dataclasses.asdict(Ours("a")) == {"name": "a", "inches": 5.0}
    assert TypeAdapter(Ours).validate_json('{"name": "a"}') == Ours("a")
    assert copy.deepcopy(Ours("a")) == Ours("a")
    assert Ours.__slots__ == Standard.__slots__
