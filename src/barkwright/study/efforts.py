"""The numbers of the changes that are tried."""

from __future__ import annotations

from barkwright.figures import Figures

CHANGES = Figures("study/changes.yaml")
