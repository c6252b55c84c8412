"""The list of figures that the follow-up after a flight rests on."""

from __future__ import annotations

from barkwright.figures import Figures

FOLLOW = Figures("brood/follow.yaml")
