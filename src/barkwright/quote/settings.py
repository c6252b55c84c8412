"""The numbers of a quotation."""

from __future__ import annotations

from barkwright.figures import Figures

QUOTATION = Figures("costs/quotation.yaml")
