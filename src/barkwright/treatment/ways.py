"""Ways: a method as it is really done here. The records that costs, schedule and output read."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright.inventory.model import Method
from barkwright.record import dataclass
from barkwright.sources import Reason
from barkwright.spread import Spread

Verdict = Literal["fits", "fits with care", "ruled out"]
End = Literal["done", "partial", "not done"]
Then = Literal["fuel", "saw log", "chips", "left on site", "hauled", "ash", "buried"]
Work = Literal[
    "inspect", "call", "fell", "limb and buck", "process", "bark", "stump", "slash", "haul", "stack", "look again"
]


@dataclass(frozen=True, slots=True)
class Step:
    """One piece of work in a way, in order. Hours are on-site hours, rests and set-up included."""

    work: Work
    what: str  # "strip the bark with the drawknife": plain words for the crew
    person_hours: Spread  # all hands together
    people: int  # fewest at once
    equipment: tuple[str, ...]  # kinds it occupies
    machine_hours: Spread  # hours each of them runs
    skills: tuple[str, ...]
    wait_days: int = 0  # days between the end of the step before and this one's start, at least
    spans: tuple[tuple[date, date], ...] | None = None  # only on these days (burn windows); None = any
    completes: bool = False  # the brood is stopped when this step ends: it is what finish-by binds
    do: str = ""  # a word of the closed list at the head of data/treatment/ways.yaml


Part = Literal["whole", "thin", "butt", "bark"]
Bark = Literal["kept", "dropped", "destroyed", "carried-off", "scored"]


@dataclass(frozen=True, slots=True)
class TemplateStep:
    """One step of a way as data: what is done, with what, to which part; hours come later."""

    work: Work
    do: str  # a word of the closed list at the head of data/treatment/ways.yaml
    tool: str | None = None  # equipment kind it occupies; None = hands
    part: Part = "whole"
    wait: Literal["cure", "dry"] | None = None
    in_windows: bool = False  # only on days when burning is open
    completes: bool = False


@dataclass(frozen=True, slots=True)
class Template:
    """A way before it meets a piece: one record of data/treatment/ways.yaml."""

    id: str
    method: Method
    title: str
    pieces: tuple[str, ...]  # log stump top limbs
    tools: tuple[str, ...]
    then: Then
    bark: Bark
    steps: tuple[TemplateStep, ...]
    spoils: bool = False  # lost as a saw log


@dataclass(frozen=True, slots=True)
class Yields:
    """What a way leaves or gives, per piece."""

    chips_yd3: float = 0.0
    cords: float = 0.0
    bark_yd3: float = 0.0  # loose
    ash_lb: float = 0.0
    pm25_lb: float = 0.0  # smoke
    trench_yd3: float = 0.0  # bank measure
    cover_in: float = 0.0
    sawlog_bf: float = 0.0
    haul_lb: float = 0.0


@dataclass(frozen=True, slots=True)
class Window:
    """A span of days with one verdict, one end result and one list of reasons."""

    first: date
    last: date
    verdict: Verdict
    end: End
    bark: str  # bark condition that the effort is taken at: slipping dormant frozen loosened dried
    reasons: tuple[Reason, ...]
    needs: tuple[str, ...] = ()  # what must be arranged first: burn-permit, locate-services, ask-destination ...
    without_wish: Verdict | None = None  # ruled out by a wish alone: the verdict if the client lets go of it


@dataclass(frozen=True, slots=True)
class Way:
    """One way of treating one piece, with its windows in order of date; its steps are computed per window on demand."""

    id: str  # debark-spud-burn-bark: template id, stable
    piece: str
    method: Method
    title: str  # "strip the bark with a spud, burn the bark"
    tools: tuple[str, ...]
    then: Then
    finish_by: date | None  # the completing step ends by then; None when nothing flies
    too_late: date | None
    windows: tuple[Window, ...]  # each says what holds when the completing step ends in it
