"""What is taken for one tree before it is cut: height, rows of coefficients, shape, and what has to be said of them."""

from __future__ import annotations

from dataclasses import replace

from barkwright.diagnostics import Code, Diagnostic
from barkwright.inventory.model import Inventory, Tree
from barkwright.record import dataclass
from barkwright.spread import Spread
from barkwright.stem.heights import estimate_height
from barkwright.stem.measures import density_lb_ft3
from barkwright.stem.ownwords import own_basis, own_note, own_words
from barkwright.stem.profile import Profile, profile
from barkwright.stem.stump import BREAST_HEIGHT_FT
from barkwright.stem.tables import (
    SpeciesFacts,
    coefficient_row,
    division_limit_in,
    factor,
    factors,
    species_facts,
)
from barkwright.stem.wood import Wood, is_long_dead
from barkwright.units import half_up

_TABLES = ("S1", "S2", "S3", "S4", "S5", "S6", "S7", "S9")


@dataclass(frozen=True, slots=True)
class Standing:
    """A tree with everything the cutting needs."""

    shape: Profile
    wood: Wood
    division: str | None  # whose rows were used; None: the species rows
    height_ft: Spread
    height_estimated: bool
    notes: tuple[Diagnostic, ...]
    basis: tuple[str, ...]
    local: tuple[str, ...]  # what of it rests on the user's own figures


def standing_tree(tree: Tree, inventory: Inventory) -> Standing:
    """Height, coefficients and shape of a tree with a diameter at breast height; what was assumed is in the notes.

    Raises ValueError when the tree has no diameter at breast height.
    """
    dbh_in = tree.breast_height_in
    if dbh_in is None:
        raise ValueError(f"{tree.id} has no diameter at breast height")
    facts = species_facts(tree.species, inventory.local)
    says = _Notes(tree)
    height, estimated, cite = _height(tree, inventory, dbh_in, says)
    division = _division(tree, inventory, dbh_in, says)
    shape = _own_bark(profile(facts.spcd, division, dbh_in, height.likely, tree.broken_at_ft), facts)
    _remark(tree, shape, says)
    wood = Wood(tree.id, facts, tree.bark.left_percent / 100, is_long_dead(tree))
    if wood.long_dead:
        says.add("assumption", "weighed as wood that has been dead for years", "green wood weighs more")
    local = own_words(facts, estimated)
    note = own_note(facts, local, tree.id)
    return Standing(
        shape, wood, division, height, estimated, (*says.notes, *([note] if note else [])),
        (*_basis(facts.spcd, division, cite), *own_basis(facts, local)), local,
    )  # fmt: skip


class _Notes:
    """Collects what has to be said of one tree, in feet and inches; pages turn them into the reader's units."""

    def __init__(self, tree: Tree) -> None:
        self.notes: list[Diagnostic] = []
        self._subject = tree.id

    def add(self, code: Code, message: str, hint: str | None = None) -> None:
        self.notes.append(Diagnostic("note", code, message, subject=self._subject, hint=hint))

    def feet(self, value_ft: float) -> str:
        return f"{half_up(value_ft)} ft"

    def inches(self, value_in: float) -> str:
        return f"{float(half_up(value_in, 1)):g} in"


def _height(tree: Tree, inventory: Inventory, dbh_in: float, says: _Notes) -> tuple[Spread, bool, tuple[str, ...]]:
    broken, given = tree.broken_at_ft, tree.height_ft
    if given is not None and given > BREAST_HEIGHT_FT and (broken is None or given > broken):
        return Spread.exactly(given), False, ()
    own = species_facts(tree.species, inventory.local).own_curve
    guess = estimate_height(tree.species, dbh_in, inventory.site.latitude, inventory.site.longitude, own)
    height = guess.height_ft
    if broken is not None and height.likely <= broken:
        likely = broken * (1 + factor("height-spread"))
        height = Spread(broken, likely, max(likely, height.high))
    what = "height before the top broke" if broken is not None else "height"
    between = f"between {says.feet(height.low)} and {says.feet(height.high)}"
    home = "" if guess.at_home else ", by a curve from another region"
    says.add(
        "estimated",
        f"{what} estimated from the diameter: {says.feet(height.likely)}, {between}{home}",
        "measure the height: volume and weight change with it",
    )
    return height, True, guess.cite


def _division(tree: Tree, inventory: Inventory, dbh_in: float, says: _Notes) -> str | None:
    division, facts = inventory.site.ecodivision, species_facts(tree.species)
    if division is None:
        return None
    limit = division_limit_in(facts.spcd, division)
    if limit is not None and dbh_in > limit:
        reason = f"thicker than every tree behind the volume equation of ecodivision {division} ({says.inches(limit)})"
        says.add("fallback", f"{reason}: the equation for {facts.label} everywhere is used")
        return None
    if coefficient_row("S1", facts.spcd, division).level != division:
        reason = f"{facts.label} has no volume equation of its own in ecodivision {division}"
        says.add("fallback", f"{reason}: the one for everywhere is used")
    return division


def _remark(tree: Tree, shape: Profile, says: _Notes) -> None:
    facts = species_facts(tree.species)
    if facts.stands_in:
        says.add("fallback", f"{facts.label} is reckoned as {facts.stands_in}")
    low, high = facts.sampled_in
    if not low <= shape.dbh_in <= high:
        sampled = f"from trees of {says.inches(low)} to {says.inches(high)}"
        says.add("outside-range", f"the volume equation was made {sampled}", "take volume and weight as rough")
    off = (1 / shape.anchor - 1) * 100
    if abs(off) > factor("off-profile"):
        side = "thicker" if off > 0 else "thinner"
        says.add(
            "outside-range",
            f"by the model it is {abs(off):.0f} % {side} at breast height than you measured, and so may its logs be",
            "diameters are fitted to the measured one; measure higher up where it matters",
        )


def _own_bark(shape: Profile, facts: SpeciesFacts) -> Profile:
    """The shape with the bark that the user's own figures give it, by the wood's volume, in place of the equations'."""
    own = {"bark_percent", "bark_factor"}.intersection(facts.own)
    if not own and "bark_sg" not in facts.own:
        return shape
    share = facts.bark_percent / 100 if own else shape.bark_ft3 / shape.wood_ft3
    bark_ft3 = shape.wood_ft3 * share
    dry_lb = bark_ft3 * density_lb_ft3(facts.bark_sg, 0.0)
    return replace(shape, bark_ft3=bark_ft3, bark_lb=dry_lb, inside=(1 + share) ** -0.5)


def _basis(spcd: int, division: str | None, height: tuple[str, ...]) -> tuple[str, ...]:
    levels = [f"table {table} ({coefficient_row(table, spcd, division).level})" for table in _TABLES]
    used = [f"westfall2024, {', '.join(levels)}, species {spcd}", *height]
    for name in ("stump-flare-b", "lift-live", "cord-solid", "chips-wood", "chips-bark"):
        used += factors()[name].cite
    return tuple(used)
