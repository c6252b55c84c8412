"""The job briefing: five topics, each filled from this plan, and a line for those who heard it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.advice import tags_of
from barkwright.output.blocks import Card, Facts, Para, Section, plain
from barkwright.output.hazards import both, hazards_of, keep_off, known_hazards, line_words, lines_near
from barkwright.output.names import piece_names, tools, tree_names
from barkwright.output.order_keep_out import in_pieces, piecemeal
from barkwright.output.order_lifting import hand_lifting
from barkwright.output.protection import rule
from barkwright.output.view import sentences
from barkwright.output.words import day, listing, number
from barkwright.record import dataclass
from barkwright.season.spells import bark_frozen
from barkwright.treatment.outside import PLACES

if TYPE_CHECKING:
    from barkwright.output.view import View
    from barkwright.schedule.jobs import Job

RUNS = (
    "chipper", "splitter", "saw-debarker", "stump-grinder", "winch", "tractor", "skid-steer", "loader", "excavator",
    "backhoe", "aerial-lift", "portable-sawmill",
)  # fmt: skip
CREW_WORK = ("fell", "limb and buck", "process", "bark", "stump", "slash", "haul", "stack")
BLANK = "_" * 8
INITIALS = 6  # so many people have a place for their initials
RETREAT_FT = 20.0  # [osha-etool-logging]
NAMED = 4  # so many days are named one by one


@dataclass(frozen=True, slots=True)
class Topic:
    """One of the five things that are talked through, and what this plan says about it."""

    title: str
    label: str  # for a small site
    lines: tuple[str, ...]


def topics_of(view: View) -> tuple[Topic, ...]:
    """The five topics of a briefing but the last, what to wear, which has a section of its own."""
    parts = (
        ("Hazards", "Hazards", _hazards(view)),
        ("How it is done", "How", _how(view)),
        ("Special precautions", "Special", _special(view)),
        ("What is live or can move", "Can move", _energy(view)),
    )
    return tuple(Topic(title, label, sentences(lines)) for title, label, lines in parts)


def briefing(view: View) -> Section | None:
    """What is talked through before work begins; nothing where nobody works here."""
    if not crew_jobs(view):
        return None
    topics = topics_of(view)
    lead = f"Talk this through before each job, and again when something changes{rule(view, 'briefing')}."
    heard = f"Talked through on {BLANK} by {BLANK}. Initials: {' '.join(['_____'] * _people(view))}"
    if view.small:
        pairs = [(topic.label, " ".join(topic.lines)) for topic in topics if topic.lines]
        return Section(
            "Job briefing: talk it through before each job",
            (
                Facts(
                    (*pairs, ("Heard", f"{heard}.")),
                ),
            ),
        )
    cards = [
        Card(f"{number}. {topic.title}", (plain(topic.lines or ("Nothing on this site that is known of.",)),))
        for number, topic in enumerate(topics, 1)
    ]
    last = Card("5. What to wear", (plain(("See the table below.",)),))
    return Section("Job briefing", (Para(lead), *cards, last, Para(f"{heard}.")))


def crew_jobs(view: View) -> tuple[Job, ...]:
    """The work that the site's own crews do with wood, in order of date."""
    crews = {crew.name for crew in view.plan.inventory.crew}
    jobs = [job for job in view.plan.schedule.jobs if job.work in CREW_WORK and (job.crew in crews)]
    return tuple(sorted(jobs, key=lambda job: job.first))


def _people(view: View) -> int:
    return max(1, min(INITIALS, sum(crew.people for crew in view.plan.inventory.crew)))


# ---- 1. hazards -----------------------------------------------------------------------------------------------------


def _hazards(view: View) -> Iterator[str]:
    found: dict[str, list[str]] = defaultdict(list)
    for tree in view.trees.values():
        for code in hazards_of(view, tree):
            found[known_hazards()[code].name].append(tree.id)
    if found:
        named = "; ".join(f"{tree_names(trees)} ({name})" for name, trees in found.items())
        yield f"Dangerous trees: {named}. The cards say what that means."
    yield from _within_reach(view)
    if slope := view.plan.inventory.site.slope_percent:
        yield f"Slope of {slope:g} %: trees, logs and rounds slide and roll. Nobody stands below them."
    yield from _cold(view)
    yield from _heaviest(view)


def _within_reach(view: View) -> Iterator[str]:
    hit: dict[str, list[str]] = defaultdict(list)
    for tree in view.trees.values():
        felling = view.plan.fellings.get(tree.id)
        reach = felling.reach_ft if felling is not None and tree.id in view.felled else None
        for name, what in PLACES.items():
            far = getattr(tree.near, name)
            if reach is not None and isinstance(far, float | int) and far <= reach:
                hit[what].append(f"{tree.id} {view.units.feet(far)}")
    if hit:
        yield f"Within reach of a falling tree: {'; '.join(f'{what} ({listing(at)})' for what, at in hit.items())}."


def _cold(view: View) -> Iterator[str]:
    days = sorted({when for job in crew_jobs(view) for when, _ in job.day_hours})
    cold = [when for when in days if bark_frozen(view.plan.season.latitude, when)]
    if cold:
        yield f"Cold, {_days(cold)}: warm up by turns; cold hands and icy footing mean stop."


def _heaviest(view: View) -> Iterator[str]:
    worked = {piece for job in crew_jobs(view) for piece in job.pieces}
    logs = [piece for piece in view.pieces.values() if piece.kind == "log" and piece.id in worked]
    if logs:
        heavy = max(logs, key=lambda piece: piece.lift_lb)
        yield f"Heaviest log: {piece_names([heavy.id])}, {view.units.pounds(heavy.lift_lb)}."


# ---- 2. how it is done ----------------------------------------------------------------------------------------------


def _how(view: View) -> Iterator[str]:
    own, others = _felled_by_crew(view), _taken_down(view)
    if own:
        names = tree_names(sorted((tree for _, tree in own), key=view.tree_places.__getitem__))
        yield f"Felled by {listing(sorted({by for by, _ in own}))}: {names}."
        yield (
            "Way out: cleared before the first cut, 45 degrees back and to the side, at least "
            f"{both(view, RETREAT_FT, 1)} long, never straight behind{rule(view, 'retreat')}."
        )
    yield from others
    yield from piecemeal(view, {job.tree: job.crew or "" for job in crew_jobs(view) if job.work == "fell"})
    zones = [
        felling.drop_zone_ft
        for tree, felling in view.plan.fellings.items()
        if tree in view.felled and felling.drop_zone_ft is not None and not in_pieces(view, view.trees[tree])
    ]
    if zones:
        near, far = both(view, min(zones)), both(view, max(zones))
        away = near if near == far else f"{near} to {far}"
        yield (
            f"While a tree is felled everybody else is two tree lengths away, {away}, and farther downhill"
            f"{rule(view, 'two-lengths')}.{'' if view.small else ' The cards give it for each.'}"
        )
    if lift := hand_lifting(view):
        yield f"By hand: {lift[0].lower()}{lift[1:]}"


def _felled_by_crew(view: View) -> list[tuple[str, str]]:
    fells = [job for job in crew_jobs(view) if job.work == "fell"]
    return [(job.crew or "", job.tree) for job in fells if not in_pieces(view, view.trees[job.tree])]


def _taken_down(view: View) -> list[str]:
    """Who from outside takes which trees down, on which day."""
    crews = {crew.name for crew in view.plan.inventory.crew}
    found: dict[tuple[str, date, bool], list[str]] = defaultdict(list)
    for job in view.plan.schedule.jobs:
        if job.work == "fell" and job.crew not in crews and job.crew is not None:
            found[job.crew, job.first, job.provisional].append(job.tree)
    said = [
        f"{tree_names(trees)}, {day(when)}{', still to be settled' if open_ else ''}, by a {who}"
        for (who, when, open_), trees in found.items()
    ]
    return [f"Not ours to fell: {'; '.join(said)}."] if said else []


# ---- 3. special precautions -----------------------------------------------------------------------------------------


def _special(view: View) -> Iterator[str]:
    wait: dict[tuple[int, ...], list[str]] = defaultdict(list)
    for job in crew_jobs(view):
        if numbers := view.question_numbers(job):
            wait[numbers].append(job.tree if job.tree != "site" else job.pieces[0].rpartition("/")[0])
    if wait:
        named = "; ".join(
            f"{tree_names(sorted(trees, key=view.tree_places.__getitem__))} ({_asked(numbers)})"
            for numbers, trees in wait.items()
        )
        yield f"Not begun before it is answered: {named}."
    first = [tree.id for tree in view.trees.values() if _danger_first(view, tree.id)]
    if first:
        yield _first_down(view, first)
    if shared := _shared_days(view):
        yield (
            f"More than one crew works on {_days(shared)}: two tree lengths apart while anybody fells"
            f"{rule(view, 'work-areas')}."
        )
    if "burning" in tags_of(view):
        permit = view.plan.inventory.site.burning.permit
        held = {"held": "you say a permit is held", "not-needed": "you say no permit is needed"}
        yield f"Fire: {held.get(permit, 'the permit is not answered')}; ask on the morning whether burning is open."
    if not view.small and _people(view) > 1:
        yield f"At the end of each day count the people{rule(view, 'count-people')}."


def _asked(numbers: tuple[int, ...]) -> str:
    return f"question{'s' * (len(numbers) > 1)} {listing([str(number) for number in numbers])}"


def _danger_first(view: View, tree: str) -> bool:
    return view.trees[tree].status == "standing" and bool(
        {"beetle-killed", "dead-top", "decay", "hung-up"} & set(hazards_of(view, view.trees[tree]))
    )


def _first_down(view: View, trees: Sequence[str]) -> str:
    """Danger trees come down before other work near them; from those that stay one keeps away."""
    falls, stays = ([tree for tree in trees if (tree in view.felled) == down] for down in (True, False))
    said = [f"take {tree_names(falls)} down first; until then no other work within two tree lengths"] if falls else []
    if stays:
        said.append(f"{tree_names(stays)} {'stay' if len(stays) > 1 else 'stays'} up: no work within two tree lengths")
    text = "; ".join(said)
    return f"{text[0].upper()}{text[1:]}{rule(view, 'danger-trees')}."


def _shared_days(view: View) -> list[date]:
    """Days on which one crew fells and another works too."""
    who: dict[date, set[str]] = defaultdict(set)
    fells: set[date] = set()
    for job in view.plan.schedule.jobs:
        for when, _ in job.day_hours:
            who[when].add(job.crew or "")
            if job.work == "fell":
                fells.add(when)
    return sorted(when for when in fells if len(who[when]) > 1)


# ---- 4. live, or can move -------------------------------------------------------------------------------------------


def _energy(view: View) -> Iterator[str]:
    yield from line_lines(view)
    tags = tags_of(view)
    if "digging" in tags:
        located = view.plan.inventory.site.ground.services_located
        state = "you say they are located" if located else "not located yet: call before anybody digs or grinds"
        yield f"Buried services: {state}{rule(view, 'locate-services')}."
    ran: dict[str, set[date]] = defaultdict(set)
    for job in crew_jobs(view):
        for kind in job.equipment:
            if kind in RUNS:
                ran[kind].update(when for when, _ in job.day_hours)
    if ran:
        named = "; ".join(f"{tools([kind])[0]} {_days(sorted(days))}" for kind, days in ran.items())
        yield (
            f"Machines: {named}. Before anybody clears or opens one: engine off, key out, wait until all stands still"
            f"{rule(view, 'lock-out')}."
        )
    down = [tree.id for tree in view.trees.values() if tree.status == "windthrown" and tree.id in view.jobs_of]
    if down:
        yield f"Root plates that can tip: {tree_names(down)}."
    if "log-work" in tags:
        yield "Logs that can roll: block them before anybody cuts or strips."


def line_lines(view: View) -> Iterator[str]:
    """Power lines by kind and voltage, with the trees near them and how near people and machines may come."""
    found: dict[str, list[str]] = defaultdict(list)
    for line in lines_near(view):
        off = keep_off(view, line, rule(view, "line-people"), rule(view, "line-machines"))
        found[f"{line_words(line)}. Distance to keep: {off}"].append(f"{line.tree} {view.units.feet(line.distance_ft)}")
    for words, trees in found.items():
        yield (f"Power line, from {listing(trees)}: {words}. Nearer is for the utility or a line-clearance arborist.")


def _days(days: Iterable[date]) -> str:
    """Days of work as a phrase: Mon 30 Nov 2026 and Tue 1 Dec 2026; of many, how many and between which."""
    listed = list(days)
    if len(listed) <= NAMED:
        return listing([day(when) for when in listed])
    return f"{number(len(listed))} days, {day(listed[0])} - {day(listed[-1])}"
