"""Every shipped rule fires on a real bench, for some piece on some day of some site."""

from datetime import date
from itertools import product

import pytest
from bench_site import ADULTS, ALL, CHIPPER, EMPTY, HOST, LARVAE, MILL, bench, brood, piece, site

from barkwright.treatment.rulebook import shipped_records

FLYING = {**MILL, "processes_by": None}
SITES = [
    site(),
    site({"attacked": "never"}, wishes={"avoid": ("burn",), "keep_sawlogs": True}),
    site(equipment=(), crew=({"name": "one", "people": 1, "hours_per_day": 6.0},)),
    site(
        crew=({"name": "one", "people": 1, "hours_per_day": 6.0, "skills": ("saw",)},),
        equipment=(*(one for one in ALL if one["kind"] in ("chain-saw", "drawknife", "bark-spud", "maul", "truck")),
                   {"kind": "saw-debarker", "owned": True}, {"kind": "stump-grinder", "owned": True},
                   {"kind": "trailer", "owned": True}, {**CHIPPER, "from": date(2027, 1, 15)}),
        site={"machine_access": None, "slope_percent": 30.0, "nearest_live_spruce": 15.0,
              "ground": {"diggable": None, "services_located": False}, "burning": {"permit": "unknown"}},
    ),
    site({"status": "logs", "attacked": 2025, "bark": {"condition": "dried"}},
         equipment=tuple(one for one in ALL if one["kind"] not in ("cant-hook", "excavator", "backhoe")),
         site={"machine_access": False, "ground": {"diggable": False},
               "burning": {"permit": "not-needed", "windows": ({"from": date(2026, 12, 1), "to": date(2027, 3, 1)},)},
               "destinations": ({**MILL, "processes_by": date(2027, 8, 1)}, {**FLYING, "live_spruce_within": 0.5})}),
    site({"status": "felled", "felled_on": date(2026, 10, 1), "bark": {"condition": "loosened", "left_percent": 0.0}},
         site={"burning": {"permit": "refused"}, "destinations": (MILL, {**FLYING, "live_spruce_within": 2.0})}),
    site({"status": "felled", "felled_on": date(2026, 10, 1), "bark": {"condition": "loosened"}},
         site={"ground": {"diggable": True, "services_located": False}}),
    site({"status": "windthrown", "found": {"insect": "engraver"}},
         site={"destinations": ({**FLYING, "live_spruce_within": "none"}, FLYING)}),
    site(wishes={"keep_firewood": True}, equipment=(*ALL[:-7], {"kind": "excavator", "owned": True, "capacity": 3.0},
         {"kind": "backhoe", "owned": True, "capacity": 5.0}, CHIPPER)),
]  # fmt: skip
PIECES = [
    piece(), piece(butt=8.0), piece(butt=11.0), piece(butt=14.0, lift_lb=900.0, top_dob_in=8.0),
    piece(butt=36.0, lift_lb=4000.0),
    piece("stump", 12.0), piece("stump", 20.0, length_ft=3.0), piece("top", 5.0), piece("limbs", 0.0),
]  # fmt: skip
LATE_HOST = brood("none", host=True, flight_to_beat=2028)
BROODS = [ADULTS, LARVAE, HOST, LATE_HOST, EMPTY, brood("possible", "unknown")]


def fired() -> set[str]:
    found: set[str] = set()
    for made in SITES:
        for on in (date(2026, 11, 25), date(2027, 5, 20)):
            table = bench(made, on)
            for log, life in product(PIECES, BROODS):
                for way in table.ways(made.trees[0], log, life, all_tools=True):
                    found |= {reason.rule for one in way.windows for reason in one.reasons}
    return found


FIRED = fired()


@pytest.mark.parametrize("rule", [one.id for one in shipped_records()])
def test_shipped_rule_fires(rule):
    assert rule in FIRED
