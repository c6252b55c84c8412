"""The numbers of the study."""

from __future__ import annotations

from barkwright.figures import Figures

STUDY = Figures("study/risk.yaml")
