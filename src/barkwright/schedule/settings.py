"""The numbers of the planning."""

from __future__ import annotations

from barkwright.figures import Figures

SETTINGS = Figures("schedule/rule.yaml")
