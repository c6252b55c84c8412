"""What an order was made from, in a few words for each tree, crew, machine and limit: kept to see what differs.

Every fact has a name that says what it is about (`tree T3`, `crew the pair`, `burning`) and a value that reads as the
end of "it was ...". Two orders made from the same facts have the same digest, whatever their date.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Crew, Equipment, Inventory, Span
from barkwright.inventory.part import Record
from barkwright.schedule.earlier import Earlier, earlier_of
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.season.flight import coming_flight, flight_year

WHOLE = ("limits", "wishes", "worth", "best", "cutting")  # parts of the inventory that are told as they stand
PLACE = ("slope_percent", "machine_access", "nearest_live_spruce_ft", "ground")


def given_out(schedule: Schedule, work: SiteWork) -> Earlier:
    """The record of an order that is given out: its jobs and ways, and what they were made from."""
    return earlier_of(schedule, work.on, facts_of(work))


def facts_of(work: SiteWork) -> dict[str, str]:
    """What differs between two sites, or two states of one, as short texts by name."""
    inventory = work.inventory
    found: dict[str, str] = {}
    for tree in work.trees:
        found[f"tree {tree.tree.id}"] = _tree(tree)
        found[f"brood {tree.tree.id}"] = _brood(tree)
        found[f"felling {tree.tree.id}"] = _felling(tree)
        found |= {f"call {tree.tree.id}": said for said in _calls(tree, inventory)}
    found.update({f"crew {crew.name}": _crew(crew) for crew in inventory.crew})
    for kind in dict.fromkeys(entry.kind for entry in inventory.equipment):
        found[f"machine {kind}"] = "; ".join(_machine(entry) for entry in inventory.equipment if entry.kind == kind)
    found |= _site(inventory)
    flight = flight_year(work.season, coming_flight(work.season, work.on))
    found["flight"] = f"{flight.year}: from {flight.onset} on, over on {flight.end}"
    return found


def _tree(tree: TreeWork) -> str:
    one = tree.tree
    height = tree.stem.height_ft
    said = [one.status, f"{len(tree.stem.pieces)} pieces"]
    said += [f"{tree.stem.dbh_in:.1f} in"] if tree.stem.dbh_in is not None else []
    said += [f"{height.likely:.0f} ft"] if height is not None else []
    said += [*one.hazards, *([f"not before {one.not_before}"] if one.not_before else [])]
    return ", ".join(said)


def _brood(tree: TreeWork) -> str:
    """What lives in the pieces, those alike told together by their parts: likely adults 2027: stump, 1, 2."""
    like: dict[str, list[str]] = {}
    for piece, brood, _ in tree.pieces():
        like.setdefault(_lives(brood), []).append(piece.id.rpartition("/")[2])
    return "; ".join(f"{said} in {', '.join(parts)}" for said, parts in like.items())


def _lives(brood: PieceBrood) -> str:
    if brood.brood == "none":
        return "fresh wood that draws beetles" if brood.host else "no brood"
    return f"{brood.brood} {brood.stage or 'brood'} that fly in {brood.flight_to_beat}"


def _felling(tree: TreeWork) -> str:
    felling = tree.felling
    days = f", not before {felling.earliest}" if felling.earliest else ""
    hours = sum(step.person_hours.mean for step in felling.steps)
    return f"by {felling.by}, {felling.who}, {hours:.1f} h{days}"


def _calls(tree: TreeWork, inventory: Inventory) -> Iterator[str]:
    """What is arranged for a tree, as one text; nothing where nothing is."""
    names = {tree.tree.id, tree.tree.id.rpartition(".")[0]}
    found = [f"{call.what} on {call.on}" for call in inventory.calls if not names.isdisjoint(call.trees)]
    if found:
        yield "; ".join(found)


def _crew(crew: Crew) -> str:
    pay = crew.rate if crew.rate is not None else crew.worth
    said = [f"{crew.people} for {crew.hours_per_day:g} h on {' '.join(crew.days)}", *sorted(crew.skills)]
    said += [f"off {_spans(crew.off)}"] if crew.off else []
    said += [f"also on {_dates(crew.extra_days)}"] if crew.extra_days else []
    return ", ".join([*said, "unpaid" if crew.unpaid else f"at {pay}"])


def _machine(entry: Equipment) -> str:
    left = entry.model_dump(mode="json", exclude_defaults=True, exclude={"kind"})
    return _told(left) or "there"


def _site(inventory: Inventory) -> dict[str, str]:
    site = inventory.site
    found = {name: _told(_plain(getattr(inventory, name))) for name in WHOLE}
    found["calendar"] = f"from {inventory.calendar.start or 'now'} on, off {_spans(inventory.calendar.off)}"
    found["burning"] = f"permit {site.burning.permit}, open {_spans(site.burning.windows)}"
    found["destinations"] = "; ".join(_told(_plain(one)) for one in site.destinations)
    found["place"] = _told({name: value for name, value in _plain(site).items() if name in PLACE})
    found["local rules"] = ", ".join(inventory.local)
    return {name: value or "nothing said" for name, value in found.items()}


def _plain(part: Record) -> dict[str, object]:
    return part.model_dump(mode="json", exclude_defaults=True)


def _told(values: dict[str, object]) -> str:
    """The keys of a part of the inventory with their values, as one line."""
    return ", ".join(f"{name.replace('_', ' ')} {_value(value)}" for name, value in values.items())


def _value(value: object) -> str:
    if isinstance(value, dict):
        return "(" + _told(value) + ")"
    if isinstance(value, list | tuple):
        return " ".join(_value(one) for one in value)
    return {True: "yes", False: "no"}.get(value, str(value)) if isinstance(value, bool) else str(value)


def _spans(spans: Iterable[Span]) -> str:
    return ", ".join(f"{span.first} to {span.last}" for span in spans) or "no days"


def _dates(days: Iterable[date]) -> str:
    return ", ".join(str(day) for day in days)
