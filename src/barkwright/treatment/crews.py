"""Who of the crews may do what: nobody saws alone, and skills are asked of a crew, not of a site."""

from __future__ import annotations

from barkwright.inventory.model import Inventory, Skill

SAW_PEOPLE = 2  # nobody saws alone: design.md 8


def can_saw(inventory: Inventory, skill: Skill) -> bool:
    """Is there a crew of two or more with this skill, and a chain saw?"""
    if not any(machine.kind == "chain-saw" for machine in inventory.equipment):
        return False
    return any(crew.people >= SAW_PEOPLE and skill in crew.skills for crew in inventory.crew)


def why_not(inventory: Inventory, skill: Skill) -> str:
    """Why no crew here may do saw work that takes this skill, as a sentence."""
    skilled = [crew for crew in inventory.crew if skill in crew.skills]
    if not skilled:
        what = "felling" if skill == "felling" else "chain-saw work"
        return f"Nobody here is listed with the skill for {what}."
    if max(crew.people for crew in skilled) < SAW_PEOPLE:
        return "Nobody saws alone, and the crew with the skill is one person."
    return "No chain saw is listed."
