"""What cannot have been: entries that are refused before they are written down, each with the reason and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from barkwright.inventory.model import Inventory, Tree
from barkwright.journal.applied import GROWN, cut_of, felled_on, tree_of
from barkwright.journal.entries import Entry, Journal
from barkwright.journal.naming import near
from barkwright.record import dataclass

ON_TREES = frozenset(("base", "sunny", "shaded", "upper"))
ON_LOGS = frozenset(("top", "side", "bottom"))
SPOKEN = ("log", "logs", "stump", "top", "limbs", "and")  # as orders say it: T3 logs 6-9 and stump
MOST_NAMED = 12  # names in a hint; ours
GONE = ("chip", "burn", "bury", "haul")  # nothing can be done with the piece after that


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an entry is not written, and what to do instead."""

    message: str
    hint: str | None = None


@dataclass(frozen=True, slots=True)
class Known:
    """What an entry is held against: the inventory as it is written, its pieces by id with their kind, the journal."""

    inventory: Inventory
    kinds: Mapping[str, str]
    journal: Journal
    on: date  # today


def refusals(entry: Entry, known: Known) -> tuple[Refusal, ...]:
    """Everything that is impossible about a new entry; empty where it may be written."""
    found = [*_when(entry, known)]
    if entry.did == "undone":
        return (*found, *_undo(entry, known))
    names = list(_names(entry, known))
    if names:
        return (*found, *names)
    trees = {tree.id: tree for tree in known.inventory.trees}
    checks = {"treated": _treated, "felled": _felled, "cut up": _cut_up, "looked": _looked, "called": _called}
    for name in dict.fromkeys(tree_of(piece) for piece in entry.pieces):
        before = [one for one in known.journal.standing(date.max) if name in map(tree_of, one.pieces)]
        if entry.did in checks:
            found += checks[entry.did](entry, trees[name], before)
    return tuple(dict.fromkeys(found))


def pieces_named(names: Iterable[str], kinds: Mapping[str, str]) -> list[str]:
    """The pieces that are meant: a tree's id stands for its logs, top and limbs, not for its stump."""
    found: list[str] = []
    for name in names:
        whole = [piece for piece, kind in kinds.items() if tree_of(piece) == name and kind != "stump"]
        stump = [piece for piece in kinds if tree_of(piece) == name]
        found += [name] if name in kinds else whole or stump or [name]
    return list(dict.fromkeys(found))


def _when(entry: Entry, known: Known) -> Iterator[Refusal]:
    if entry.on > known.on:
        hint = "record it when it is done; --on gives another day for today"
        yield Refusal(f"{entry.on} is still to come: today is {known.on}", hint)


def _names(entry: Entry, known: Known) -> Iterator[Refusal]:
    trees = [tree.id for tree in known.inventory.trees]
    hint = ""
    for name in entry.pieces:
        whole = entry.did in ("felled", "cut up", "looked", "called")
        if name in (trees if whole else known.kinds):
            continue
        if whole and tree_of(name) in trees:
            yield Refusal(f"{name} is a piece: this is recorded for the whole tree", f"name {tree_of(name)}")
            continue
        hint = hint or _there_is(name, trees if whole else [*trees, *known.kinds])  # one is shown
        yield Refusal(f"there is no {'tree' if whole else 'tree or piece'} {name!r}", hint)


def _there_is(name: str, known: list[str]) -> str:
    """What there is instead of a name: its nearest, the pieces of its tree, or the first of all."""
    if name in SPOKEN:
        return "pieces are typed like T3/1, T3/6-9 or T3/stump"
    pieces = [one for one in known if "/" in one and tree_of(one) == tree_of(name)]
    close = near(name, known if not pieces else ())
    if close:
        return f"did you mean {' or '.join(close)}?"
    listed = pieces or known
    more = f" and {len(listed) - MOST_NAMED:,} more" if len(listed) > MOST_NAMED else ""
    return f"there are {', '.join(listed[:MOST_NAMED])}{more}"


def _undo(entry: Entry, known: Known) -> Iterator[Refusal]:
    listed = {one.id: one for one in known.journal.entries}
    target = listed.get(entry.undoes or 0)
    show = "barkwright done SITE --list shows the entries"
    if target is None:
        yield Refusal(f"there is no entry {entry.undoes}", show)
    elif target.did == "undone":
        yield Refusal(f"entry {entry.undoes} took back entry {target.undoes}", "record the work again instead")
    elif any(one.undoes == entry.undoes for one in listed.values()):
        yield Refusal(f"entry {entry.undoes} is taken back already", show)


def _treated(entry: Entry, tree: Tree, before: list[Entry]) -> Iterator[Refusal]:
    own = [piece for piece in entry.pieces if tree_of(piece) == tree.id]
    for piece in own:
        last = next((one for one in reversed(before) if one.did == "treated" and piece in one.pieces), None)
        if last is None:
            continue
        if last.left is None and not _goes_on(last, entry):
            message = f"{piece} was done on {last.on} already ({last.method}, entry {last.id})"
            yield Refusal(message, f"if that was wrong: barkwright done SITE --undo {last.id}")
        elif entry.on < last.on:
            message = f"work on {piece} went on until {last.on} (entry {last.id}), so it was not done before"
            yield Refusal(message, "give the day on which the rest was done")
    down = next((one for one in before if one.did == "felled"), None)
    fell = tree.felled_on or tree.down_since or (down.on if down else None)
    if fell is not None and entry.on < fell:
        yield Refusal(
            f"{tree.id} came down on {fell}: its wood cannot have been worked on {entry.on}",
            "correct --date, or the day of the felling",
        )


def _goes_on(last: Entry, entry: Entry) -> bool:
    """May this be done after that? Wood that is gone stays gone; stripped bark is dealt with once, wood later."""
    if last.method in GONE:
        return False
    if entry.method == last.method:
        return last.method == "debark" and last.bark in (None, "lying") and entry.bark not in (None, "lying")
    return True


def _felled(entry: Entry, tree: Tree, before: list[Entry]) -> Iterator[Refusal]:
    if tree.status != "standing":
        yield Refusal(f"{tree.id} is not standing: the inventory says {tree.status}", "nothing is left to be recorded")
    said = next((one for one in before if one.did == "felled"), None)
    if said is not None:
        message = f"{tree.id} was felled on {said.on} already (entry {said.id})"
        yield Refusal(message, f"if that was wrong: barkwright done SITE --undo {said.id}")
    work = next((one for one in before if one.did in ("treated", "cut up")), None)
    if work is not None and said is None and entry.on > work.on:
        message = f"wood of {tree.id} was worked on {work.on} (entry {work.id}), before {entry.on}"
        yield Refusal(message, "correct --date: it came down before its wood was worked")


def _cut_up(entry: Entry, tree: Tree, before: list[Entry]) -> Iterator[Refusal]:
    if tree.status in ("logs", "stump"):
        yield Refusal(f"{tree.id} is cut up: the inventory says {tree.status}", "nothing is left to be recorded")
    down = felled_on(before)
    if tree.status == "standing" and down is not None and entry.on < down:
        yield Refusal(f"{tree.id} came down on {down}, so it was not cut up before", "correct --date")
    said = next((one for one in before if one.did == "cut up"), None)
    if said is not None:
        message = f"{tree.id} was cut up on {said.on} already (entry {said.id})"
        yield Refusal(message, f"if that was wrong: barkwright done SITE --undo {said.id}")


def _looked(entry: Entry, tree: Tree, before: list[Entry]) -> Iterator[Refusal]:
    places = set(entry.looked)
    fell = tree.felled_on or tree.down_since or felled_on(before)
    stood = tree.status == "standing" if fell is None else entry.on < fell
    if stood and places & ON_LOGS:
        wrong = ", ".join(sorted(places & ON_LOGS))
        yield Refusal(f"{tree.id} stood on {entry.on}: {wrong} is said of a log that lies",
                      "on a standing tree: base, sunny, shaded, upper")  # fmt: skip
    if not stood and tree.status != "stump" and places & ON_TREES:
        wrong = ", ".join(sorted(places & ON_TREES))
        yield Refusal(f"{tree.id} lay on {entry.on}: {wrong} is said of a tree that stands",
                      "on wood that lies: top, side, bottom")  # fmt: skip
    stages = entry.stages or ()
    if "none" in stages and len(set(stages)) > 1:
        yield Refusal("none means that nothing alive was found, yet a stage is named with it", "take one of them away")
    if stages and not places:
        yield Refusal("it is said what was found, not where it was looked for", "add --looked base,sunny,shaded")
    if places and not stages:
        yield Refusal("it is said where one looked, not what was found", "add --found larvae, adults, or none")
    if isinstance(tree.attacked, int) and entry.on.year < tree.attacked and set(stages) & {*GROWN, "larvae"}:
        yield Refusal(f"{tree.id} was attacked in {tree.attacked}, after that look", "correct --date or the inventory")


def _called(entry: Entry, tree: Tree, before: list[Entry]) -> Iterator[Refusal]:
    down = felled_on(before) or tree.felled_on or tree.down_since
    if tree.status != "standing" or down is not None:
        yield Refusal(f"{tree.id} is down: nobody need come to take it down", "record what was done instead")
    if entry.appointment is not None and entry.appointment < entry.on:
        yield Refusal(
            f"the appointment, {entry.appointment}, lies before the call on {entry.on}", "correct one of them"
        )


def cut_changed(known: Known) -> Entry | None:
    """The first entry that was written while trees were cut up otherwise on paper; None where there is none."""
    now = cut_of(known.inventory)
    return next((one for one in known.journal.standing(date.max) if one.cut is not None and one.cut != now), None)
