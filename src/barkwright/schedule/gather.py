"""Few ways on one tree: pieces move to a way in use there where the price rises less than a further way counts as."""

from __future__ import annotations

from collections.abc import Iterator

from barkwright.schedule.options import Kit, Taste
from barkwright.schedule.recipe import Pick

ENDS = {"done": 0, "partial": 1, "not done": 2}


def gathered(waiting: dict[str, list[Pick]], taste: Taste) -> None:
    """Bring the picks of a tree's pieces that share a kit to the front of their lists.

    A kit is given up when each of its pieces has a pick of another kit in use that is as good in goal and end, and the
    prices together rise less than a kit counts as; the cheapest such change comes first.
    """
    while True:
        first = {name: picks[0] for name, picks in waiting.items() if picks and picks[0].option.kit}
        kits: dict[Kit, list[str]] = {}
        for name, pick in first.items():
            kits.setdefault(pick.option.kit, []).append(name)
        if len(kits) < 2:
            return
        changes = [change for kit in sorted(kits) if (change := _without(kit, kits, waiting, taste)) is not None]
        best = min(changes, key=lambda change: change[0], default=None)
        if best is None or best[0] >= taste.switch:
            return
        for name, pick in best[1]:
            waiting[name].remove(pick)
            waiting[name].insert(0, pick)


def _without(
    kit: Kit, kits: dict[Kit, list[str]], waiting: dict[str, list[Pick]], taste: Taste
) -> tuple[float, list[tuple[str, Pick]]] | None:
    """How much dearer the tree is without a kit, and the picks that take its place."""
    rise, moves = 0.0, []
    for name in kits[kit]:
        now = waiting[name][0]
        others = list(_as_good(now, kit, kits, waiting[name]))
        if not others:
            return None
        pick = min(others, key=lambda other: taste.price(other.option))
        rise += taste.price(pick.option) - taste.price(now.option)
        moves.append((name, pick))
    return round(rise, 4), moves


def _as_good(now: Pick, kit: Kit, kits: dict[Kit, list[str]], picks: list[Pick]) -> Iterator[Pick]:
    for pick in picks[1:]:
        used = pick.option.kit != kit and pick.option.kit in kits
        if used and pick.level <= now.level and ENDS[pick.option.end] <= ENDS[now.option.end]:
            yield pick
