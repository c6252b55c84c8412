"""The lists of figures that the place's year rests on."""

from __future__ import annotations

from barkwright.figures import Figures

FLIGHT = Figures("season/flight.yaml")  # how dates are taken from weather
FROST = Figures("season/frost.yaml")
DRYING = Figures("season/drying.yaml")
LOST_DAYS = Figures("season/lost_days.yaml")
