"""Offers: a way of a piece in adjoining windows that are alike, without those that another beats in every respect."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from site_records import PEELS, Offer, PieceFacts, SiteFacts, TreeFacts, destroys, done_at

from barkwright.treatment.ways import Step, Way, Window


def offers_of(site: SiteFacts, tree: TreeFacts, piece: PieceFacts, way: Way) -> Iterator[Offer]:
    work, found = site.work, list[Offer]()
    before: Window | None = None
    for window in way.windows:
        first, last = max(0, site.index(window.first)), min(site.length - 1, site.index(window.last))
        against = window.verdict == "ruled out" and window.without_wish not in (None, "ruled out")
        if (window.verdict == "ruled out" and not against) or window.end == "not done" or first > last:
            before = None
            continue
        same = before is not None and (before.bark, before.end, before.needs) == (window.bark, window.end, window.needs)
        if same and found[-1].against == against and found[-1].last == first - 1:
            found[-1].last = last
        else:
            steps = work.steps(tree.tree.tree, piece.piece, piece.brood, way, window)
            worth = work.worth(tree.tree.tree, piece.piece, way)
            found.append(Offer(way, window, first, last, against, steps, worth))
        before = window
    yield from found


def undominated(site: SiteFacts, offers: list[Offer]) -> list[Offer]:
    """Without offers that another one beats in every respect, its steps being the first of theirs and no dearer."""
    kept: list[Offer] = []
    for one in offers:
        if any(_beats(site, other, one) for other in kept):
            continue
        kept = [other for other in kept if not _beats(site, one, other)]
        kept.append(one)
    return kept


def _beats(site: SiteFacts, one: Offer, other: Offer) -> bool:
    """Is every plan with the other way as good with this one? Equal ones beat each other, and the first stays."""
    never = date.max
    if len(one.steps) > len(other.steps) or (one.steps and done_at(one.steps) != done_at(other.steps)):
        return False
    if not one.steps and other.steps:
        return False
    return (
        one.first <= other.first
        and one.last >= other.last
        and (one.way.finish_by or never) >= (other.way.finish_by or never)
        and (one.way.too_late or never) >= (other.way.too_late or never)
        and (one.window.end == "done" or other.window.end == "partial")
        and one.against <= other.against
        and one.worth >= other.worth
        and not _drains(site, one)
        and ("locate-services" in other.window.needs or "locate-services" not in one.window.needs)
        and all(_no_dearer(a, b) for a, b in zip(one.steps, other.steps, strict=False))
    )


def _no_dearer(one: Step, other: Step) -> bool:
    return (
        (one.do in PEELS, destroys(one), one.people, one.wait_days, one.spans)
        == (other.do in PEELS, destroys(other), other.people, other.wait_days, other.spans)
        and set(one.skills) <= set(other.skills)
        and (one.equipment == other.equipment or not one.equipment)
        and one.person_hours.mean <= other.person_hours.mean
        and (one.machine_hours.mean <= other.machine_hours.mean or not one.equipment)
    )


def _drains(site: SiteFacts, one: Offer) -> bool:
    """Does it draw on a limit of this site?"""
    limits = site.work.inventory.limits
    chips = limits.chips_site_takes_yd3 is not None and one.way.then == "chips"
    return chips or (limits.firewood_cords_per_week is not None and one.way.id.endswith("-stove"))
