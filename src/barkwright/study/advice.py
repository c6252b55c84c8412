"""What one small change to a site would buy: a sentence for what is missed, and the best two changes in figures."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from barkwright.record import dataclass
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.watch import Watch
from barkwright.study.candidates import against_cost, against_loss
from barkwright.study.change import Change
from barkwright.study.efforts import CHANGES
from barkwright.study.guess import Guess, guess, habit_of
from barkwright.study.outcome import Outcome, Sure, Tried, tried
from barkwright.units import half_up

Again = Callable[[Change], Tried]  # plans a site again with a change
SOME_FT2 = 0.01  # less bark than this is none


@dataclass(frozen=True, slots=True)
class Guessed:
    """A change, and the quick guess of what the site comes to with it."""

    change: Change
    guess: Guess


def advise(
    work: SiteWork, schedule: Schedule, now: Outcome, sure: Sure | None = None, watch: Watch | None = None
) -> tuple[Schedule, tuple[Tried, ...]]:
    """The schedule with what would save each tree that is missed, and the changes that are worth proposing.

    Nothing is tried above a number of pieces; above a smaller one guesses are not planned again in full.
    """
    pieces = sum(len(tree.stem.pieces) for tree in work.trees)
    stopped = watch is not None and watch.stop
    if stopped or not work.inventory.crew or pieces > CHANGES["changes_pieces"]:
        return schedule, ()
    again = (lambda one: tried(work, now, one, sure, watch)) if pieces <= CHANGES["replans_pieces"] else None
    if schedule.unmet:
        return _saving_bark(work, schedule, now, again)
    return schedule, _saving_money(work, schedule, now, again) if again is not None and now.to_pay > 0 else ()


def _saving_bark(
    work: SiteWork, schedule: Schedule, now: Outcome, again: Again | None
) -> tuple[Schedule, tuple[Tried, ...]]:
    model = site_model(work)
    habit = habit_of(model, now.left_ft2)
    guesses = [Guessed(one, guess(changed, habit)) for one, changed in _models(model, against_loss(model, schedule))]
    saving = [one for one in guesses if now.left_ft2 - one.guess.left_ft2 > SOME_FT2]
    best = _best(saving, lambda one: half_up(one.guess.left_ft2))
    found = [
        again(one.change) if again is not None else Tried(one.change, now, None, now.left_ft2 - one.guess.left_ft2)
        for one in best
    ]
    found = [one for one in found if one.saved_ft2 > SOME_FT2]
    said = _sentences(schedule, now, saving, found)
    unmet = tuple(replace(one, change=said.get(one.tree, one.change)) for one in schedule.unmet)
    return replace(schedule, unmet=unmet), tuple(found)


def _sentences(schedule: Schedule, now: Outcome, saving: Sequence[Guessed], planned: Sequence[Tried]) -> dict[str, str]:
    """For each tree that is missed the smallest change that saves bark of it, and what that saves in all."""
    known = {one.change.phrase: one.saved_ft2 for one in planned}
    said: dict[str, str] = {}
    for one in saving:
        saved = known.get(one.change.phrase, now.left_ft2 - one.guess.left_ft2)
        text = f"{_title(one)} would save {max(half_up(saved), 1)} ft2 of infested bark on the whole site."
        for unmet in schedule.unmet:
            if unmet.tree not in said and one.guess.left.get(unmet.tree, 0.0) < unmet.infested_ft2 - SOME_FT2:
                said[unmet.tree] = text
    return said


def _saving_money(work: SiteWork, schedule: Schedule, now: Outcome, again: Again) -> tuple[Tried, ...]:
    model = site_model(work)
    changes = list(against_cost(model, schedule))
    if not changes:
        return ()
    habit = habit_of(model, now.left_ft2)
    enough = CHANGES["worth_saying"]
    base = guess(model, habit)
    saving = []
    for one, changed in _models(model, changes):
        then = guess(changed, habit)
        if then.left_ft2 <= base.left_ft2 + SOME_FT2 and base.paid - then.paid > enough * base.paid:
            saving.append(Guessed(one, then))
    best = _best(saving, lambda one: half_up(one.guess.paid))
    found = [again(one.change) for one in best]
    least = enough * float(now.to_pay)
    return tuple(one for one in found if one.comparable and one.saved_ft2 > -SOME_FT2 and float(one.saved) > least)


def _models(model: SiteModel, changes: Iterable[Change]) -> Iterator[tuple[Change, SiteModel]]:
    """Each change with the site that it makes, until as much has been looked at as advice is worth."""
    looked = 0
    for change in changes:
        if looked > CHANGES["changes_search"]:
            return
        changed = site_model(change.of(model.work))
        yield change, changed
        looked += changed.looked


def _best(saving: Sequence[Guessed], worth: Callable[[Guessed], Decimal]) -> list[Guessed]:
    """The best change of each family by what is left or paid, least first; of those, as many as are proposed."""
    ranked = sorted(saving, key=worth)  # stable: of equals the smaller change
    first = {one.change.family: one for one in reversed(ranked)}
    return [one for one in ranked if first[one.change.family] is one][: int(CHANGES["replans"])]


def _title(one: Guessed) -> str:
    """The change as the subject of a sentence; without a limit, the money that would be enough."""
    return f"A budget of {half_up(one.guess.paid)}" if one.change.phrase == "no budget" else one.change.title
