"""For the crew: the emergency card with its blanks, and what to wear for which task."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from barkwright.output.advice import tags_of
from barkwright.output.blocks import Facts, Para, Section, Table
from barkwright.output.hazards import lines_near
from barkwright.output.names import tree_names
from barkwright.output.order_briefing import crew_jobs
from barkwright.output.order_place import address
from barkwright.output.protection import book as protection
from barkwright.output.protection import note, paragraphs, rule, tasks_of
from barkwright.output.words import listing

if TYPE_CHECKING:
    from barkwright.output.view import View

LINE = "_" * 24
SHORT = "_" * 14
SIGN = "_" * 6
FIRST_AID = " Two of any crew are trained"
NOBODYS = "(no paragraph known)"
REACH = {
    None: "",
    True: "You say that a trailer or a small machine gets to the wood. ",
    False: "No trailer gets to the wood. ",
}
RULES_SHORT = "Paragraphs: US federal rules for employers, good practice for others. Local rules come first."
RULES_ARE = (
    "Paragraphs: US federal rules for employers; for others good practice. Local rules come first. "
    "* known through another publication; ** from memory."
)


def emergency(view: View) -> Section | None:
    """Where we are and whom to call, filled where the plan knows it and blank where only the crew does."""
    if not crew_jobs(view):
        return None
    site = view.plan.inventory.site
    place = f"{site.name}. Map point {site.latitude}, {site.longitude} (latitude, longitude)."
    people = sum(crew.people for crew in view.plan.inventory.crew)
    trained = f"Kit at {SHORT} Trained: {SHORT}"
    if people > 1:
        trained += f" and {SHORT}{FIRST_AID * (not view.small)}{rule(view, 'first-aid')}"
    extra = [*_utility(view), *_fire(view)]
    if view.small:
        pairs = [
            ("Place", f"{place} Address: {address(view) or LINE}"),
            ("Call", f"Emergency number {SHORT} Phone that works here {SHORT} Hospital {SHORT}"),
            ("First aid", trained),
            *extra,
        ]
        return Section("Emergency card: fill it in before work", (Facts(tuple(pairs)),))
    pairs = [
        ("Place", place),
        ("Address", address(view) or f"{LINE}{LINE}"),
        ("Way in", f"{REACH[site.machine_access]}A rescue vehicle gets to {LINE}"),
        ("Call", f"Emergency number {SHORT} Phone that works here, and where {LINE}"),
        ("Hospital", f"Nearest {LINE} Minutes by road {SIGN} Phone {SHORT}"),
        ("First aid", trained),
        *extra,
    ]  # fmt: skip
    return Section("Emergency card: fill it in before work", (Facts(tuple(pairs)),))


def _utility(view: View) -> Iterator[tuple[str, str]]:
    if trees := [line.tree for line in lines_near(view)]:
        yield "Utility", f"Phone {LINE} (power line near {tree_names(trees)})"


def _fire(view: View) -> Iterator[tuple[str, str]]:
    if "burning" in tags_of(view):
        yield "Fire", f"Fire authority, phone {LINE}"


def what_to_wear(view: View) -> Section | None:
    """Protective equipment by task, with the paragraph where one is known."""
    tasks = tasks_of(view) if crew_jobs(view) else ()
    if not tasks:
        return None
    rows: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for task in tasks:
        note(view, task)
        rows[task.wear].append(task.title)
    heading = "What to wear, by task"
    if view.small:
        said = [f"{_titles(titles)}: {_worn(wear)}." for wear, titles in rows.items()]
        return Section(heading, (Para(" ".join([*said, *([RULES_SHORT] if any(map(paragraphs, rows)) else [])])),))
    body = tuple((f"{_titles(titles)}", wear_words(wear), paragraphs(wear) or NOBODYS) for wear, titles in rows.items())
    return Section(heading, (Table(("Task", "Wear", "Paragraph\nof 29 CFR"), body, "lll"), Para(RULES_ARE)))


def _titles(titles: Sequence[str]) -> str:
    return f"{titles[0][0].upper()}{'; '.join(titles)[1:]}"


def wear_words(wear: Sequence[str]) -> str:
    """What is worn, listed."""
    return listing([protection().worn[name].what for name in wear])


def _worn(wear: Sequence[str]) -> str:
    found = paragraphs(wear)
    return wear_words(wear) + (f" (29 CFR {found})" if found else "")
