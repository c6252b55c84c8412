"""Hours of dealing with what is left: bark, piles and fire, soil, loads, slash, stumps."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import cast

from barkwright.stem.measures import section_ft2
from barkwright.treatment import hauling, piles
from barkwright.treatment.chipping import chip_minutes_per_tonne
from barkwright.treatment.facts import end_name
from barkwright.treatment.labour import TOOL_WORDS, Effort, Job, operator, said
from barkwright.treatment.lifting import LOAD_CONSTANT_LB, log_pickup_limit_lb
from barkwright.treatment.parts import Part
from barkwright.treatment.rates import Triple
from barkwright.treatment.shop import Shop, plus
from barkwright.treatment.trench import Trench, excavator_loose_per_hour, trench_for_logs
from barkwright.units import FT3_PER_M3, FT3_PER_YD3, LB_PER_TONNE

PICKUP_LB = log_pickup_limit_lb()


def bark_yd3(shop: Shop, part: Part) -> float:
    """Loose stripped bark [yd3]."""
    return part.bark_ft3 * shop.size["bark-loose"] / FT3_PER_YD3


def bark_words(yards: float) -> str:
    """An amount of stripped bark in words; less than a tenth of a cubic foot has no number."""
    feet = yards * FT3_PER_YD3
    return f"{said(feet)} ft3 of loose bark" if feet >= 0.1 else "the loose bark"


def log_piles(shop: Shop, part: Part) -> float:
    """Share of a burning pile that the wood and bark of a part make up [piles]."""
    packing = shop.size["pack-large" if part.mean_dob_in > shop.size["pack-large-over"] else "pack-small"]
    pile = piles.gross_volume("paraboloid", shop.size["log-pile-height"], shop.size["log-pile-width"])
    return (part.wood_ft3 + part.bark_ft3) / piles.machine_pile_net(pile, packing)


def slash_piles(shop: Shop, green_lb: float) -> float:
    """Hand piles that a weight of green limbs makes [piles], by the published mass of a hand pile."""
    gross_ft3 = piles.gross_volume("paraboloid", shop.size["slash-pile-height"], shop.size["slash-pile-width"])
    true_m3 = piles.hand_pile_true_volume_m3(gross_ft3 / FT3_PER_M3)
    pile_lb = piles.hand_pile_mass_mg(true_m3) * LB_PER_TONNE
    return green_lb * shop.size["dry-share"] / pile_lb


def trench_of(shop: Shop, part: Part) -> Trench:
    """Trench for the wood and bark of a part [ft, ft3]; the layer is at least as deep as the piece is thick."""
    layer = max(shop.size["trench-layer"], part.butt_dob_in / 12)
    width = max(shop.size["trench-width"], part.butt_dob_in / 12 + shop.size["trench-clearance"])
    packing, cover, swell = shop.size["trench-packing"], shop.size["trench-cover"] / 12, shop.size["soil-swell"]
    return trench_for_logs(part.wood_ft3 + part.bark_ft3, packing, width, layer, cover, swell)


def bark_hole_yd3(shop: Shop, part: Part) -> float:
    """Bank soil to dig by hand for the bark of a part, cover included [yd3]."""
    layer = shop.size["bark-layer"]
    return bark_yd3(shop, part) * (layer + shop.size["trench-cover"]) / layer


def _gather_bark(job: Job) -> Effort:
    yards = bark_yd3(job.shop, job.part)
    return Effort(f"rake together {bark_words(yards)}", job.shop.hand_hours(yards, "bark-gather"))


def _bag_bark(job: Job) -> Effort:
    yards = bark_yd3(job.shop, job.part)
    return Effort(f"close {bark_words(yards)} in strong bags", job.shop.hand_hours(yards, "bark-bag"))


def _fire_hours(job: Job, count: float, slow: Triple = (1.0, 1.0, 1.0)) -> Triple:
    share, attend = job.shop.rate["burn-share"], job.shop.rate["burn-attend"]
    return tuple(share[i] + count * attend[i] * slow[i] for i in range(3))  # type: ignore[return-value]


def _burn_bark(job: Job) -> Effort:
    yards = bark_yd3(job.shop, job.part)
    pile = piles.gross_volume("paraboloid", job.shop.size["slash-pile-height"], job.shop.size["slash-pile-width"])
    return Effort(
        f"burn {bark_words(yards)} and stay until it is cold",
        _fire_hours(job, yards * FT3_PER_YD3 / pile),
    )


def _bury_bark(job: Job) -> Effort:
    hole = bark_hole_yd3(job.shop, job.part)
    inches = job.shop.size["trench-cover"]
    return Effort(
        f"dig out {said(max(hole * FT3_PER_YD3, 0.1))} ft3 with a spade, put the bark in, "
        f"cover it with {inches:.0f} in of soil",
        job.shop.hand_hours(hole, "hand-dig"),
    )


def _chip_bark(job: Job) -> Effort:
    shop = job.shop
    tonnes = job.part.bark_ft3 * shop.size["bark-weight"] / LB_PER_TONNE
    minutes = tonnes * chip_minutes_per_tonne(shop.size["bark-armful"] / LB_PER_TONNE, shop.chipper_kw)
    share, drag = shop.rate["chipper-share"], shop.rate["chip-drag"]
    elapsed = tuple(minutes / 60 / share[2 - i] + drag[i] / 60 for i in range(3))
    machine = shop.machines.get("chipper")
    people = 1 if machine is not None and machine.with_operator else 2
    return Effort(
        f"put {bark_words(bark_yd3(shop, job.part))} through the chipper",
        cast(Triple, elapsed),
        people,
        ("chipper",),
    )


def _spread_chips(job: Job) -> Effort:
    yards = job.part.chips_yd3
    what = f"spread {yards:.1f} yd3 of chips thin in the sun with a fork or a rake"
    return Effort(what, job.shop.hand_hours(yards, "chip-spread"))


def _pile(job: Job) -> Effort:
    part, shop = job.part, job.shop
    hours = shop.hand_hours(part.green_lb / LB_PER_TONNE, "pile")
    lengths = max(1, math.ceil(part.length_ft / shop.size["short-length"] - 0.01))
    each = part.lift_lb / lengths
    if job.piece.kind == "limbs" or each <= PICKUP_LB:
        return Effort(f"pile {part.green_lb:.0f} lb for burning", hours)
    halved = (hours[0] / 2, hours[1] / 2, hours[2] / 2)
    noun = "piece" if lengths == 1 else "pieces"
    return Effort(f"pile {lengths} heavy {noun} for burning: roll, do not lift", halved, 2)


def _burn(job: Job) -> Effort:
    if job.piece.kind == "limbs":
        return Effort(
            f"burn {job.part.green_lb:.0f} lb of limbs and stay until the ashes are cold",
            _fire_hours(job, slash_piles(job.shop, job.part.green_lb)),
        )
    slow = (1.0, 1.0, 1.0) if job.cured else job.shop.rate["burn-green-factor"]
    hours = _fire_hours(job, log_piles(job.shop, job.part), slow)
    return Effort("burn the wood, turn it until all bark is gone or charred, stay until the ashes are cold", hours)


def _burn_stump(job: Job) -> Effort:
    share, attend, count = (job.shop.rate[name] for name in ("burn-share", "burn-attend", "burn-stump-piles"))
    hours = cast(Triple, tuple(share[i] + count[i] * attend[i] for i in range(3)))
    return Effort("burn the bark off the stump, all round to below the ground, and stay until it is cold", hours)


def dig_speed(shop: Shop, tool: str | None) -> Triple:
    """Loose soil dug in an hour [yd3]: an excavator's from its bucket and cycles, a backhoe's as estimators say."""
    if tool == "backhoe":
        return shop.rate["dig-backhoe"]
    fill, cycles, share, bucket = (
        shop.rate["bucket-fill"],
        shop.rate["dig-cycles"],
        shop.rate["dig-share"],
        shop.size["bucket"],
    )
    low, likely, high = (excavator_loose_per_hour(bucket, fill[i], cycles[i], share[i]) for i in range(3))
    return low, likely, high


def _dig_hours(job: Job, loose_yd3: float) -> Triple:
    speed = dig_speed(job.shop, job.tool)
    back = job.shop.rate["fill-factor"]
    return (
        loose_yd3 * (1 + back[0]) / speed[2],
        loose_yd3 * (1 + back[1]) / speed[1],
        loose_yd3 * (1 + back[2]) / speed[0],
    )


def _bury(job: Job) -> Effort:
    shop = job.shop
    trench = trench_of(shop, job.part)
    lay = shop.rate["lay-log"]
    hours = plus(_dig_hours(job, trench.loose / FT3_PER_YD3), (lay[0] / 60, lay[1] / 60, lay[2] / 60))
    what = (
        f"dig {trench.bank / FT3_PER_YD3:.1f} yd3 with the {TOOL_WORDS[job.tool or 'excavator']}, lay the wood in, "
        f"cover it with {shop.size['trench-cover']:.0f} in of soil, mound the rest"
    )
    return Effort(what, hours, 2, (job.tool or "excavator",), operator(job))


def _cover_stump(job: Job) -> Effort:
    shop, part = job.shop, job.part
    cover = shop.size["trench-cover"] / 12
    radius = part.butt_dob_in / 24 + cover
    soil = (math.pi * radius * radius * (part.length_ft + cover) - part.wood_ft3) / FT3_PER_YD3
    what = f"cover the stump with {cover * 12:.0f} in of soil on all sides, about {soil:.1f} yd3"
    return Effort(what, _dig_hours(job, soil), 2, (job.tool or "excavator",), operator(job))


def _grind_stump(job: Job) -> Effort:
    speed = job.shop.rate["grind-stump"]
    face = section_ft2(job.part.butt_dob_in)
    setup = job.shop.rate["grind-setup"]
    hours = (face / speed[2] + setup[0], face / speed[1] + setup[1], face / speed[0] + setup[2])
    return Effort(
        f"grind the stump, {job.part.butt_dob_in:.0f} in across, with its bark to below the ground",
        hours,
        1,
        ("stump-grinder",),
        operator(job),
    )


def _scatter(job: Job) -> Effort:
    hours = job.shop.hand_hours(job.part.green_lb / LB_PER_TONNE, "scatter")
    return Effort(
        f"cut {job.part.green_lb:.0f} lb of slash short with an axe or a hand saw, and scatter it in the sun", hours
    )


def _load_haul(job: Job) -> Effort:
    shop, part = job.shop, job.part
    tool = job.tool or "truck"
    chips = tool == "chip-truck"
    if chips:
        goods, amount, share = "chips", f"{part.chips_yd3:.1f} yd3 of chips", part.chips_yd3 / shop.load_yd3()
    else:
        goods = "slash" if job.piece.kind in ("limbs", "top") else "logs"
        amount, share = f"{part.lift_lb:.0f} lb", part.lift_lb / shop.payload_lb(tool)
    return _haul(job, tool, goods, amount, share, part.green_lb / LB_PER_TONNE)


def _haul_bark(job: Job) -> Effort:
    pounds = job.part.bark_ft3 * job.shop.size["bark-weight"]
    yards = bark_yd3(job.shop, job.part)
    tool = job.tool or "truck"
    share = max(pounds / job.shop.payload_lb(tool), yards / job.shop.size["truck-yd3"])
    return _haul(job, tool, "bark", f"{bark_words(yards)} in bags", share, pounds / LB_PER_TONNE)


def _haul(job: Job, tool: str, goods: str, amount: str, share: float, tonnes: float) -> Effort:
    shop = job.shop
    place = job.end
    drive = share * hauling.round_trip_hours(shop.size["default-miles"] if place is None else place.miles)
    heavy = goods == "logs" and job.part.lift_lb > LOAD_CONSTANT_LB * shop.size["lift-people"]
    loader = shop.loader() if heavy else None
    equipment: tuple[str, ...] = (tool,)
    if tool == "chip-truck":
        load: Triple = (0.0, 0.0, 0.0)
    elif loader is not None:
        speed = shop.rate["load-machine"]
        cubic = (job.part.wood_ft3 + job.part.bark_ft3) / FT3_PER_M3
        load, equipment = (cubic / speed[2], cubic / speed[1], cubic / speed[0]), (tool, loader)
    else:
        one = shop.hand_hours(tonnes, "load-hand")
        load = (one[0] / 2, one[1] / 2, one[2] / 2)  # two people load
    where = "away" if place is None else f"to {end_name(place)}"
    slow = shop.rate["drive-factor"]
    ready = shop.rate["haul-share"]
    hours = plus(load, ready, (drive * slow[0], drive * slow[1], drive * slow[2]))
    people = 1 if tool == "chip-truck" else 2
    return Effort(
        f"haul {amount} {where} with the {TOOL_WORDS[tool]}",
        hours,
        people,
        equipment,
        ("machine",) if loader in equipment else (),
    )


AFTERWORK: Mapping[str, Callable[[Job], Effort | None]] = MappingProxyType(
    {
        "gather-bark": _gather_bark,
        "bag-bark": _bag_bark,
        "destroy-bark-burn": _burn_bark,
        "destroy-bark-bury": _bury_bark,
        "destroy-bark-chip": _chip_bark,
        "haul-bark": _haul_bark,
        "spread-chips": _spread_chips,
        "pile": _pile,
        "burn": _burn,
        "burn-stump": _burn_stump,
        "bury": _bury,
        "cover-stump": _cover_stump,
        "grind-stump": _grind_stump,
        "scatter": _scatter,
        "load-haul": _load_haul,
    }
)
"""Bark, piles, fire, soil, loads, slash and stumps."""
