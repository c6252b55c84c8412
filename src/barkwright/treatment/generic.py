"""Rough sizes of a western conifer from its diameter alone, for trees whose stem cannot be modelled."""

from __future__ import annotations

import math


def generic_volume_ft3(dbh_in: float) -> float:
    """Bole volume [ft3] from D [in].  Valid for: D over 5 in (below, the equation nears zero).

    Source: [fight2006] auxiliary relation, generic western conifer.
    """
    return 0.216 * dbh_in**2 - 3.675


def generic_logs(dbh_in: float) -> float:
    """Logs of 32 ft per tree from D [in].  Source: [fight2006] auxiliary relation, generic western conifer."""
    return -0.43 + 0.678 * math.sqrt(dbh_in)
