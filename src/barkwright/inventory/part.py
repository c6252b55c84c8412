"""What every part of the inventory is made of: the strict record, and a span of days."""

from __future__ import annotations

from datetime import date

from pydantic import BaseModel, ConfigDict, Field


class Record(BaseModel):
    """Base of every part of the inventory: strict, frozen, unknown keys refused."""

    model_config = ConfigDict(
        strict=True,
        frozen=True,
        extra="forbid",
        allow_inf_nan=False,
        populate_by_name=True,
        defer_build=True,  # parts are checked as parts of the whole; a checker of its own for each takes longer
    )


class Span(Record):
    """Days, both ends included."""

    first: date = Field(alias="from")
    last: date = Field(alias="to")
