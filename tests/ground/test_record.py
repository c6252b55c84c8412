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


def test_what_is_not_given_is_the_default_of_each_record_anew():
    one, other = Book(), Book()
    one.lines.append("a")
    assert (one.lines, other.lines, Book(["b"]).lines) == (["a"], [], ["b"])


@dataclass(frozen=True, slots=True)
class Checked:
    """One that looks at its values."""

    name: str

    def __post_init__(self) -> None:
        if not self.name:
            raise ValueError("a name is not empty")


def test_a_record_that_looks_at_its_values_does_so_from_the_first_on():
    for _ in range(2):
        with pytest.raises(ValueError, match="not empty"):
            Checked("")
    assert Checked("a").name == "a"


@pytest.mark.parametrize("_", ["the first record of a kind", "the second"])
@pytest.mark.parametrize(("args", "named"), [((), {}), (("a", 1.0, 2.0), {}), (("a",), {"feet": 1.0})])
def test_wrong_fields_are_refused_with_the_same_words_as_by_the_standard_one(args, named, _):
    @dataclass(frozen=True, slots=True)
    class Standard:
        """Named as the standard one, which the message names."""

        name: str
        inches: float = 5.0

    with pytest.raises(TypeError) as ours:
        Standard(*args, **named)
    with pytest.raises(TypeError) as theirs:
        globals()["Standard"](*args, **named)
    assert str(ours.value).split("Standard.")[-1] == str(theirs.value).split("Standard.")[-1]
