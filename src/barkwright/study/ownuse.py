"""Which entries of the user's own files a site's plan never rests on."""

from __future__ import annotations

import re
from collections.abc import Sequence

from barkwright.costs.prices import PROXIES
from barkwright.ownfiles import Own
from barkwright.schedule.sitework import SiteWork
from barkwright.treatment.basis import FELLING_RATES, RATES, SETTINGS, rates_behind, settings_behind

BY_TOOL = re.compile(r"(peel|spud|split)-|stump-peel-factor|saw-debarker|turn-log|bucket-fill|fill-factor|dig-|lay-log")


def unused(entries: Sequence[Own], work: SiteWork) -> tuple[Own, ...]:
    """The entries that decide nothing here: rules that speak of no piece, figures behind none of its ways."""
    used: dict[str, set[str]] = {
        "rules": _rules(work),
        "regions": {work.season.region.id},
        "species": {tree.tree.species for tree in work.trees if tree.stem.local},
        "machine_rates": _machines(work),
    }
    figures, told = _figures(work), _told()
    for part in ("rates", "settings"):
        used[part] = figures | {one.id for one in entries if one.id not in told and not BY_TOOL.match(one.id)}
    return tuple(one for one in entries if one.id not in used[one.part])


def _rules(work: SiteWork) -> set[str]:
    return {
        reason.rule
        for tree in work.trees
        for ways in tree.ways
        for way in ways
        for window in way.windows
        for reason in window.reasons
        if reason.local
    }


def _machines(work: SiteWork) -> set[str]:
    prices = work.prices
    found = set()
    for each in work.inventory.equipment:
        rate = prices.rates.proxy(each.kind, each.working_capacity or each.capacity)
        if rate is not None and prices.machine(each, 1.0).basis in PROXIES:
            found.add(rate.code)
    return found


def _figures(work: SiteWork) -> set[str]:
    """Rates and sizes behind any way that is open on any day, and behind felling."""
    bench = work.bench
    chosen = {
        (way.id, window.bark)
        for tree in work.trees
        for ways in tree.ways
        for way in ways
        for window in way.windows
        if window.verdict != "ruled out"
    }
    found = {name for way, bark in chosen for name, _ in rates_behind(bench, way, bark)}
    found |= {name for way, _ in chosen for name, _ in settings_behind(bench, way)}
    fells = any(tree.tree.status in ("standing", "windthrown", "felled") for tree in work.trees)
    return found | (set(FELLING_RATES) if fells else set())


def _told() -> set[str]:
    """Rates and sizes of which it is known which ways rest on them."""
    return {name for names in (*RATES.values(), *SETTINGS.values(), FELLING_RATES) for name in names}
