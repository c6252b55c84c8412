"""Columns of the period model: hours between days, variants of pieces, seasons of trees; and which can be best."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from barkwright.inventory.model import Destination
from barkwright.record import dataclass
from barkwright.schedule.model import PieceModel
from barkwright.schedule.recipe import Pick

NO_WORK = 10**9  # a day past all days
Goal = tuple[Pick, bool, bool]  # what is picked; is it after finish-by, and after the onset?
Hands = tuple[tuple[int, ...], int, tuple[tuple[int, ...], ...]]  # crews that may, people at once, machines by kind


@dataclass(slots=True)
class Chunk:
    """Hours of one kind of hands, all of them between two days, both included."""

    hands: Hands
    first: int
    last: int
    hours: float  # person-hours
    machine_hours: float  # of each machine

    def by(self, last: int) -> Chunk | None:
        """The same hours by an earlier day; None where they cannot begin by then."""
        if self.last <= last:
            return self
        return replace(self, last=last) if self.first <= last else None


@dataclass(slots=True)
class Variant:
    """One way of treating one piece in time for one goal."""

    pick: Pick
    bark: float  # infested bark left at onset [ft2]
    flown: float  # left to fly [ft2]
    avoided: int
    host: float  # green bark left lying [ft2]
    disliked: int
    late: float  # infested bark done after its finish-by [ft2]
    money: float  # worth taken off, stated prices added; without hands and machines [currency]
    chunks: tuple[Chunk, ...]
    chips: float = 0.0  # [yd3]
    cords: float = 0.0  # for the stove
    haul: tuple[Destination, str, float] | None = None  # where to, kind of machine, weight [lb]

    @property
    def start(self) -> int:
        """The last day on which it may begin; past all days where there is nothing to do."""
        return self.chunks[0].last if self.chunks else NO_WORK


@dataclass(slots=True)
class PieceColumns:
    """The variants of a piece, and what it counts as when none is taken though its tree is worked on."""

    piece: PieceModel
    vital: bool  # its tree is not felled without a variant of it
    variants: tuple[Variant, ...]
    host: float  # green bark left lying without a variant [ft2]


@dataclass(slots=True)
class SeasonColumns:
    """A tree taken between two flights."""

    closes: int | None
    opens: int
    chunks: tuple[Chunk, ...]  # looking, calling, felling, limbing and bucking
    money: float  # what a professional asks [currency]
    pieces: tuple[PieceColumns, ...]


def undominated(variants: Iterable[Variant]) -> list[Variant]:
    """The variants that no other of the same hands is as good as in everything."""
    kept: dict[tuple[Hands, ...], list[Variant]] = {(): []}
    for one in variants:
        hands = tuple(chunk.hands for chunk in one.chunks)
        same = kept.setdefault(hands, [])
        if not any(_as_good(other, one) for group in (kept[()], same) for other in group):
            kept[hands] = [*(other for other in same if not _as_good(one, other)), one]
    idle = kept.pop(())
    rest = (one for group in kept.values() for one in group)
    return [*idle, *(one for one in rest if not any(_as_good(other, one) for other in idle))]


def _as_good(one: Variant, other: Variant) -> bool:
    if len(one.chunks) > len(other.chunks) or one.chips > other.chips or one.cords > other.cords:
        return False
    if (one.bark, one.flown, one.avoided, one.host, one.disliked, one.late) > (
        other.bark, other.flown, other.avoided, other.host, other.disliked, other.late,
    ):  # fmt: skip
        return False
    if any(
        mine > theirs + 1e-9
        for mine, theirs in zip(
            (one.bark, one.flown, one.avoided, one.host, one.disliked, one.late, one.money),
            (other.bark, other.flown, other.avoided, other.host, other.disliked, other.late, other.money),
            strict=True,
        )
    ):
        return False
    if one.haul is not None and (other.haul is None or one.haul[0] != other.haul[0] or one.haul[1] > other.haul[1]):
        return False
    if one.chunks and len(one.chunks) != len(other.chunks):
        return False
    return all(
        a.hands == b.hands
        and a.first <= b.first
        and a.last >= b.last
        and a.hours <= b.hours + 1e-9
        and a.machine_hours <= b.machine_hours + 1e-9
        for a, b in zip(one.chunks, other.chunks, strict=False)
    )
