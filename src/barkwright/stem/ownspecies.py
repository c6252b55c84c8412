"""What the user's own files say of the spruces: fields of a species that take the place of the shipped ones."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Any, get_args

from barkwright.inventory.model import Species
from barkwright.ownentry import YOURS, Entry, Taken, entries_by_id
from barkwright.ownfiles import Own, near, own_files
from barkwright.record import dataclass
from barkwright.stem.curves import FORMS, Curve
from barkwright.stem.ownwords import NAMES
from barkwright.stem.tables import SpeciesFacts, shipped_species

if TYPE_CHECKING:
    from barkwright.diagnostics import Diagnostic

NUMBERS: dict[str, tuple[float, float, str]] = {  # bounds and unit of what may be given; the bounds are ours
    "wood_sg": (0.2, 0.7, "dry weight over green volume"),
    "wood_mc": (10.0, 250.0, "percent of dry weight"),
    "bark_sg": (0.1, 0.9, "dry weight over green volume"),
    "bark_mc": (10.0, 300.0, "percent of dry weight"),
    "bark_percent": (2.0, 60.0, "percent of the wood's volume"),
    "bark_factor": (0.8, 0.99, "diameter inside over outside bark"),
}
PARAMETERS = {"wykoff": 2, "chapman": 3, "curtis-arney": 3}
TRIED_IN = (3.0, 8.0, 15.0, 25.0, 40.0)  # diameters at which a curve is tried [in]
HEIGHTS_FT = (4.5, 320.0)  # between which a curve has to stay


@dataclass(frozen=True, slots=True)
class OwnSpecies:
    """The species as they hold for a site, and what its own files say."""

    facts: dict[str, SpeciesFacts]
    own: tuple[Own, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()


@cache
def species_book(local: tuple[str, ...]) -> OwnSpecies:
    """The shipped species, with the fields that the files in `local` (paths as they can be opened) give for them.

    A faulty entry becomes a diagnostic and leaves the shipped species as it is.
    """
    found: list[Diagnostic] = []
    facts: dict[str, SpeciesFacts] = dict(shipped_species())
    own: list[Own] = []
    taken = Taken()
    for document in own_files(local).documents:
        for name, entry in entries_by_id(document, "species", "species", found):
            if name not in get_args(Species):
                entry.fault("unknown-name", (), f"there is no species '{name}'", near(name, get_args(Species)), True)
                continue
            changed = _changed(facts[name], entry)
            if changed is not None and taken.free(name, entry):
                own.append(_own(name, facts[name], changed, entry))
                facts[name] = changed
    return OwnSpecies(facts, tuple(own), tuple(found))


def _changed(old: SpeciesFacts, entry: Entry) -> SpeciesFacts | None:
    entry.only((*NUMBERS, "height"))
    given: dict[str, Any] = {}
    for key, (least, most, unit) in NUMBERS.items():
        value = entry.number(key, least, most, unit)
        if value is not None:
            given[key] = value
    curve = _curve(entry)
    if entry.has("bark_percent") and entry.has("bark_factor"):
        message = "bark_percent and bark_factor say the same thing"
        entry.fault("bad-value", "bark_factor", message, "keep one of them", at_key=True)
    source = entry.rests_on()
    if entry.sound and not given and curve is None:
        entry.fault("missing-value", (), "it changes nothing", f"give one of {', '.join((*NUMBERS, 'height'))}", True)
    if not entry.sound:
        return None
    names = (*given, *(("height",) if curve is not None else ()))
    factor = given.pop("bark_factor", None)
    if factor is not None:
        given["bark_percent"] = 100 * (1 / factor**2 - 1)
    return replace(old, **given, own=names, own_source=source, own_curve=curve)


def _curve(entry: Entry) -> Curve | None:
    """The user's own height curve, if it is given and rises like one."""
    if not entry.has("height"):
        return None
    part = Entry(entry.document, (*entry.at, "height"), f"{entry.name}, height", entry.found)
    entry.sound = entry.sound and part.sound
    if not part.sound:
        return None
    part.only(("form", "p"))
    if part.sound:
        part.needs("form", "p")
    form = part.word("form", tuple(PARAMETERS))
    numbers: Any = part.document.node((*part.at, "p")).data if part.has("p") else None
    if form is not None and part.sound:
        count = PARAMETERS[form]
        if not _are_numbers(numbers, count):
            message = f"p is no list of {count} numbers"
            part.fault("bad-value", "p", message, "in inches and feet, as in data/stem/heights.yaml")
        elif not _rises(form, tuple(map(float, numbers))):
            message = "the curve does not rise from 4.5 to at most 320 ft between 3 and 40 in"
            part.fault("out-of-range", "p", message, "coefficients are for diameters in inches and heights in feet")
    entry.sound = entry.sound and part.sound
    return Curve(form, tuple(map(float, numbers)), ()) if part.sound and form is not None else None  # type: ignore[arg-type]


def _are_numbers(written: object, count: int) -> bool:
    return (
        isinstance(written, list)
        and len(written) == count
        and all(isinstance(one, int | float) and not isinstance(one, bool) and math.isfinite(one) for one in written)
    )


def _rises(form: str, numbers: tuple[float, ...]) -> bool:
    try:
        heights = [FORMS[form](dbh_in, *numbers) for dbh_in in TRIED_IN]
    except (ArithmeticError, ValueError, TypeError):
        return False
    if any(isinstance(height, complex) for height in heights):
        return False
    inside = all(HEIGHTS_FT[0] < height <= HEIGHTS_FT[1] for height in heights)
    return inside and heights == sorted(heights) and len(set(heights)) == len(heights)


def _own(name: str, old: SpeciesFacts, new: SpeciesFacts, entry: Entry) -> Own:
    was, now = [], []
    for key in new.own:
        if key == "height":
            was.append("height by the published curve of its region")
            now.append("height by a curve of your own")
            continue
        field = "bark_percent" if key == "bark_factor" else key
        title = NAMES[field]
        unit = " %" if NUMBERS[field][2].startswith("percent") else ""
        was.append(f"{title} {getattr(old, field):.3g}{unit}")
        now.append(f"{title} {getattr(new, field):.3g}{unit}")
    return Own(
        "species", name, old.label, new.own_source or YOURS, entry.where, ", ".join(now), ", ".join(was),
        "; ".join(old.cite),
    )  # fmt: skip
