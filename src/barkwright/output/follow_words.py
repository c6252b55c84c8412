"""What the follow-up says in the words of its data file, and what each sentence rests on."""

from __future__ import annotations

from datetime import date

from barkwright.datafile import load
from barkwright.record import dataclass
from barkwright.sources import Basis, Citation, Grade, cite


@dataclass(frozen=True, slots=True)
class Saying:
    """One sentence or two, how good the evidence is, and where it is from; `to` names a distance."""

    text: str
    grade: Grade
    id: str = ""
    basis: Basis = "published"
    sources: tuple[str, ...] = ()
    to: str = ""

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Where it is from; empty where nobody published it."""
        return tuple(cite(source) for source in self.sources)


@dataclass(frozen=True, slots=True)
class FollowBook:
    """The whole file, data/output/follow.yaml."""

    checked_on: date
    looks: dict[str, Saying]
    around: tuple[Saying, ...]
    no_safe_distance: Saying
    which: tuple[Saying, ...]
    signs: tuple[Saying, ...]
    how: Saying
    found: Saying
    protect: tuple[Saying, ...]
    care: tuple[Saying, ...]


def follow_book() -> FollowBook:
    """All that the follow-up says."""
    return load("output/follow.yaml", FollowBook)
