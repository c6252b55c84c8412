"""The program's own `dataclass`: the standard one, quicker to set up, for a program that starts anew for every order.

The standard decorator writes out and compiles six methods for every frozen class, each time the program starts; for
two hundred records that took a fifth of a run. Here only `__init__` is written out, when the first record of its kind
is made, and records share the rest: equal when all their fields are, hashed alike, printed the same. mypy sees the
standard decorator and refuses to assign to a frozen record; the interpreter itself does not watch.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(*, frozen: bool = False, slots: bool = False) -> Callable[[type], type]:
        """Make a dataclass of a class, as `dataclasses.dataclass` does; see the module for the difference."""

        def made(plain: type) -> type:
            plain.__doc__ = plain.__doc__ or plain.__name__  # else dataclass works out a signature to put there
            record = dataclasses.dataclass(init=False, eq=False, repr=False, slots=slots)(plain)
            _begin(record)
            names = tuple(field.name for field in dataclasses.fields(record))
            _compare(record, names, hashed=frozen)
            record.__repr__ = _shown
            return record

        return made


def _begin(record: Any) -> None:
    """Let the first record of a kind write out the kind's `__init__`."""

    def first(self: Any, *args: Any, **named: Any) -> None:
        record.__init__ = _init_of(record)
        record.__init__(self, *args, **named)

    record.__init__ = first


def _init_of(record: Any) -> Any:
    """An `__init__` that takes a value for each field, as the standard one does."""
    known: dict[str, Any] = {"_absent": object()}
    takes, does = ["self"], []
    for field in dataclasses.fields(record):
        name = value = field.name
        if field.default_factory is not dataclasses.MISSING:
            known[f"_make_{name}"] = field.default_factory
            takes.append(f"{name}=_absent")
            value = f"_make_{name}() if {name} is _absent else {name}"
        elif field.default is not dataclasses.MISSING:
            known[f"_default_{name}"] = field.default
            takes.append(f"{name}=_default_{name}")
        else:
            takes.append(name)
        does.append(f"self.{name} = {value}")
    if hasattr(record, "__post_init__"):
        does.append("self.__post_init__()")
    exec(f"def __init__({', '.join(takes)}): {'; '.join(does) or 'pass'}", known)
    made = known["__init__"]
    made.__qualname__ = f"{record.__qualname__}.__init__"
    return made


def _compare(record: Any, names: tuple[str, ...], hashed: bool) -> None:
    """Give a record equality by its fields and, if it is `hashed`, a hash that agrees with it."""
    values: Callable[[Any], Any] = attrgetter(*names or ("__class__",))

    def equal(self: Any, other: object) -> Any:
        return values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented

    def hash_of(self: Any) -> int:
        return hash(values(self))

    record.__eq__ = equal
    record.__hash__ = hash_of if hashed else None


def _shown(self: Any) -> str:
    fields = ", ".join(f"{field.name}={getattr(self, field.name)!r}" for field in dataclasses.fields(self))
    return f"{type(self).__qualname__}({fields})"
