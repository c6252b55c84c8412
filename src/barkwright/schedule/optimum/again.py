"""The order that was given out, written in again: its ways, crews, seasons and days, as far as they are to come."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import field, replace

from barkwright.record import dataclass
from barkwright.schedule.before import Before, Key, Unit
from barkwright.schedule.guide import Guide, Season, Work
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.optimum.large import variants_of
from barkwright.schedule.optimum.variants import Variants
from barkwright.schedule.recipe import Pick, base_tasks
from barkwright.schedule.restored import replayed
from barkwright.schedule.scenario import Candidate, evaluate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tidy import tidied
from barkwright.schedule.watch import Watch


@dataclass(slots=True)
class Kept:
    """What a guide needs to know of the earlier order. Days are indices; those that have passed are negative."""

    picks: dict[str, Pick] = field(default_factory=dict)
    seasons: dict[str, Season] = field(default_factory=dict)
    crews: dict[Work, str] = field(default_factory=dict)
    days: dict[Work, int] = field(default_factory=dict)
    firsts: dict[str, list[int]] = field(default_factory=dict)  # by tree, the first days of its steps

    def add(self, tree: str, work: Work, unit: Unit) -> None:
        """Hold on to a step; to the earliest where several have one name."""
        self.days[work] = min(unit.first, self.days.get(work, unit.first))
        self.firsts.setdefault(tree, []).append(unit.first)
        if unit.crew is not None and not unit.gone:
            self.crews[work] = unit.crew


def again(model: SiteModel, best: Candidate, watch: Watch) -> list[Candidate]:
    """Plans that follow the earlier order: on its own days, later by as much as was lost, or in its sequence alone.

    best : the best plan so far; it is replayed too, and its guide says what the earlier order does not
    """
    if model.before is None or len(model.trees) > SETTINGS["again_trees"]:
        return []
    kept, scenario = kept_of(model, model.before), best.scenario
    found = [one for one in (replayed(model, best, True), replayed(model, best, False)) if one is not None]
    for guide in _guides(kept, scenario.guide or Guide()):
        for together in (False, True):
            if found and watch.stop:
                return found
            plain = evaluate(model, replace(scenario, guide=guide, together=together, had=(), spans=()))
            more = (tidied(model, plain), replayed(model, plain, True), replayed(model, plain, False))
            found += [plain, *(one for one in more if one is not None and one is not plain)]
    return found


def kept_of(model: SiteModel, before: Before) -> Kept:
    """The earlier order as far as its trees and pieces are there and its ways still can be taken."""
    kept, variants = Kept(), variants_of(model)
    for tree in model.trees:
        for task in base_tasks(model, tree):
            unit = before.units.get((tree.id, None, task.work, 1))
            if unit is not None:
                kept.add(tree.id, (tree.id, task.do or task.work), unit)
        season = _season(variants, tree, before)
        if season is None:
            continue
        kept.seasons[tree.id] = season
        for piece in tree.pieces:
            _add_piece(model, variants, kept, before, tree, piece, season)
    return kept


def _season(variants: Variants, tree: TreeModel, before: Before) -> Season | None:
    """The time between flights in which the earlier order takes a tree."""
    spans = variants.spans(tree)
    unit = before.units.get((tree.id, None, "fell", 1))
    day = 0 if unit is None else max(0, unit.first)
    inside = (one for one in spans if one[1] <= day and (one[0] is None or day <= one[0]))
    return next(inside, spans[0] if spans else None)


def _add_piece(
    model: SiteModel, variants: Variants, kept: Kept, before: Before, tree: TreeModel, piece: PieceModel, season: Season
) -> None:
    """Hold on to the way of a piece, in the run of days in which it is, and to the days of its steps."""
    name = piece.piece.id
    way = before.ways.get(name)
    position = next((at for at, one in enumerate(piece.ways) if one.id == way), None)
    if way is None or position is None:
        return
    found: list[tuple[tuple[float, ...], Pick]] = []
    for (pick, _, _), one in variants.by_goal(tree, piece, *season):
        if pick.option.position == position:
            keys = _keys(model, tree, piece, pick)
            day = max((before.units[key].last for key in keys if key in before.units), default=0)
            day = max(0, day)
            away = max(0, pick.option.first - day, day - pick.option.last)
            tardy = pick.due is not None and day > pick.due
            rank = (one.bark, one.flown, one.host, tardy, away, one.late, pick.level, pick.option.first)
            found.append((rank, pick))
    if not found:
        return
    pick = min(found, key=lambda each: each[0])[1]
    kept.picks[name] = pick
    for key, step in zip(_keys(model, tree, piece, pick), _steps(model, tree, piece, pick), strict=True):
        unit = before.units.get(key)
        if unit is not None:
            kept.add(tree.id, (name, step), unit)


def _keys(model: SiteModel, tree: TreeModel, piece: PieceModel, pick: Pick) -> list[Key]:
    """What the steps of a way are told by in the earlier order."""
    seen: dict[str, int] = {}
    keys: list[Key] = []
    for step in model.steps(tree, piece, pick.option.position, pick.option.window):
        seen[step.work] = seen.get(step.work, 0) + 1
        keys.append((piece.piece.id, pick.option.way, step.work, seen[step.work]))
    return keys


def _steps(model: SiteModel, tree: TreeModel, piece: PieceModel, pick: Pick) -> list[str]:
    return [step.do or step.work for step in model.steps(tree, piece, pick.option.position, pick.option.window)]


def _guides(kept: Kept, base: Guide) -> Iterator[Guide]:
    """All on its own days, what keeps them first; by date; what was lost later by as much; in turn; the rest anew."""
    lost = {tree for tree, firsts in kept.firsts.items() if min(firsts) < 0}
    late = max((-min(firsts) for firsts in kept.firsts.values()), default=0)
    by_date = _ranked(base, {tree: (min(firsts), max(firsts)) for tree, firsts in kept.firsts.items()})
    patient = _ranked(base, {tree: (tree in lost, min(firsts), max(firsts)) for tree, firsts in kept.firsts.items()})
    same = replace(
        base,
        picks={**base.picks, **kept.picks},
        seasons={**base.seasons, **kept.seasons},
        crews=kept.crews,
        more={},
        left=frozenset[str](),
        hired_first=False,
    )
    own = {work: max(0, day) for work, day in kept.days.items()}
    if lost:
        yield replace(same, ranks=patient, days=own)
    yield replace(same, ranks=by_date, days=own)
    if late > 0:
        yield replace(same, ranks=by_date, days={w: day + late if day < 0 else day for w, day in kept.days.items()})
        yield replace(same, ranks=by_date, days={})
    if lost:
        own = {work: day for work, day in own.items() if lost.isdisjoint((work[0], work[0].rpartition("/")[0]))}
        picks = {name: pick for name, pick in kept.picks.items() if name.rpartition("/")[0] not in lost}
        yield replace(same, picks={**base.picks, **picks}, ranks=patient, days=own)


def _ranked(base: Guide, keys: dict[str, tuple[float, ...]]) -> dict[str, float]:
    """Places of the trees in the order of their keys; those without one come last, as the guide has them."""
    names: Sequence[str] = sorted(keys, key=lambda name: (keys[name], base.ranks.get(name, 0.0)))
    rest = {name: rank + len(names) for name, rank in base.ranks.items() if name not in keys}
    return {**rest, **{name: float(place) for place, name in enumerate(names)}}
