"""Changes of units around our own functions, for sources that print metric or percent. Nothing is computed here."""

from __future__ import annotations
