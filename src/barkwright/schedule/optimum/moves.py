"""Changes to a plan of a small site that may better it: who, when, in what order, by which ways, with which hires.

Each family of changes yields scenarios that differ from the plan's own in one thing, or in what belongs to one thing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import permutations

from barkwright.record import dataclass
from barkwright.schedule.guide import Guide, Work, alone, works_of
from barkwright.schedule.hires import used_days
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.optimum.columns import PieceColumns, SeasonColumns, Variant
from barkwright.schedule.optimum.guided import runs_of
from barkwright.schedule.optimum.search import Proof
from barkwright.schedule.recipe import Pick
from barkwright.schedule.scenario import Candidate, Scenario
from barkwright.schedule.settings import SETTINGS

Seasons = Mapping[str, tuple[SeasonColumns, ...]]  # by tree id
Picks = dict[str, Pick]


@dataclass(slots=True)
class Near:
    """A plan whose neighbours are sought, with the guide that tells all it does."""

    model: SiteModel
    proof: Proof
    seasons: Seasons
    plan: Candidate
    guide: Guide

    @property
    def order(self) -> list[TreeModel]:
        """The trees as they are written in."""
        return sorted(self.model.trees, key=lambda tree: self.guide.ranks[tree.id])

    @property
    def hired(self) -> list[int]:
        """The machines that may be hired."""
        return [machine.place for machine in self.model.machines if machine.hired]

    def by(self, guide: Guide) -> Scenario:
        """The plan's scenario under another guide."""
        return replace(self.plan.scenario, guide=guide)

    def seen_by_model(self) -> Guide:
        """What the period model says, in the order of the plan."""
        return replace(alone(self.model, self.proof.guide), ranks=self.guide.ranks)


Family = Callable[[Near], Iterator[Scenario]]


def broad(near: Near) -> Iterator[Scenario]:
    """The plan as it is told, then other ways of writing all of it in, and a hire less."""
    now, guide = near.plan.scenario, near.guide
    same = near.by(guide)
    yield same
    yield near.by(replace(guide, left=frozenset[str]()))
    yield replace(same, together=not now.together)
    yield replace(same, thrifty=not now.thrifty)
    yield near.by(near.seen_by_model())
    for place in near.hired:
        if place in now.machines:
            yield replace(same, machines=now.machines - {place})
    if near.hired:
        yield replace(near.by(replace(guide, hired_first=not guide.hired_first)), together=True)


def hires(near: Near) -> Iterator[Scenario]:
    """One machine hired for a day, with the ways that would be cheapest if it were there and no other were."""
    everything = replace(near.by(near.guide), machines=frozenset(machine.place for machine in near.model.machines))
    for place in near.hired:
        guide = _as_had(near, place)
        for run in runs_of(near.model, place, 1, int(SETTINGS["nearby_starts"])):
            yield replace(everything, guide=guide, spans=(run,))


def days_of_hire(near: Near) -> Iterator[Scenario]:
    """Machines in use hired for as many days, or a day less, from some other day on; and one after the other."""
    now, starts = near.plan.scenario, int(SETTINGS["nearby_starts"])
    for place, use in used_days(near.model, near.plan.plans).items():
        rest = tuple(one for one in now.spans if one[0] != place)
        for days in range(len(use), max(0, len(use) - 2), -1):
            for run in runs_of(near.model, place, days, starts):
                yield replace(near.by(near.guide), spans=(*rest, run))
    hired = {place: sum(days for _, _, days in spans) for place, spans in near.proof.hired.items()}
    if 1 < len(hired) < 4:
        guide = replace(near.seen_by_model(), hired_first=True)
        for order in permutations(hired):
            for run in runs_of(near.model, order[0], hired[order[0]], starts):
                for apart in (1, 0):
                    spans = _one_after_the_other(near.model, run, {one: hired[one] for one in order[1:]}, apart)
                    yield replace(now, guide=guide, spans=spans, together=True)


def trees(near: Near) -> Iterator[Scenario]:
    """A tree left or taken up again; written in first with its largest pieces first, or last; or in other ways."""
    guide = near.guide
    for tree in near.order:
        parts = {tree.id, *(piece.piece.id for piece in tree.pieces)}
        most = {piece.piece.id: -round(piece.infested_ft2, 6) for piece in tree.pieces}
        first = {**guide.ranks, tree.id: -1.0, **most}
        yield near.by(replace(guide, left=guide.left - parts if tree.id in guide.left else guide.left | {tree.id}))
        for season, picks in _ways(tree, near.seasons.get(tree.id, ())):
            seasons = {**guide.seasons, tree.id: (season.closes, season.opens)}
            taken = replace(guide, left=guide.left - parts, picks={**guide.picks, **picks}, seasons=seasons)
            yield near.by(taken)
            yield near.by(replace(taken, ranks=first))
        yield near.by(replace(guide, ranks=first))
        yield near.by(replace(guide, ranks={**guide.ranks, tree.id: float(len(guide.ranks))}))
        yield near.by(replace(guide, apart=guide.apart ^ (parts - {tree.id})))


def pieces(near: Near) -> Iterator[Scenario]:
    """A piece left or taken up again, or treated in another way or by another day."""
    guide = near.guide
    for tree in near.order:
        for piece, columns in _columns(near, tree):
            name = piece.piece.id
            taken = guide.left - {name, tree.id}
            yield near.by(replace(guide, left=taken if name in guide.left else guide.left | {name}))
            for variant in columns.variants:
                if variant.pick != guide.picks.get(name):
                    yield near.by(replace(guide, left=taken, picks={**guide.picks, name: variant.pick}))


def orders(near: Near) -> Iterator[Scenario]:
    """A tree written in earlier or later."""
    guide, names = near.guide, [tree.id for tree in near.order]
    for name in names:
        rest = [one for one in names if one != name]
        for place in range(1, len(rest)):
            row = [*rest[:place], name, *rest[place:]]
            yield near.by(replace(guide, ranks={**guide.ranks, **{one: float(at) for at, one in enumerate(row)}}))


def crews(near: Near) -> Iterator[Scenario]:
    """Some work done by one of the crews, or by any again."""
    guide, held = near.guide, near.guide.crews
    for work in _works(near):
        for crew in near.model.days.crews:
            if held.get(work) != crew.name:
                yield near.by(replace(guide, crews={**held, work: crew.name}))
        if work in held:
            yield near.by(replace(guide, crews={one: who for one, who in held.items() if one != work}))


def days(near: Near) -> Iterator[Scenario]:
    """Some work held back until one of the days on which somebody works, or no longer."""
    guide, held = near.guide, near.guide.days
    used = sorted({day for plan in near.plan.plans for placed in plan.placed for day, _, _ in placed.stints})
    for work in _works(near):
        for day in used:
            if held.get(work) != day:
                yield near.by(replace(guide, days={**held, work: day}))
        if work in held:
            yield near.by(replace(guide, days={one: when for one, when in held.items() if one != work}))


FAMILIES: tuple[Family, ...] = (broad, hires, days_of_hire, trees, pieces, orders, crews, days)


def _works(near: Near) -> list[Work]:
    """The works of a plan: steps of all pieces first, then pieces, then single steps of them."""
    tasks = (task for plan in near.plan.plans for task in plan.tasks if task.outside is None)
    found = dict.fromkeys(work for task in tasks for work in works_of(task))
    return sorted(found, key=lambda work: (work[0] != "", work[1] != ""))


def _columns(near: Near, tree: TreeModel) -> Iterator[tuple[PieceModel, PieceColumns]]:
    """The pieces of a tree with their variants, in the season in which the guide takes it."""
    for season in near.seasons.get(tree.id, ()):
        if (season.closes, season.opens) == near.guide.seasons.get(tree.id):
            yield from zip(tree.pieces, season.pieces, strict=True)


def _ways(tree: TreeModel, seasons: Sequence[SeasonColumns]) -> Iterator[tuple[SeasonColumns, Picks]]:
    """Ways for all pieces of a tree: the quickest, and one method and its tools for as many as it does for."""
    for season in seasons:
        kits = (variant.pick.option.kit for one in season.pieces for variant in one.variants if one.piece.at_stake)
        for kit in (None, *dict.fromkeys(kits)):
            picks: Picks = {}
            for piece, one in zip(tree.pieces, season.pieces, strict=True):
                like = [variant for variant in one.variants if variant.pick.option.kit == kit]
                best = min(like or one.variants, key=_quick, default=None)
                if best is not None:
                    picks[piece.piece.id] = best.pick
            yield season, picks


def _quick(variant: Variant) -> tuple[float, ...]:
    return (variant.bark, variant.flown, sum(chunk.hours for chunk in variant.chunks), variant.money)


def _as_had(near: Near, place: int) -> Guide:
    """The cheapest ways as though a machine were there and no other that must be hired were."""
    rate = min(crew.rate for crew in near.model.days.crews)
    others = set(near.hired) - {place}

    def price(variant: Variant) -> tuple[float, ...]:
        hired = any(set(places) <= others for chunk in variant.chunks for places in chunk.hands[2])
        cost = variant.money + rate * sum(chunk.hours for chunk in variant.chunks)
        return (variant.bark, variant.flown, variant.avoided, variant.host, hired, cost)

    picks = {
        piece.piece.id: min(columns.variants, key=price).pick
        for tree in near.order
        for piece, columns in _columns(near, tree)
        if columns.variants
    }
    return replace(near.guide, picks=picks, left=frozenset[str](), crews={}, days={})


def _one_after_the_other(
    model: SiteModel, run: tuple[int, int, int], rest: Mapping[int, int], apart: int
) -> tuple[tuple[int, int, int], ...]:
    """Hires that follow a first one, each from the last day of the one before or `apart` days of work later."""
    spans, last = [run], run[2]
    worked = [day for day in range(model.days.length) if max(crew.hours[day] for crew in model.days.crews) > 0.0]
    for place, days_needed in rest.items():
        there = [day for day in worked if day >= last][apart : apart + days_needed]
        if there:
            last = there[-1]
            spans.append((place, there[0], last))
    return tuple(spans)
