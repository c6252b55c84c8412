"""The site as it stands: the inventory with the felling, the looks and the work of the journal put in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Call, Found, Inventory, Tree
from barkwright.inventory.progress import Finished
from barkwright.journal.entries import Cut, Entry, Journal

REMEMBERED = timedelta(days=365)  # grown beetles seen once are believed this long, whatever a later look says; ours
GROWN = ("pupae", "adults")


def as_it_stands(inventory: Inventory, journal: Journal, on: date, file: str) -> tuple[Inventory, list[Diagnostic]]:
    """The inventory as it stands on a day, and what of the journal does not fit it. `file` names the journal.

    A tree whose wood was worked stands no longer: where its felling is not recorded it is taken as felled on the first
    day of that work. A later look takes the place of an earlier one, but grown beetles seen within a year stay seen.
    """
    entries = journal.standing(on)
    found = list(_strangers(inventory, entries, file))
    worked: dict[str, list[Entry]] = {}
    for entry in entries:
        for tree in dict.fromkeys(tree_of(piece) for piece in entry.pieces):
            worked.setdefault(tree, []).append(entry)
    trees = tuple(_tree(tree, worked[tree.id]) if tree.id in worked else tree for tree in inventory.trees)
    changed: dict[str, object] = {"trees": trees, "finished": _finished(inventory, entries)}
    calls = [
        Call(what=one.note or "appointment", trees=one.pieces, on=one.appointment)
        for one in entries
        if one.did == "called" and one.appointment is not None
    ]
    if calls:
        changed["calls"] = (*inventory.calls, *calls)
    if any(one.did == "located" for one in entries):
        ground = inventory.site.ground.model_copy(update={"services_located": True})
        changed["site"] = inventory.site.model_copy(update={"ground": ground})
    return inventory.model_copy(update=changed), found


def tree_of(piece: str) -> str:
    """The tree of a piece, or the tree itself."""
    return piece.partition("/")[0]


def felled_on(entries: Iterable[Entry]) -> date | None:
    """The day on which a tree came down, from the entries about it: as recorded, or the first work on its wood."""
    ordered = sorted(entries, key=lambda one: one.on)
    said = next((one.on for one in ordered if one.did == "felled"), None)
    return said or next((one.on for one in ordered if one.did in ("cut up", "treated")), None)


def cut_of(inventory: Inventory) -> Cut:
    """How this inventory cuts its trees up."""
    asked = inventory.cutting
    return Cut(
        log_length_ft=round(asked.log_length_ft, 6),
        stump_height_ft=round(asked.stump_height_ft, 6),
        trim_ft=round(asked.trim_ft, 6),
        treat_over_in=round(asked.treat_over_in, 6),
    )


def _tree(tree: Tree, entries: list[Entry]) -> Tree:
    changed: dict[str, object] = {}
    down = felled_on(entries)
    if down is not None and tree.status == "standing":
        changed |= {"status": "felled", "felled_on": down, "removal": None, "not_before": None}
        if tree.attacked != "never" and tree.stood_at_attack == "unknown":
            changed["stood_at_attack"] = True
        changed["hazards"] = tuple(one for one in tree.hazards if one in ("split-stem", "jackstraw"))
    if tree.status in ("standing", "felled", "windthrown"):
        cut = next((one.on for one in entries if one.did in ("cut up", "treated") and _stem_work(one, tree.id)), None)
        if cut is not None:
            changed["cut_up"] = cut
    found = tree.found
    for entry in entries:
        if entry.did == "looked":
            found = _looked(found, entry)
    if found is not tree.found:
        changed["found"] = found
    return tree.model_copy(update=changed)


def _stem_work(entry: Entry, tree: str) -> bool:
    """Does the work mean that the tree's stem lies in pieces? Work on its stump alone does not."""
    if entry.did == "cut up":
        return True
    return any(tree_of(piece) == tree and not piece.endswith("/stump") for piece in entry.pieces)


def _looked(before: Found | None, entry: Entry) -> Found:
    old = before or Found()
    stages = entry.stages
    if stages is not None and old.stages and old.seen is not None and entry.on - old.seen <= REMEMBERED:
        kept = [one for one in old.stages if one in GROWN and one not in stages]
        if kept:
            stages = (*(one for one in stages if one != "none"), *kept)
    new: dict[str, object] = {
        "insect": entry.insect, "stages": stages, "looked": entry.looked or None, "exit_holes": entry.exit_holes,
        "crown": entry.crown,
    }  # fmt: skip
    if entry.stages is None:
        new.pop("looked")
    said = {name: value for name, value in new.items() if value is not None}
    return old.model_copy(update={**said, "seen": entry.on})


def _finished(inventory: Inventory, entries: Iterable[Entry]) -> tuple[Finished, ...]:
    """All work on the pieces of trees that are there, by its day."""
    trees = {tree.id for tree in inventory.trees}
    return tuple(
        Finished(
            piece=piece, method=entry.method, on=entry.on, way=entry.way, bark=entry.bark, left=entry.left,
            by=entry.by, entry=entry.id,
        )
        for entry in entries
        if entry.did == "treated" and entry.method is not None
        for piece in entry.pieces
        if tree_of(piece) in trees
    )  # fmt: skip


def _strangers(inventory: Inventory, entries: Iterable[Entry], file: str) -> Iterable[Diagnostic]:
    known = {tree.id for tree in inventory.trees}
    cut = cut_of(inventory)
    told: set[str] = set()
    for entry in entries:
        gone = sorted({tree_of(piece) for piece in entry.pieces} - known - told)
        if gone:
            told.update(gone)
            message = f"entry {entry.id} is about {', '.join(gone[:5])}, which the inventory does not name"
            hint = "give the tree its old id again, or take the entry back: barkwright done SITE --undo NUMBER"
            yield Diagnostic("warning", "unknown-tree", message, subject=file, hint=hint)
        if entry.cut is not None and entry.cut != cut:
            yield _other_cut(entry, cut, file)
            return


def _other_cut(entry: Entry, now: Cut, file: str) -> Diagnostic:
    then: Mapping[str, float] = entry.cut.model_dump() if entry.cut else {}
    names = {
        "log_length_ft": "log_length",
        "stump_height_ft": "stump_height",
        "trim_ft": "trim",
        "treat_over_in": "treat_over",
    }
    changed = [
        f"{names[name]} from {value:g} to {getattr(now, name):g} {name.rpartition('_')[2]}"
        for name, value in then.items()
        if value != getattr(now, name)
    ]
    message = f"entry {entry.id} was written before the cutting was changed ({', '.join(changed)})"
    hint = "set cutting back while recorded work goes on: the pieces are named after it"
    return Diagnostic("error", "other-cutting", message, subject=file, hint=hint)
