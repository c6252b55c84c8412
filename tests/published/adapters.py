"""Changes of units around our own functions, for sources that print metric or percent. Nothing is computed here."""

from __future__ import annotations

from typing import Any

from barkwright.stem import measures, nsvb, tables
from barkwright.stem.profile import profile
from barkwright.units import CM_PER_IN, FT3_PER_CORD, FT_PER_M

FT3_PER_M3 = FT_PER_M**3
LB_PER_KG = 1 / 0.45359237  # exact


def both_ft3(wood: dict[str, Any], bark: dict[str, Any]) -> float:
    """Wood and bark together."""
    return nsvb.tree_total(**wood) + nsvb.tree_total(**bark)


def top_height_ft(
    top_in: float, dbh_in: float, total_ft: float, a: float, b: float, c: float, alpha: float, beta: float
) -> float:
    """Equation 7 from the coefficients of S3 and S4."""
    return nsvb.height_to_top_ft(top_in, total_ft, nsvb.tree_total(1, dbh_in, total_ft, a, b, c), alpha, beta)


def diameter_at_in(
    height_ft: float, dbh_in: float, total_ft: float, a: float, b: float, c: float, alpha: float, beta: float
) -> float:
    """Equation 7 turned round, from the coefficients of S3 and S4."""
    return nsvb.diameter_in(height_ft, total_ft, nsvb.tree_total(1, dbh_in, total_ft, a, b, c), alpha, beta)


def between_ft3(from_ft: float, to_ft: float, total_ft: float, volume_ft3: float, alpha: float, beta: float) -> float:
    """A volume between two heights, from the share below each."""
    high, low = (nsvb.share_below(height, total_ft, alpha, beta) for height in (to_ft, from_ft))
    return (high - low) * volume_ft3


def dry_wood_lb(wood_ft3: float, specific_gravity: float) -> float:
    """Oven-dry weight of a volume of green wood."""
    return wood_ft3 * measures.density_lb_ft3(specific_gravity, 0.0)


def cone_m3(butt_cm: float, top_cm: float, length_m: float) -> float:
    """A cut cone in metric measure."""
    return measures.cone_ft3(butt_cm / CM_PER_IN, top_cm / CM_PER_IN, length_m * FT_PER_M) / FT3_PER_M3


def loose_ft3(wood_ft3: float, bark_ft3: float) -> float:
    """Loose chips in cubic feet, by the factors we ship."""
    wood, bark = tables.factor("chips-wood"), tables.factor("chips-bark")
    return measures.loose_yd3(wood_ft3, bark_ft3, wood, bark) * 27


def species_density_lb_ft3(species: Any, part: str) -> float:
    """Green wood or bark of a species, by the figures we ship."""
    facts = tables.species_facts(species)
    if part == "bark":
        return measures.density_lb_ft3(facts.bark_sg, facts.bark_mc)
    return measures.density_lb_ft3(facts.wood_sg, facts.wood_mc)


def species_dry_to_green(species: Any) -> float:
    """Dry to green factor by the identity, from the figures we ship."""
    facts = tables.species_facts(species)
    return measures.dry_to_green(facts.wood_sg, facts.wood_mc, facts.bark_sg, facts.bark_mc, facts.bark_percent)


def lift_kg_m3() -> float:
    """The weight we lift and haul by, per cubic metre of wood under bark."""
    return tables.factor("lift-live") * FT3_PER_M3 / LB_PER_KG


def cord_lb(specific_gravity: float, moisture_percent: float, solid_ft3: float) -> float:
    """Weight of a cord with so much solid wood in it."""
    return solid_ft3 * measures.density_lb_ft3(specific_gravity, moisture_percent)


def cord_m3() -> float:
    """A stacked cord in metric measure."""
    return FT3_PER_CORD / FT3_PER_M3


def stem_wood_m3(spcd: int, dbh_cm: float, height_m: float) -> float:
    """Wood of a whole stem, species row."""
    return profile(spcd, None, dbh_cm / CM_PER_IN, height_m * FT_PER_M).wood_ft3 / FT3_PER_M3


def stem_dib_cm(spcd: int, dbh_cm: float, height_m: float, at_m: float) -> float:
    """Diameter inside bark at a height, species row."""
    shape = profile(spcd, None, dbh_cm / CM_PER_IN, height_m * FT_PER_M)
    return shape.dob_in(at_m * FT_PER_M) * shape.inside * CM_PER_IN


def dry_part_kg(species: Any, table: str, dbh_cm: float, height_m: float) -> float:
    """Dry weight of wood (S1), bark (S6), branches (S7) or foliage (S9) of a tree, species row."""
    facts = tables.species_facts(species)
    row = tables.coefficient_row(table, facts.spcd, None)
    total = row.total(dbh_cm / CM_PER_IN, height_m * FT_PER_M, facts.wood_sg)
    return (dry_wood_lb(total, facts.wood_sg) if table == "S1" else total) / LB_PER_KG
