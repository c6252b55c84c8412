"""An earlier order and a plan side by side, indexed by what the reasons for their differences ask."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from functools import cached_property

from barkwright.schedule.before import Key, keyed
from barkwright.schedule.calendar import hours_on, outdoors
from barkwright.schedule.digest import facts_of
from barkwright.schedule.earlier import Earlier, EarlierJob
from barkwright.schedule.jobs import Job, Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.study.fact_words import told
from barkwright.treatment.rulebook import templates
from barkwright.treatment.ways import Window

WORDS = {
    "inspect": "the look at", "call": "the call about", "fell": "felling", "limb and buck": "limbing and bucking",
    "process": "the work on", "bark": "the bark of", "stump": "the stump of", "slash": "the limbs and top of",
    "haul": "hauling", "stack": "stacking", "look again": "the look after the flight at",
}  # fmt: skip
SITE = ("calendar", "burning", "limits", "wishes", "worth", "best", "cutting", "destinations", "place",
        "local rules", "flight")  # fmt: skip
OPEN = ("fits", "fits with care")
SAME = 0.002  # hours that rounding may make


def named(job: Job | EarlierJob) -> str:
    """A job in a few words: felling T3, the work on T3/1 and T3/2."""
    if not job.pieces:
        return f"{WORDS[job.work]} {'the site' if job.tree == 'site' else job.tree}"
    parts = [piece.rpartition("/")[2] for piece in job.pieces]
    some = ", ".join(parts[:4]) + (", ..." if len(parts) > 4 else "")
    logs = ("log " if len(parts) == 1 else "logs ") if all(part.isdigit() for part in parts) else ""
    return f"{WORDS[job.work]} {job.tree} {logs}{some}"


class Since:
    """Look-ups over an earlier order and a plan; each index is built when it is first asked for."""

    def __init__(self, earlier: Earlier, work: SiteWork, schedule: Schedule, done: frozenset[str]) -> None:
        self.earlier, self.work, self.schedule, self.done = earlier, work, schedule, done
        self.on, self.currency = work.on, work.inventory.currency
        self.jobs = {job.id: job for job in schedule.jobs}
        self.crews = {crew.name: crew for crew in work.inventory.crew}
        self.place = outdoors(work.season)
        self.trees = {tree.tree.id: tree for tree in work.trees}
        self.ways = {piece.id: ways for tree in work.trees for piece, _, ways in tree.pieces()}
        self.choices = {choice.piece: choice for choice in schedule.choices}
        self.before = dict(keyed((job.pieces or (job.tree,), job.way, job.work, job) for job in earlier.jobs))
        self.now = dict(keyed((job.pieces or (job.tree,), job.way, job.work, job) for job in schedule.jobs))

    @cached_property
    def facts(self) -> dict[str, str]:
        """What this plan is made from."""
        return facts_of(self.work)

    @cached_property
    def was(self) -> dict[str, EarlierJob]:
        """By job of this plan, the job of the earlier order that it is."""
        return {job.id: self.before[key] for key, job in self.now.items() if key in self.before}

    @cached_property
    def followers(self) -> dict[str, list[Job]]:
        """By job, those that wait for it."""
        found: dict[str, list[Job]] = defaultdict(list)
        for job in self.schedule.jobs:
            for name in job.after:
                found[name].append(job)
        return found

    @cached_property
    def _by_day(self) -> dict[tuple[str | None, date], list[Job]]:
        found: dict[tuple[str | None, date], list[Job]] = defaultdict(list)
        for job in self.schedule.jobs:
            for day, _ in job.day_hours:
                found[job.crew, day].append(job)
        return found

    def way_now(self, piece: str) -> str | None:
        """The way of a piece in this plan."""
        choice = self.choices.get(piece)
        return None if choice is None else choice.way

    def new_ways(self, tree: str) -> bool:
        """Is any of the wood of a tree treated in another way than it was to be?"""
        names = [piece.id for piece in self.trees[tree].stem.pieces] if tree in self.trees else []
        return any(self.earlier.ways.get(name) != self.way_now(name) for name in names)

    def steps(self) -> Iterator[Key]:
        """All steps of the earlier order and of this plan, each once."""
        yield from dict.fromkeys((*self.before, *self.now))

    def hours(self, crew: str | None, day: date) -> float:
        """Hours of each person of a crew on a day [h]."""
        one = self.crews.get(crew or "")
        return 0.0 if one is None else hours_on(one, self.work.inventory.calendar, day, self.place)

    def on_day(self, crew: str | None, day: date) -> list[Job]:
        """Jobs of a crew on a day."""
        return self._by_day.get((crew, day), [])

    def used(self, crew: str | None, day: date, but: str) -> float:
        """Person-hours that a crew works on a day in this plan, one job left out [h]."""
        return sum(
            hours for job in self.on_day(crew, day) if job.id != but for one, hours in job.day_hours if one == day
        )

    def arrived(self, crew: str | None, day: date) -> list[Job]:
        """Jobs of a crew on a day that the earlier order did not have there."""
        return [job for job in self.on_day(crew, day) if not _there(self.was.get(job.id), crew, day)]

    def came(self, job: Job) -> str:
        """How a job came to its day, in words."""
        old = self.was.get(job.id)
        if old is None:
            return "is new"
        if old.first < self.on and old.first != job.first:
            return f"was to be done on {old.first} and is not recorded as done"
        return f"moves from {old.first} to {job.first}" if old.first != job.first else f"is done by {job.crew} now"

    def left(self, crew: str | None, day: date) -> list[EarlierJob]:
        """Jobs of the earlier order that are on that day of the crew no more."""
        still = {id(old) for job in self.on_day(crew, day) if (old := self.was.get(job.id)) is not None}
        return [job for job in self.earlier.jobs if _there(job, crew, day) and id(job) not in still]

    def is_done(self, name: str) -> bool:
        """Is the work on a piece, or the felling of a tree, recorded as done?"""
        return name in self.done

    def is_felled(self, tree: str) -> bool:
        """Did the earlier order have a tree stand that lies now?"""
        now = self.trees.get(tree)
        was = self.earlier.facts.get(f"tree {tree}", "")
        return now is not None and now.tree.status != "standing" and was.startswith("standing")

    def differs(self, fact: str) -> str | None:
        """In words, what of a fact is not as it was; None where it is, or where the earlier order does not say."""
        return told(fact, self.earlier.facts.get(fact), self.facts.get(fact)) if self.earlier.facts else None

    def is_arranged(self, tree: str) -> bool:
        """Is an appointment on record for a tree that was not there before?"""
        fact = f"call {tree}"
        return fact in self.facts and self.facts[fact] != self.earlier.facts.get(fact)

    def crew_differs(self, crew: str | None) -> str | None:
        """What of a crew is not as it was."""
        return None if crew is None else self.differs(f"crew {crew}")

    def tree_differs(self, tree: str) -> str | None:
        """What is known of a tree otherwise than before; not that it came down, as it was to."""
        if not self.is_felled(tree):
            texts = map(self.differs, (f"{what} {tree}" for what in ("tree", "call", "felling")))
            return next(filter(None, texts), None) or self._brood_differs(tree)
        was, now = (facts.get(f"tree {tree}", "") for facts in (self.earlier.facts, self.facts))
        return told(f"tree {tree}", _lying(was), _lying(now)) or self._brood_differs(tree)

    def _brood_differs(self, tree: str) -> str | None:
        """What is known otherwise of the brood in pieces that are not done."""
        fact = f"brood {tree}"
        if not self.earlier.facts:
            return None
        done = {name.rpartition("/")[2] for name in self.done if name.rpartition("/")[0] == tree}
        was, now = (facts.get(fact) for facts in (self.earlier.facts, self.facts))
        return told(fact, was and _without(was, done), now and _without(now, done))

    def site_differs(self) -> str | None:
        """Which crews, machines and parts of the inventory differ."""
        hands = dict.fromkeys(
            name for name in (*self.earlier.facts, *self.facts) if name.startswith(("crew ", "machine "))
        )
        return next(filter(None, map(self.differs, (*hands, *SITE))), None)

    def tree_there(self, tree: str) -> str | None:
        """Is a tree new, or gone?"""
        if tree != "site" and tree not in self.trees:
            return f"{tree} is not in the inventory any more."
        if tree != "site" and self.earlier.facts and f"tree {tree}" not in self.earlier.facts:
            return f"{tree} has been added since."
        return None

    def piece_there(self, piece: str) -> str | None:
        """Is a piece gone though its tree is there?"""
        return None if piece in self.ways else "its tree is cut into other pieces now."

    def way_closed(self, piece: str, way: str) -> str | None:
        """Can a way not be taken any more?"""
        one = next((each for each in self.ways.get(piece, ()) if each.id == way), None)
        if one is None:
            return self._tools_gone(way) or "the way of then cannot be taken with it any more."
        if any(window.verdict in OPEN and window.end != "not done" for window in one.windows):
            return None
        late = f", to be done by {one.finish_by}" if one.finish_by and one.finish_by < self.on else ""
        why = next((reason.because for window in one.windows for reason in window.reasons), "")
        return f"the earlier way{late}, cannot be taken any more.{' ' + why if why else ''}".replace("way, c", "way c")

    def tools_differ(self, piece: str, way: str) -> str | None:
        """Has a tool of a way come, gone or changed?"""
        one = next((each for each in self.ways.get(piece, ()) if each.id == way), None)
        kinds = () if one is None else one.tools
        return next(filter(None, (self.differs(f"machine {kind}") for kind in kinds)), None)

    def _tools_gone(self, way: str) -> str | None:
        """Is a tool of a way not on the list any more?"""
        known = templates().get(way)
        names = [f"machine {kind}" for kind in (known.tools if known else ())]
        return next(filter(None, (self.differs(name) for name in names if name not in self.facts)), None)

    def shut(self, job: Job, day: date) -> bool:
        """Is the way of a job closed for all its pieces on a day?"""
        found = [window.verdict in OPEN and window.end != "not done" for window in self._windows(job, day)]
        return bool(found) and not any(found)

    def bark(self, job: Job, day: date) -> str | None:
        """What the bark is like on a day, as the way of a job is reckoned."""
        return next((window.bark for window in self._windows(job, day)), None)

    def _windows(self, job: Job, day: date) -> Iterator[Window]:
        for piece in job.pieces:
            for way in self.ways.get(piece, ()):
                if way.id == job.way:
                    yield from (window for window in way.windows if window.first <= day <= window.last)

    def reckoned(self, job: Job, hours: float) -> str | None:
        """The state of the bark at which the way of a job comes to so many hours; None where no one state does."""
        tree = self.trees.get(job.tree)
        if tree is None or job.way is None:
            return None
        sums: dict[tuple[str, int], float] = defaultdict(float)
        for piece, brood, ways in tree.pieces():
            for way in (one for one in ways if one.id == job.way and piece.id in job.pieces):
                for window in {one.bark: one for one in way.windows}.values():
                    for number, step in enumerate(self.work.steps(tree.tree, piece, brood, way, window)):
                        if step.work == job.work:
                            sums[window.bark, number] += step.person_hours.mean
        found = {bark for (bark, _), total in sums.items() if abs(total - hours) < SAME}
        return found.pop() if len(found) == 1 else None

    def why_none(self, piece: str) -> str:
        """Why a piece is not treated."""
        missed = next((one.why for one in self.schedule.unmet if piece in one.pieces), None)
        tree = piece.rpartition("/")[0]
        left = next((one.why for one in self.schedule.unmet if one.tree == tree), None)
        if missed is None and left is not None:
            return f"its tree is left as it is. {left}"
        choice = self.choices.get(piece)
        return missed or (choice.why if choice is not None else "") or "nothing needs doing with it."


def _there(job: EarlierJob | None, crew: str | None, day: date) -> bool:
    return job is not None and job.crew == crew and job.first <= day <= job.last


def _without(brood: str, done: set[str]) -> str:
    """What lives in the pieces of a tree, those that are done left out."""
    found = []
    for like in brood.split("; "):
        said, _, parts = like.rpartition(" in ")
        left = [part for part in parts.split(", ") if part not in done]
        found += [f"{said} in {', '.join(left)}"] if left else []
    return "; ".join(found)


def _lying(fact: str) -> str:
    """What is said of a tree whether it stands or lies: its pieces and its size."""
    return ", ".join(fact.split(", ")[1:4])
