"""The numbers of the priority rule, from data/schedule/rule.yaml."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright.datafile import load
from barkwright.record import dataclass


@dataclass(frozen=True)
class Setting:
    """One number of the rule, its unit, and what it rests on."""

    value: float
    unit: str
    basis: Literal["ours", "placeholder", "common practice, no source"]
    note: str
    checked_on: date


@dataclass(frozen=True)
class Settings:
    """All numbers of the rule; each field's unit stands in the data file."""

    partial_share: Setting
    smallest_stint: Setting
    near_tie: Setting
    waiting: Setting
    professional_day: Setting
    look_again_days: Setting
    tree_switch: Setting
    eager_switch: Setting
    site_switch: Setting
    fire_day: Setting
    crew_day: Setting
    hurry: Setting
    great_hurry: Setting
    cap_step: Setting
    options_tried: Setting
    search: Setting
    search_large: Setting
    search_rounds: Setting
    changes_search: Setting
    changes_pieces: Setting
    largest_chipper: Setting
    haste: Setting
    patience: Setting
    patience_from: Setting
    tree_rounds: Setting
    late_tries: Setting
    bark_kept_warm: Setting
    bark_warm_before: Setting


def settings() -> Settings:
    """The rule's numbers, read once."""
    return load("schedule/rule.yaml", Settings)
