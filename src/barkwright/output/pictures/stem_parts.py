"""What the picture of a stem is drawn from, in pixels as in characters."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from barkwright.output.names import runs
from barkwright.output.pictures.drawing import Fill
from barkwright.record import dataclass
from barkwright.units import FT_PER_M

if TYPE_CHECKING:
    from barkwright.output.measures import Units
    from barkwright.stem.pieces import Piece

Lives = Literal["likely", "possible", "none", "host"]
LIVES: dict[Lives, str] = {
    "likely": "beetles likely",
    "possible": "beetles possible",
    "none": "no beetles",
    "host": "green wood, no beetles yet",
}
FILLS: dict[Lives, Fill] = {"likely": "cross", "possible": "dots", "none": "paper", "host": "lines"}
SIGNS: dict[Lives, str] = {"likely": "▓", "possible": "▒", "none": "░", "host": "╱"}
ROW_FT = 110.0  # logs that make a longer line are drawn in several; ours
_STEPS = (0.5, 1, 2, 5, 10, 20, 50, 100)


@dataclass(frozen=True, slots=True)
class StemPart:
    """A piece of the stem, with what lives in it and what becomes of it."""

    piece: Piece
    name: str
    lives: Lives
    fate: str
    thin: tuple[float, str] | None  # above its butt a machine takes it whole [ft], and which machine


@dataclass(frozen=True, slots=True)
class Run:
    """Neighbours, by the places of the first and the last, that become the same."""

    first: int
    last: int
    fate: str
    limbs: Literal["none", "too", "alone"] = (
        "none"  # do the limbs become the same as these, or is it about limbs alone?
    )


@dataclass(frozen=True, slots=True)
class Stretch:
    """Parts drawn in one line, and the runs under them; the places of runs count from the first of these parts."""

    parts: tuple[StemPart, ...]
    runs: tuple[Run, ...]

    def text(self, run: Run) -> str:
        """What is said under some of them: stump, 1-4: strip."""
        return f"{', '.join(_names(self.parts[run.first : run.last + 1], run))}: {run.fate}"

    @property
    def from_ft(self) -> float:
        """Where it begins [ft]."""
        return self.parts[0].piece.from_ft

    @property
    def to_ft(self) -> float:
        """Where it ends [ft]."""
        return self.parts[-1].piece.from_ft + self.parts[-1].piece.length_ft


@dataclass(frozen=True, slots=True)
class Stem:
    """Solid pieces from the butt up."""

    parts: tuple[StemPart, ...]
    runs: tuple[Run, ...]
    units: Units
    to_cut: bool  # are the cuts made in this plan?
    in_logs: bool  # is it cut already?

    @property
    def length_ft(self) -> float:
        """From the butt to the tip [ft]."""
        return sum(part.piece.length_ft for part in self.parts)

    @property
    def thickest_in(self) -> float:
        """Across where it is thickest, outside bark [in]."""
        return max(part.piece.butt_dob_in for part in self.parts)

    def stretches(self) -> Iterator[Stretch]:
        """The stem in one line, or many logs in lines of even length."""
        lines = -(-self.length_ft // ROW_FT) if self.in_logs else 1.0
        first, done = 0, 0.0
        for place, part in enumerate(self.parts):
            done += part.piece.length_ft
            after = self.parts[place + 1].piece.length_ft / 2 if place + 1 < len(self.parts) else self.length_ft
            if (done + after) * lines // self.length_ft > (done - part.piece.length_ft / 2) * lines // self.length_ft:
                yield Stretch(self.parts[first : place + 1], self._between(first, place))
                first = place + 1

    def _between(self, first: int, last: int) -> tuple[Run, ...]:
        return tuple(
            replace(run, first=max(run.first, first) - first, last=min(run.last, last) - first)
            for run in self.runs
            if run.first <= last and run.last >= first
        )

    @property
    def whole(self) -> Stretch:
        """All of it in one line, however long."""
        return Stretch(self.parts, self.runs)

    def ticks(self, length_ft: float, most: int) -> tuple[tuple[float, str], ...]:
        """A rule along a length: places [ft] with their numbers, the unit at the last; at most so many steps."""
        per = FT_PER_M if self.units.metric else 1.0
        step = next((step for step in _STEPS if length_ft / per / step <= most), _STEPS[-1])
        places = [step * place for place in range(int(length_ft / per / step + 1e-9) + 1)]
        unit = "m" if self.units.metric else "ft"
        return tuple((place * per, f"{place:g}" + f" {unit}" * (place == places[-1])) for place in places)

    def legend(self) -> tuple[Lives, ...]:
        """What lives anywhere in it, the worst first."""
        return tuple(lives for lives in LIVES if any(part.lives == lives for part in self.parts))


def _names(parts: Sequence[StemPart], run: Run) -> list[str]:
    if run.limbs == "alone":
        return ["limbs"]
    numbers = runs(part.piece.number for part in parts if part.piece.kind == "log")
    said = [part.name for part in parts if part.piece.kind == "stump"]
    said += [numbers] if numbers else []
    said += [part.name for part in parts if part.piece.kind == "top"]
    return [*said, "limbs"] if run.limbs == "too" else said
