"""Hours of felling, limbing and bucking: published equations for the minutes, a share of on-site time for the rest."""

from __future__ import annotations

from collections.abc import Mapping

from barkwright.inventory.model import Skill, Tree
from barkwright.spread import Spread
from barkwright.stem.pieces import TreeStem
from barkwright.treatment.crews import SAW_PEOPLE
from barkwright.treatment.generic import generic_volume_ft3
from barkwright.treatment.rates import Triple
from barkwright.treatment.sawtimes import (
    ANDERSSON_YOUNG_DELAY,
    ANDERSSON_YOUNG_FROM_FT3,
    FELLING,
    KELLOGG_DELAY,
    KELLOGG_OLSEN_DELAY,
    fell_limb_buck_andersson_young,
    fell_limb_buck_kellogg,
    fell_limb_buck_kellogg_olsen,
    fell_mcneel,
)
from barkwright.treatment.shop import Shop, plus
from barkwright.treatment.ways import Step


def fell_minutes(dbh_in: float, volume_ft3: float, walk: Triple) -> Triple:
    """Productive minutes to fell one tree: least and most of the published equations, McNeel's as the likely one.

    dbh_in [in], volume_ft3: bole [ft3], walk: way between trees [ft] low, likely, high.
    """
    low = [minutes for each in FELLING.values() if (minutes := each(dbh_in, walk[0], volume_ft3)) is not None]
    high = [minutes for each in FELLING.values() if (minutes := each(dbh_in, walk[2], volume_ft3)) is not None]
    return min(low), fell_mcneel(dbh_in, walk[1]), max(high)


def limb_and_buck_minutes(dbh_in: float, volume_ft3: float, logs: int, rates: Mapping[str, Triple]) -> Triple:
    """Productive minutes to limb one tree and buck it into logs.

    So much a limb and a log [kellogg1999]; the high value reaches as far as the published whole-tree equations do,
    without their delays and their felling. dbh_in [in], volume_ft3: bole [ft3].
    """
    limbs, limb, cut = rates["tree-limbs"], rates["limb"], rates["log-cut"]
    low, likely, high = (limbs[i] * limb[i] + logs * cut[i] for i in range(3))
    walk = rates["tree-walk"][1]
    felling = fell_mcneel(dbh_in, walk)
    whole = [
        fell_limb_buck_kellogg_olsen(volume_ft3, walk, 0.0) / KELLOGG_OLSEN_DELAY,
        fell_limb_buck_kellogg(dbh_in, logs, 0.0) / KELLOGG_DELAY,
    ]
    if volume_ft3 >= ANDERSSON_YOUNG_FROM_FT3:
        whole.append(fell_limb_buck_andersson_young(volume_ft3) / ANDERSSON_YOUNG_DELAY)
    rest = [minutes - felling for minutes in whole if minutes > felling]
    return low, likely, max([high, *rest])


def sizes(tree: Tree, stem: TreeStem) -> tuple[float, float]:
    """Diameter at breast height [in] and bole volume [ft3] of a tree; what lies is sized by its thickest log."""
    bole = [piece for piece in stem.pieces if piece.kind != "limbs"]
    dbh = stem.dbh_in or tree.breast_height_in or max((piece.butt_dob_in for piece in bole), default=0.0)
    return dbh, sum(piece.wood_ft3 for piece in bole) or max(1.0, generic_volume_ft3(dbh))


def fell_step(tree: Tree, stem: TreeStem, shop: Shop, yard: bool) -> Step:
    """Fell one standing tree; two people are there all the time. `yard`: something near has to be spared."""
    dbh, volume = sizes(tree, stem)
    minutes = fell_minutes(dbh, volume, shop.rate["tree-walk"])
    slow = shop.rate["yard-factor"] if yard else (1.0, 1.0, 1.0)
    sawing = shop.saw_hours((minutes[0] * slow[0], minutes[1] * slow[1], minutes[2] * slow[2]))
    low, likely, high = plus(sawing, shop.rate["tree-setup"])
    equipment = ("chain-saw", "wedges") if "wedges" in shop.machines else ("chain-saw",)
    return Step(
        work="fell",
        what=f"fell the tree, {dbh:.0f} in across at breast height",
        person_hours=Spread(low * SAW_PEOPLE, likely * SAW_PEOPLE, high * SAW_PEOPLE),
        people=SAW_PEOPLE,
        equipment=equipment,
        machine_hours=Spread(low, likely, high),
        skills=("felling",),
    )


def limb_and_buck_step(tree: Tree, stem: TreeStem, shop: Shop, skill: Skill = "saw") -> Step:
    """Limb one tree on the ground and cut it into its logs; a windthrow is cut free of its root plate first."""
    logs = sum(piece.kind == "log" for piece in stem.pieces)
    hours = shop.saw_hours(limb_and_buck_minutes(*sizes(tree, stem), logs, shop.rate))
    rooted = tree.status == "windthrown"
    if tree.status != "standing":
        hours = plus(hours, shop.rate["tree-setup"])
    low, likely, high = hours
    cut = f"cut it into {logs} logs" if logs > 1 else "cut off its top"
    free = "cut it free of its root plate, " if rooted else ""
    return Step(
        work="limb and buck",
        what=f"{free}limb the tree and {cut}",
        person_hours=Spread(low * SAW_PEOPLE, likely * SAW_PEOPLE, high * SAW_PEOPLE),
        people=SAW_PEOPLE,
        equipment=("chain-saw",),
        machine_hours=Spread(low, likely, high),
        skills=(skill,),
    )
