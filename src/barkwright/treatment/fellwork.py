"""Hours of felling, limbing and bucking: published equations for the minutes, a share of on-site time for the rest."""

from __future__ import annotations

from barkwright.inventory.model import Skill, Tree
from barkwright.spread import Spread
from barkwright.stem.pieces import TreeStem
from barkwright.treatment.crews import SAW_PEOPLE
from barkwright.treatment.generic import generic_volume_ft3
from barkwright.treatment.rates import Triple
from barkwright.treatment.sawtimes import FELLING, fell_mcneel
from barkwright.treatment.shop import Shop, plus
from barkwright.treatment.ways import Step


def fell_minutes(dbh_in: float, volume_ft3: float, walk: Triple) -> Triple:
    """Productive minutes to fell one tree: least and most of the published equations, McNeel's as the likely one.

    dbh_in [in], volume_ft3: bole [ft3], walk: way between trees [ft] low, likely, high.
    """
    low = [minutes for each in FELLING.values() if (minutes := each(dbh_in, walk[0], volume_ft3)) is not None]
    high = [minutes for each in FELLING.values() if (minutes := each(dbh_in, walk[2], volume_ft3)) is not None]
    return min(low), fell_mcneel(dbh_in, walk[1]), max(high)


def fell_step(tree: Tree, stem: TreeStem, shop: Shop, yard: bool) -> Step:
    """Fell one standing tree; two people are there all the time. `yard`: something near has to be spared."""
    dbh = stem.dbh_in or tree.breast_height_in or 0.0
    volume = sum(piece.wood_ft3 for piece in stem.pieces if piece.kind != "limbs") or max(1.0, generic_volume_ft3(dbh))
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
    limbs, limb, cut = shop.rate["tree-limbs"], shop.rate["limb"], shop.rate["log-cut"]
    minutes = (
        limbs[0] * limb[0] + logs * cut[0],
        limbs[1] * limb[1] + logs * cut[1],
        limbs[2] * limb[2] + logs * cut[2],
    )
    hours = shop.saw_hours(minutes)
    rooted = tree.status == "windthrown"
    if tree.status != "standing":
        hours = plus(hours, shop.rate["tree-setup"])
    low, likely, high = hours
    free = "cut it free of its root plate, " if rooted else ""
    return Step(
        work="limb and buck",
        what=f"{free}limb the tree and cut it into {logs} logs",
        person_hours=Spread(low * SAW_PEOPLE, likely * SAW_PEOPLE, high * SAW_PEOPLE),
        people=SAW_PEOPLE,
        equipment=("chain-saw",),
        machine_hours=Spread(low, likely, high),
        skills=(skill,),
    )
