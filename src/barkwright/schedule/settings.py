"""The numbers of the priority rule."""

from __future__ import annotations

from barkwright.figures import Figures

SETTINGS = Figures("schedule/rule.yaml")
