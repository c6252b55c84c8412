"""The smallest parts of the JSON output: dates, numbers, spreads, citations, reasons, the place."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.json_results import SiteRecord
from barkwright.output.json_types import ReasonRecord, SpreadRecord

if TYPE_CHECKING:
    from barkwright.inventory.model import Site
    from barkwright.sources import Citation, Reason
    from barkwright.spread import Spread


def iso(value: date | None) -> str | None:
    """The date as ISO text, or None."""
    return None if value is None else value.isoformat()


def near(value: float, digits: int = 3) -> float:
    """A number rounded where noise begins; never -0."""
    return round(float(value), digits) + 0.0


def spread_record(value: Spread | None, digits: int = 3) -> SpreadRecord | None:
    """Low, likely, high."""
    return None if value is None else sure_spread(value, digits)


def sure_spread(value: Spread, digits: int = 3) -> SpreadRecord:
    """Low, likely, high of what is there."""
    return {"low": near(value.low, digits), "likely": near(value.likely, digits), "high": near(value.high, digits)}


def cited(citations: Sequence[Citation]) -> list[str]:
    """Citations as "key, locator"."""
    return [str(citation) for citation in citations]


def reason_record(reason: Reason) -> ReasonRecord:
    """A reason as plain data."""
    return {
        "rule": reason.rule,
        "because": reason.because,
        "grade": reason.grade,
        "basis": reason.basis,
        "local": reason.local,
        "sources": [*cited(reason.citations), *([reason.own_source] if reason.own_source else [])],
    }


def site_record(site: Site) -> SiteRecord:
    """The place."""
    return {"name": site.name, "latitude": site.latitude, "longitude": site.longitude, "region": site.region}
