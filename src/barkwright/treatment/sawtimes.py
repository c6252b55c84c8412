"""How long felling, limbing and bucking take: the published equations, in the sources' units (minutes per tree).

All are stand logging by production loggers, productive or with the delay share that the study printed; none is a yard
tree. Read in the public code of the fuel-reduction cost model [fight2006], which credits each to its study.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

KELLOGG_OLSEN_DELAY = 1.2  # the share of delays that [kellogg1986] printed, as carried in fight2006
KELLOGG_DELAY = 1.25  # 25 percent delay [kellogg1999]
ANDERSSON_YOUNG_DELAY = 1.197  # 19.7 percent delay [andersson1998]
ANDERSSON_YOUNG_FROM_FT3, ANDERSSON_YOUNG_TO_FT3 = 15, 90  # full weight in fight2006
LIMBS_PER_TREE = 31.5  # [kellogg1999 as carried in fight2006]
WEDGE_SHARE = 0.02  # same
CORRIDOR_SHARE = 0.21  # same


def fell_mcneel(dbh_in: float, walk_ft: float) -> float:
    """Fell one tree in a selection cut.

    dbh_in : D [in], walk_ft : W, way between trees [ft].  Returns minutes.
    Valid for: range not seen.  Source: [mcneel1994] equation as carried in [fight2006].
    """
    return 0.568 + 0.0193 * 0.305 * walk_ft + 0.0294 * 2.54 * dbh_in


def fell_peterson(dbh_in: float) -> float:
    """Fell one tree.  dbh_in : D [in].  Returns minutes.

    Differs: the two branches miss each other by 0.002 min at 10 in; kept as printed.
    Source: [peterson1987] equation as carried in [fight2006].
    """
    return 0.33 + 0.012 * dbh_in if dbh_in < 10 else 0.1 + 0.0111 * dbh_in**1.496


def fell_keatley(dbh_in: float, walk_ft: float) -> float:
    """Fell one tree.  dbh_in : D [in], walk_ft : W [ft].  Returns minutes.

    Source: [keatley2000] equation as carried in [fight2006].
    """
    return math.sqrt(4.58 + 0.07 * walk_ft + 0.16 * dbh_in)


def fell_andersson_young(volume_ft3: float) -> float:
    """Fell one tree.  volume_ft3 : V, bole volume [ft3].  Returns minutes.

    Valid for 15 to 90 ft3 (full weight in [fight2006]).  Source: [andersson1998] as carried in [fight2006].
    """
    return 1.082 + 0.01505 * volume_ft3 - 0.634 / volume_ft3


def fell_limb_buck_kellogg_olsen(
    volume_ft3: float, walk_ft: float, slope_percent: float, clearcut: bool = False
) -> float:
    """Fell, limb and buck one tree, delays included.  V [ft3], W [ft], S [%].  Returns minutes.

    Source: [kellogg1986] equation as carried in [fight2006].
    """
    minutes = KELLOGG_OLSEN_DELAY * (1.33 + 0.0187 * walk_ft + 0.0143 * slope_percent + 0.0987 * volume_ft3 + 0.14)
    return 0.9 * minutes if clearcut else minutes


def fell_limb_buck_kellogg(dbh_in: float, logs: float, slope_percent: float, limbs: float = LIMBS_PER_TREE) -> float:
    """Fell, limb and buck one tree, 25 % delay included.  D [in], logs and limbs per tree, S [%].  Returns minutes.

    Source: [kellogg1999] equation as carried in [fight2006]; light thinning (no heavy-thinning term).
    """
    productive = (
        -0.465 + 0.102 * dbh_in + limb_and_buck(limbs, logs) + 0.009 * slope_percent
        + 0.734 * WEDGE_SHARE + 0.137 * CORRIDOR_SHARE + 0.449
    )  # fmt: skip
    return KELLOGG_DELAY * productive


def fell_limb_buck_andersson_young(volume_ft3: float) -> float:
    """Fell, limb and buck one tree, 19.7 % delay included.  V [ft3], 15 or more.  Returns minutes.

    Source: [andersson1998] equation as carried in [fight2006].
    """
    return ANDERSSON_YOUNG_DELAY * (1.772 + 0.02877 * volume_ft3 - 2.6486 / volume_ft3)


def limb_and_buck(limbs: float, logs: float) -> float:
    """Minutes for the limbs and logs of one tree, before delays: 0.016 a limb and 0.562 a log.

    Source: [kellogg1999] terms as carried in [fight2006].
    """
    return 0.016 * limbs + 0.562 * logs


FELLING: Mapping[str, Callable[[float, float, float], float | None]] = MappingProxyType(
    {
        "mcneel1994": lambda dbh, walk, _volume: fell_mcneel(dbh, walk),
        "peterson1987": lambda dbh, _walk, _volume: fell_peterson(dbh),
        "keatley2000": lambda dbh, walk, _volume: fell_keatley(dbh, walk),
        "andersson1998": lambda _dbh, _walk, volume: (
            fell_andersson_young(volume) if ANDERSSON_YOUNG_FROM_FT3 <= volume <= ANDERSSON_YOUNG_TO_FT3 else None
        ),
    }
)
"""Every published felling equation by source key: (dbh in, walk ft, volume ft3) -> minutes, None out of its range."""
