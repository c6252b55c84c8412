"""The program's own `dataclass`: the standard one, quicker to set up, for a program that starts anew for every order.

The standard decorator writes out and compiles six methods for every frozen class, each time the program starts; for
two hundred records that took a fifth of a run. Here only `__init__` is written out, and records share the rest: equal
when all their fields are, hashed alike, printed the same. mypy sees the standard decorator and refuses to assign to a
frozen record; the interpreter itself does not watch.
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
            record = dataclasses.dataclass(eq=False, repr=False, slots=slots)(plain)
            names = tuple(field.name for field in dataclasses.fields(record))
            _compare(record, names, hashed=frozen)
            record.__repr__ = _shown
            return record

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
