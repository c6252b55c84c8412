"""Changes of units around the work room's functions and figures. Nothing is computed here but the units."""

from __future__ import annotations

from barkwright.costs.proxies import rate_table
from barkwright.treatment import chipping, piles, trench
from barkwright.treatment.rates import rate_book

M_PER_FT = 0.3048  # exact
MG_PER_SHORT_TON = 0.90718474  # exact


def hand_pile(
    shape: str, sizes: list[float], kind: str = "conifer", count: int = 1, english: bool = False
) -> dict[str, float]:
    """Gross and true volume, mass, mass burned and PM2.5 of hand piles: m3 and Mg, or ft3 and short tons."""
    length, mass = (M_PER_FT, MG_PER_SHORT_TON) if english else (1.0, 1.0)
    gross = piles.gross_volume(shape, *sizes)  # type: ignore[arg-type]
    true = piles.hand_pile_true_volume_m3(gross * length**3)
    dry = piles.hand_pile_mass_mg(true, kind == "conifer") / mass
    return {
        "gross": count * gross,
        "true_volume": count * true / length**3,
        "mass": count * dry,
        "consumed": count * dry * piles.CONSUMED,
        "pm25": count * piles.smoke(dry),
    }


def machine_pile(height_m: float, packing: float, soil: float, density: float, clean: str) -> dict[str, float]:
    """Net wood [m3], mass [Mg] and PM2.5 [Mg] of a machine pile that is a half sphere."""
    net = piles.machine_pile_net(piles.gross_volume("half sphere", height_m), packing, soil)
    mass = piles.machine_pile_mass_mg(net, density)
    return {"net": net, "mass": mass, "pm25": piles.smoke(mass, clean)}  # type: ignore[arg-type]


def chip_tonnes_per_hour(piece_t: float, power_kw: float) -> float:
    """Green tonnes in an hour of chipping."""
    return 60 / chipping.chip_minutes_per_tonne(piece_t, power_kw)


def particles_lb(tons_consumed: float, particles: str) -> float:
    """Pounds from short tons consumed, clean."""
    return 2000 * piles.smoke(tons_consumed, "clean", 1.0, particles)  # type: ignore[arg-type]


def minutes_of_cord(rate: str, share: float, which: str = "likely") -> float:
    """Minutes for a share of a cord, by a rate in hours per cord."""
    return float(getattr(rate_book().rates[rate], which)) * 60 * share


def rate(name: str) -> float:
    """The likely value of a work rate."""
    return rate_book().rates[name].likely


def setting(name: str) -> float:
    """The value of a size."""
    return rate_book().settings[name].value


def green_over_dry(name: str) -> float:
    """Green weight per oven-dry weight."""
    return 1 / rate_book().settings[name].value


def machine_rate(kind: str, capacity: float | None = None) -> float:
    """The published hourly rate that stands in for a machine without a price."""
    found = rate_table().proxy(kind, capacity)  # type: ignore[arg-type]
    assert found is not None
    return float(found.per_hour)


def trench_row(**given: float) -> dict[str, float]:
    """Length, bank and loose volume of a trench."""
    found = trench.trench_for_logs(**given)
    return {"length": found.length, "bank": found.bank, "loose": found.loose}
