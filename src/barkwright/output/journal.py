"""The journal as `done` shows it: what was just recorded, and all its entries."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from barkwright.output.json_done import DoneResult, EntryRecord
from barkwright.output.layout import wrapped
from barkwright.output.measures import Units
from barkwright.output.names import piece_names, printable, tree_names
from barkwright.output.order_done import BARK, DID, NOT_DONE, PARTIAL, STOPPED, done_records
from barkwright.output.view import site_word
from barkwright.output.words import day, listing

if TYPE_CHECKING:
    from barkwright.journal.entries import Entry, Journal
    from barkwright.plan import FlightPlan


def recorded_text(plan: FlightPlan, entries: Sequence[Entry], journal: Journal, made_from: str, file: str) -> str:
    """What was written into the journal, what it means for the brood, and what to do next."""
    site = site_word(made_from)
    numbers = listing([str(one.id) for one in entries])
    lines = wrapped(f"Recorded in {file} as {'entry' if len(entries) == 1 else 'entries'} {numbers}:")
    for entry in entries:
        back = next((f": {entry_line(one)}" for one in journal.entries if one.id == entry.undoes), "")
        lines += wrapped(entry_line(entry) + back, first="  ", later="    ")
        lines += _meaning(plan, entry)
        lines += _too_thick(plan, entry)
    written = {tree.id: tree for tree in plan.tally.inventory.trees}
    taken = [
        name for entry in entries if entry.did == "treated"
        for name in dict.fromkeys(piece.partition("/")[0] for piece in entry.pieces)
        if written[name].felled_on == entry.on and not _felling(journal, name)
    ]  # fmt: skip
    if taken:
        lines += wrapped(
            f"{tree_names(taken)} stood until then: the felling is taken as done on that day. If it was another: "
            f"barkwright done {site} {taken[0]} --felled --date DAY"
        )
    undo = "".join(f" --undo {entry.id}" for entry in entries if entry.did != "undone")
    if undo:
        lines.append(f"To take it back: barkwright done {site}{undo}")
    lines += wrapped(f"What is left to do: barkwright order {site}")
    return "\n".join(lines) + "\n"


def journal_text(journal: Journal, file: str) -> str:
    """All entries, in the order in which they were written."""
    if not journal.entries:
        return f"{file} has no entries: nothing is recorded yet.\n"
    undone = {one.undoes: one.id for one in journal.entries if one.did == "undone"}
    lines = [f"{file}:"]
    for entry in journal.entries:
        back = f" (taken back by {undone[entry.id]})" if entry.id in undone else ""
        lines += wrapped(f"{entry.id:>4}  {entry_line(entry)}{back}", later="      ")
    return "\n".join(lines) + "\n"


def entry_line(entry: Entry) -> str:
    """One entry in a line: day, what, which, by whom."""
    names = piece_names(entry.pieces) if entry.did == "treated" else tree_names(entry.pieces)
    match entry.did:
        case "treated":
            did = f"{names}: {DID.get(str(entry.method), entry.method)}"
            did += f", {BARK[entry.bark]}" if entry.bark else ""
        case "felled" | "cut up":
            did = f"{names}: {'felled' if entry.did == 'felled' else 'limbed and cut up'}"
        case "looked":
            did = f"{names}: {_seen(entry)}"
        case "called":
            did = f"{names}: called, appointment {day(entry.appointment)}" if entry.appointment else f"{names}: called"
        case "located":
            did = "buried services are located and marked"
        case "issued":
            did = "the work order of that day was given out"
        case _:
            did = f"entry {entry.undoes} taken back"
    parts = [f"{day(entry.on)}: {did}"]
    parts += [f"by {entry.by}"] if entry.by else []
    parts += [f"{entry.hours:g} person-hours"] if entry.hours is not None else []
    parts += [f"left: {entry.left}"] if entry.left else []
    parts += [entry.note] if entry.note else []
    return printable("; ".join(parts))


def _seen(entry: Entry) -> str:
    said = []
    if entry.stages is not None:
        found = "nothing alive" if entry.stages == ("none",) else listing(list(entry.stages))
        said.append(f"found {found}" + (f", looked at {listing(list(entry.looked))}" if entry.looked else ""))
    said += [f"insect {entry.insect}"] if entry.insect else []
    said += [f"exit holes: {entry.exit_holes}"] if entry.exit_holes else []
    said += [f"crown {entry.crown}"] if entry.crown else []
    return "; ".join(said) or "looked at"


def _meaning(plan: FlightPlan, entry: Entry) -> list[str]:
    """Where the work does not stop the brood, or what is left is to be planned: said at once."""
    lines: list[str] = []
    said: set[str] = set()
    for piece in entry.pieces:
        outcome = plan.outcomes.get(piece)
        if outcome is None or outcome.finished.entry != entry.id or (outcome.end == "done" and not entry.left):
            continue
        texts = [{"done": STOPPED, "partial": PARTIAL, "not done": NOT_DONE}[outcome.end]]
        texts += [Units().sentence(reason.because) for reason in outcome.reasons]
        if outcome.end != "done" and entry.method == "debark" and entry.bark is None and not entry.left:
            texts.append("If the bark was dealt with too, record that: --method debark --bark burnt.")
        if outcome.begun is None and outcome.over:
            texts.append("Nothing more can be done with it here.")
        key = " ".join(texts)
        if key not in said:
            said.add(key)
            lines += wrapped(key, first="    ", later="    ")
    return lines


def _too_thick(plan: FlightPlan, entry: Entry) -> list[str]:
    """A doubt where what is said to be chipped is thicker than any chipper on the list takes."""
    takes = [one.capacity for one in plan.tally.inventory.equipment if one.kind == "chipper"]
    known = [one for one in takes if one is not None]
    if entry.method != "chip" or not known or len(known) < len(takes):
        return []
    ends = {piece.id: piece.butt_dob_in for stem in plan.tally.stems for piece in stem.pieces}
    size, piece = max(((ends.get(piece, 0.0), piece) for piece in entry.pieces), default=(0.0, ""))
    if size <= max(known):
        return []
    return wrapped(
        f"The chipper on your list takes {max(known):g} in and {piece_names([piece])} is {size:.0f} in across: is that "
        f"right? If not: --undo {entry.id}",
        first="    ",
        later="    ",
    )


def _felling(journal: Journal, tree: str) -> bool:
    return any(one.did == "felled" and tree in one.pieces for one in journal.entries)


def recorded_result(plan: FlightPlan, entries: Sequence[Entry], journal: Journal) -> DoneResult:
    """The same as plain data."""
    return {
        "recorded": [entry_record(one) for one in entries],
        "entries": len(journal.entries),
        "done": done_records(plan.outcomes),
    }


def journal_result(journal: Journal) -> DoneResult:
    """All entries as plain data."""
    return {"recorded": [entry_record(one) for one in journal.entries], "entries": len(journal.entries), "done": []}


def entry_record(entry: Entry) -> EntryRecord:
    """One entry as plain data."""
    return {
        "id": entry.id, "recorded": entry.recorded, "did": entry.did, "date": entry.on.isoformat(),
        "pieces": list(entry.pieces), "method": entry.method, "bark": entry.bark, "left": entry.left, "by": entry.by,
        "hours": entry.hours, "stages": None if entry.stages is None else list(entry.stages),
        "looked": list(entry.looked), "insect": entry.insect, "exit_holes": entry.exit_holes, "crown": entry.crown,
        "appointment": None if entry.appointment is None else entry.appointment.isoformat(),
        "undoes": entry.undoes, "note": entry.note,
    }  # fmt: skip
