"""A removal by a crew of the site itself: which crew may, with which skills and tools, in how many hours.

What stands near a line, a building, a road or a neighbour, or is a hazard, is for professionals. A paid crew of the
site counts as such where it has the skills for how the tree comes down; its hours are entered, never estimated. A
price beside the hours is the offer of somebody from outside: that one then does it.
"""

from __future__ import annotations

from typing import Literal

from barkwright.brood.finding import Question
from barkwright.inventory.model import Crew, Equipment, Inventory, Skill, Tree
from barkwright.record import dataclass
from barkwright.sources import Reason
from barkwright.spread import NOTHING, Spread
from barkwright.treatment.crews import SAW_PEOPLE
from barkwright.treatment.listing import listing
from barkwright.treatment.outside import REMOVALS
from barkwright.treatment.shop import Shop, shop_of
from barkwright.treatment.ways import Step

How = Literal["dismantle", "aerial-lift", "fell"]
SKILLS: dict[How, Skill] = {"dismantle": "climbing", "aerial-lift": "aerial-lift", "fell": "felling"}
CAUTIONS: dict[How | None, tuple[str, ...]] = {
    "dismantle": ("climbing",),
    "aerial-lift": ("lift",),
    "fell": (),
    None: (),
}
TRADES: dict[Skill, str] = {
    "climbing": "climbing", "aerial-lift": "work from a lift", "felling": "felling", "line-clearance": "line clearance",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class OwnRemoval:
    """The crews of the site that may take one tree down themselves, and how."""

    crews: tuple[str, ...]  # names
    how: How | None  # None: it may, and nobody has said yet how and in how many hours
    hours: float | None  # of the crew at the tree [h], as entered
    skills: tuple[Skill, ...]
    tools: tuple[str, ...]

    def step(self, log_length_ft: float | None) -> Step:
        """The work itself; log_length_ft: lengths that it is cut to in the same hours [ft], None where it is not."""
        words = REMOVALS[self.how or "take"]
        if log_length_ft is not None:
            words += f", limb it and cut it to lengths of {log_length_ft:g} ft"
        person = NOTHING if self.hours is None else Spread.exactly(self.hours * SAW_PEOPLE)
        machine = NOTHING if self.hours is None else Spread.exactly(self.hours)
        return Step("fell", words, person, SAW_PEOPLE, self.tools, machine, self.skills)

    def reason(self) -> Reason:
        """Why the crew may, as a sentence."""
        names = listing(self.crews, "or")
        trades = listing([TRADES[skill] for skill in self.skills]) or "such work"
        text = f"{names}: listed with the skill for {trades}, so this crew may do it itself."
        return Reason("own-crew-removal", text, "C", (), "ours")


def own_removal(tree: Tree, inventory: Inventory, shop: Shop, line: bool, reach_ft: float) -> OwnRemoval | None:
    """The crews that may take a tree down themselves where it is work for professionals, or None.

    line : bool          is a power line within reach?
    reach_ft : float     upper estimate of the tree's height [ft]
    """
    if "chain-saw" not in shop.machines:
        return None
    crews = [crew for crew in inventory.crew if crew.people >= SAW_PEOPLE and not crew.unpaid]
    more: tuple[Skill, ...] = ("line-clearance",) if line else ()
    if tree.removal is None:
        open_to = ("dismantle", "aerial-lift", "fell") if line else ("dismantle", "aerial-lift")
        able = [crew for crew in crews if any(_may(crew, how, more, shop, reach_ft) for how in open_to)]  # type: ignore[arg-type]
        return _found(able, None, None, more, ("chain-saw",))
    if tree.removal.by == "crane" or tree.removal.price is not None:
        return None
    how: How = tree.removal.by
    able = [crew for crew in crews if _may(crew, how, more, shop, reach_ft)]
    tools = ("chain-saw", "aerial-lift") if how == "aerial-lift" else ("chain-saw",)
    if how == "fell" and "wedges" in shop.machines:
        tools = ("chain-saw", "wedges")
    return _found(able, how, tree.removal.hours, (SKILLS[how], *more), tools)


def _found(
    able: list[Crew], how: How | None, hours: float | None, skills: tuple[Skill, ...], tools: tuple[str, ...]
) -> OwnRemoval | None:
    return OwnRemoval(tuple(crew.name for crew in able), how, hours, skills, tools) if able else None


def _may(crew: Crew, how: How, more: tuple[Skill, ...], shop: Shop, reach_ft: float) -> bool:
    lifted = how != "aerial-lift" or lift_reaches(shop.machines.get("aerial-lift"), reach_ft - shop.size["lift-top"])
    return lifted and SKILLS[how] in crew.skills and set(more) <= set(crew.skills)


def lift_reaches(lift: Equipment | None, height_ft: float) -> bool:
    """Is there a lift that works that high, as far as anybody has said? See `lift_height_ft`."""
    if lift is None:
        return False
    works = lift.working_capacity or lift.capacity
    return works is None or works >= height_ft


def lift_height_ft(reach_ft: float, inventory: Inventory) -> float:
    """How high a lift must work at a tree [ft]: its height, less the top that may be cut from below."""
    return reach_ft - shop_of(inventory).size["lift-top"]


def hours_question(tree: Tree, own: OwnRemoval) -> Question:
    """Ask the site's own crew how it takes the tree down, and in how many hours: they are never estimated."""
    names = listing(own.crews, "or")
    return Question(
        subject=tree.id,
        code="removal-hours",
        text=f"How will {names} take down {tree.id}, and in how many hours?",
        how=(
            f"Have the one who does it look at the tree. Write the answer under `removal` of {tree.id}: how it comes "
            "down, and the hours that the crew is at it, limbing and cutting up included."
        ),
        then="Until then its date is provisional, and no hours and no price of taking it down are in this plan.",
        rank=3,
    )
