"""The study of how sure a plan is, as plain data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.json_basics import iso
from barkwright.output.json_risk import ProbabilityRangeRecord, RiskRecord

if TYPE_CHECKING:
    from barkwright.study.risk import Risk


def risk_record(risk: Risk | None) -> RiskRecord | None:
    """Probabilities, dates, and what they rest on."""
    if risk is None:
        return None
    return {
        "probability": risk.probability,
        "range": _range(risk),
        "flights": [
            {
                "year": one.year,
                "probability": one.probability,
                "finish": iso(one.finish),
                "spare_days": one.spare_days,
                "years": one.years,
            }
            for one in risk.flights
        ],
        "trees": [{"tree": one.tree, "probability": one.probability} for one in risk.trees],
        "finish_share": risk.finish_share,
        "sure_share": risk.sure_share,
        "infested_left_ft2": risk.bark_left_ft2,
        "years": risk.years,
        "weather": risk.weather,
        "pace": {"low": risk.pace[0], "high": risk.pace[1]},
        "draws": risk.draws,
        "seed": risk.seed,
    }


def _range(risk: Risk) -> ProbabilityRangeRecord | None:
    if risk.range is None:
        return None
    return {"low": risk.range[0], "high": risk.range[1], "level": risk.range_level}
