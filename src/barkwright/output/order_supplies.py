"""What has to be there before the work starts: tools, rentals, permits, calls; each with its dates."""

from __future__ import annotations

import re
from collections import defaultdict
from datetime import date

from barkwright.output.advice import tags_of
from barkwright.output.blocks import Section, plain
from barkwright.output.names import tools, tree_names
from barkwright.output.needs import all_needs, covered
from barkwright.output.order_lifting import lifting_of
from barkwright.output.view import View
from barkwright.output.words import day, listing, money, span

HAND_TOOLS = ("axe", "hand saw", "knife", "fork", "rake", "spade", "bags")  # named in the sentences of the work
ROLLS = "cant-hook"
PERMIT = {
    "held": "You say that a burn permit is held. Have it at the fire and keep to its terms.",
    "not-needed": "You say that no burn permit is needed. Ask the fire authority on the day all the same.",
    "refused": "A burn permit was refused: nothing may be burned.",
}


def supplies(view: View) -> Section | None:
    """Own tools, rentals, calls and permits."""
    calls = [*_entered(view)]
    if not view.small:  # a small site's calendar has them
        calls = [*(f"By {day(by)}: {said}" for (by, _), said in call_days(view).items()), *calls]
    entries = [*calls, *_rentals(view), *_needs(view), *_permit(view), *_tools(view)]
    return (
        Section("Calls, rentals, permits and tools" if not view.small else "Have ready", (plain(entries, "[ ]"),))
        if entries
        else None
    )


def call_days(view: View) -> dict[tuple[date, str], str]:
    """The calls of the plan by their day and kind: what to say, like calls about several trees once."""
    lines: dict[tuple[date, str], list[str]] = {}
    for job in view.plan.schedule.jobs:
        if job.work == "call":
            what, of_site = view.units.sentence(job.what), job.tree == "site"
            kind = what if of_site else re.sub(rf"(?<!\w){re.escape(job.tree)}(?!\w)", "\0", what)
            lines.setdefault((job.last, kind), []).extend([] if of_site else [job.tree])
    return {(by, kind): _call(kind, tuple(dict.fromkeys(trees))) for (by, kind), trees in lines.items()}


def _call(kind: str, trees: tuple[str, ...]) -> str:
    said = kind.replace("\0", tree_names(trees))
    return f"{said}." if "\0" in kind or not trees else f"{said} ({tree_names(trees)})."


def _entered(view: View) -> list[str]:
    calls = [call for call in view.plan.inventory.calls if call.on >= view.plan.on]
    whose = [f" for {tree_names(call.trees)}" if call.trees else "" for call in calls]
    return [f"{day(call.on)}: {call.what}{of}, as you entered it." for call, of in zip(calls, whose, strict=True)]


def _rentals(view: View) -> list[str]:
    say, runs = view.units.sentence, sorted(view.plan.schedule.rentals, key=lambda run: (run.first, run.label))
    return [
        f"{span(run.first, run.last)}: rent {say(run.label)}, {run.billed}, {money(run.cost, view.currency)}."
        for run in runs
    ]


def _needs(view: View) -> list[str]:
    known = all_needs()
    done_by: dict[str, date] = {}
    for job in view.plan.schedule.jobs:
        for piece in job.pieces:
            done_by[piece] = min(done_by.get(piece, job.first), job.first)
    lines: dict[str, date] = {}
    for code, pieces in view.needs.items():
        days = [done_by[piece] for piece in pieces if piece in done_by]
        if days and code in known and code not in covered(view.needs) and code not in _called(view):
            lines[known[code].arrange] = min(days)
    say = view.units.sentence
    return [
        f"{f'Before {day(first)}' if first > view.plan.on else 'First of all'}: {say(text)}."
        for text, first in lines.items()
    ]


def _called(view: View) -> frozenset[str]:
    """Needs that a call on the calendar sees to."""
    located = any(job.work == "call" and job.tree == "site" for job in view.plan.schedule.jobs)
    return frozenset(("locate-services",)) if located else frozenset()


def _permit(view: View) -> list[str]:
    text = PERMIT.get(view.plan.inventory.site.burning.permit)
    return [text] if text is not None and "burning" in tags_of(view) else []


def _tools(view: View) -> list[str]:
    used: dict[str, set[date]] = defaultdict(set)
    for job in view.plan.schedule.jobs:
        for kind in job.equipment:
            used[kind].update(when for when, _ in job.day_hours)
    rented = {run.equipment for run in view.plan.schedule.rentals}
    owned = {item.kind for item in view.plan.inventory.equipment if item.owned}
    kinds = {kind for kind in used if kind in owned}
    if ROLLS in owned and _rolled(view):
        kinds.add(ROLLS)
    have = tools(sorted(kinds))
    by_hand = [
        word for word in HAND_TOOLS if any(re.search(rf"\b{word}\b", job.what) for job in view.plan.schedule.jobs)
    ]
    lines = [f"{'Yours' if view.small else 'Have ready'}: {listing(have)}."] if have else []
    lacking = tools(kind for kind in sorted(used) if kind not in owned and kind not in rented)
    if lacking:
        lines.append(f"Get: {listing(lacking)}.")
    fire = ["water and tools for the fire"] if "burning" in tags_of(view) else []
    if by_hand or fire:
        lines.append(f"Also: {listing([*by_hand, *fire])}.")
    if climbed := _climbed(view):
        lines.append(f"Climbing gear for {tree_names(climbed)}: the climber brings it and has checked it.")
    return lines


def _rolled(view: View) -> bool:
    """Are there logs that even two cannot lift?"""
    found = lifting_of(view)
    return found is not None and found.too_heavy_for_two > 0


def _climbed(view: View) -> list[str]:
    """Trees that a crew of the site takes down from a rope."""
    crews = {crew.name for crew in view.plan.inventory.crew}
    falls = {job.tree for job in view.plan.schedule.jobs if job.work == "fell" and job.crew in crews}
    return [tree for tree, felling in view.plan.fellings.items() if tree in falls and felling.how == "dismantle"]
