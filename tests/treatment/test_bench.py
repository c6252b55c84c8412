"""What the bench says of real questions: verdicts, ends, dates, and the promises that hold for every way."""

from datetime import date, timedelta
from itertools import pairwise, product

import pytest
from bench_site import (
    ADULTS,
    ALL,
    CHIPPER,
    EMPTY,
    HORIZON,
    HOST,
    LARVAE,
    MILL,
    ON,
    bench,
    brood,
    piece,
    rules,
    site,
    ways,
    window,
)  # fmt: skip

from barkwright.treatment.disposal import trench_of
from barkwright.treatment.parts import part_of
from barkwright.treatment.rulebook import ENDS, VERDICTS, book, shipped_records
from barkwright.treatment.shop import shop_of

DAY = timedelta(days=1)
MARCH, MAY, JUNE, OCTOBER = date(2027, 3, 28), date(2027, 5, 5), date(2027, 6, 1), date(2027, 10, 5)


# --- the chipper


def test_a_log_as_thick_as_the_chipper_takes_goes_in_whole():
    far = site(site={"nearest_live_spruce": "none"})
    assert window(ways(far, piece(butt=9.0), ADULTS)["chip-whole"], ON).verdict == "fits"
    assert window(ways(far, piece(butt=9.01), ADULTS)["chip-whole"], ON).verdict == "ruled out"


@pytest.mark.parametrize(("butt", "verdict"), [(8.0, "fits"), (8.01, "fits with care")])
def test_what_is_over_eight_inches_is_not_lifted_into_a_chipper_by_hand(butt, verdict):
    far = site(site={"nearest_live_spruce": "none"}, equipment=(CHIPPER,))
    assert window(ways(far, piece(butt=butt), ADULTS)["chip-whole"], ON).verdict == verdict


def test_a_thicker_log_is_quartered_or_its_butt_goes_another_way():
    found = ways(site(), piece(butt=9.1, top_dob_in=7.0), ADULTS)
    assert window(found["chip-whole"], ON).verdict == "ruled out"
    assert window(found["chip-whole"], ON).reasons[0].because == (
        "The thick end is 9.1 in and the chipper takes 9 in all day: the butt has to be cut off, quartered or dealt "
        "with another way."
    )
    assert {"chip-quarter-butt", "chip-haul-butt", "chip-peel-butt-drawknife", "chip-peel-butt-spud"} <= set(found)


def test_no_butt_is_cut_off_a_log_that_fits_and_none_is_left_over_where_nothing_fits():
    assert not any("butt" in one for one in ways(site(), piece(butt=9.0), ADULTS))
    nothing_fits = ways(site(), piece(butt=12.0, top_dob_in=10.0), ADULTS)
    assert "chip-quarter-butt" in nothing_fits
    assert "chip-haul-butt" not in nothing_fits


def test_even_quarters_can_be_too_thick():
    # a quarter of a round log is 0.7071 of the diameter across: 12.72 in gives 8.99 in, 12.74 in gives 9.01 in
    for butt, verdict in ((12.72, "fits with care"), (12.74, "ruled out")):
        way = ways(site(), piece(butt=butt, top_dob_in=10.0), ADULTS)["chip-quarter-butt"]
        assert window(way, ON).verdict == verdict


def test_fresh_chips_by_live_spruce_want_care_in_spring_and_not_far_from_any():
    near = ways(site(site={"nearest_live_spruce": 400.0}), piece(butt=6.0), LARVAE)["chip-whole"]
    none = ways(site(site={"nearest_live_spruce": "none"}), piece(butt=6.0), LARVAE)["chip-whole"]
    assert window(near, MAY).verdict == "fits with care"
    assert window(near, OCTOBER).verdict == "fits"
    assert window(none, MAY).verdict == "fits"


# --- bark


@pytest.mark.parametrize("tool", ["drawknife", "spud", "saw-debarker"])
def test_adults_in_the_bark_rule_out_peeling_unless_the_bark_goes_too(tool):
    found = ways(site(site={"destinations": (MILL,)}), piece(), ADULTS)
    assert window(found[f"debark-{tool}"], MARCH).verdict == "ruled out"
    assert window(found[f"debark-{tool}-split"], MARCH).verdict == "ruled out"
    for fate in ("burn-bark", "chip-bark", "haul-bark-to-1"):
        one = window(found[f"debark-{tool}-{fate}"], MARCH)
        assert (one.verdict, one.end) == ("fits with care", "done")


def test_a_stage_that_nobody_knows_counts_as_adults():
    assert window(ways(site(), piece(), brood("possible", "unknown"))["debark-drawknife"], ON).verdict == "ruled out"


def test_peeling_larvae_ends_the_day_before_adults_form():
    way = ways(site(), piece(), LARVAE)["debark-drawknife"]
    assert way.finish_by == date(2027, 7, 31)
    assert window(way, date(2027, 7, 31)).end == "done"
    assert window(way, date(2027, 7, 31)).verdict != "ruled out"
    assert window(way, date(2027, 8, 1)).verdict == "ruled out"
    burned = ways(site(), piece(), LARVAE)["debark-drawknife-burn-bark"]
    assert burned.finish_by == date(2028, 5, 21) - timedelta(days=14)  # regional onset less the margin


def test_scoring_is_partial_for_larvae_and_nothing_for_adults():
    assert {one.end for one in ways(site(), piece(), LARVAE)["score-saw-debarker"].windows} == {"partial", "not done"}
    assert window(ways(site(), piece(), ADULTS)["score-saw-debarker"], ON).verdict == "ruled out"


def test_the_state_of_the_bark_follows_the_season_for_standing_trees_and_the_look_for_down_wood():
    standing = ways(site(), piece(), LARVAE)["debark-drawknife"]
    assert [window(standing, day).bark for day in (date(2027, 1, 5), MARCH, JUNE)] == ["frozen", "dormant", "slipping"]
    dried = ways(site({"status": "logs", "bark": {"condition": "dried"}}), piece(), LARVAE)["debark-drawknife"]
    assert {one.bark for one in dried.windows} == {"dried"}
    tight = ways(site({"status": "logs", "bark": {"condition": "tight"}}), piece(), LARVAE)["debark-drawknife"]
    assert window(tight, JUNE).bark == "dormant"
    old = ways(site({"attacked": 2024}), piece(), LARVAE)["debark-drawknife"]
    assert window(old, JUNE).bark == "dormant"


def test_no_bark_no_peeling():
    bare = site({"status": "logs", "bark": {"condition": "loosened", "left_percent": 0.0}})
    assert {one.verdict for one in ways(bare, piece(), LARVAE)["debark-spud"].windows} == {"ruled out"}


# --- fire, ground, stack, road


@pytest.mark.parametrize(
    ("permit", "verdict"),
    [("refused", "ruled out"), ("unknown", "fits with care"), ("held", "fits"), ("not-needed", "fits")],
)
def test_the_permit_answer_decides_what_is_said_of_burning(permit, verdict):
    open_days = ({"from": ON, "to": HORIZON},)
    place = site(
        {"felled_on": date(2026, 1, 2), "status": "felled"}, site={"burning": {"permit": permit, "windows": open_days}}
    )
    one = window(ways(place, piece(), ADULTS)["burn-pile"], ON)
    assert one.verdict == verdict
    assert one.needs == (("burn-permit",) if permit == "unknown" else ())


def test_nothing_ever_says_that_burning_is_allowed():
    assert not any("allowed" in one.because and "not" not in one.because for one in shipped_records())


def test_burning_keeps_to_its_days():
    place = site(
        site={"burning": {"permit": "held", "windows": ({"from": date(2026, 12, 1), "to": date(2027, 3, 31)},)}}
    )
    for name in ("burn-green", "debark-drawknife-burn-bark", "split-maul-burn"):
        way = ways(place, piece(), ADULTS)[name]
        said = [
            window(way, day).verdict == "ruled out"
            for day in (ON, date(2026, 12, 1), date(2027, 3, 31), date(2027, 4, 1))
        ]
        assert said == [True, False, False, True]


def test_a_pile_is_relied_on_only_when_cured():
    # 180 days for wood over 4 in: felled on 1 October 2026, cured on 30 March 2027
    place = site({"status": "felled", "felled_on": date(2026, 10, 1)})
    way = ways(place, piece(), brood(flight_to_beat=2028))["burn-pile"]
    assert window(way, date(2027, 3, 29)).end == "partial"
    assert window(way, date(2027, 3, 30)).end == "done"


def test_frozen_ground_cannot_be_dug_and_lines_are_marked_first():
    place = site(site={"ground": {"diggable": True, "services_located": False}})
    for name in ("bury-excavator", "bury-backhoe", "debark-drawknife-bury-bark"):
        way = ways(place, piece(), LARVAE)[name]
        assert window(way, date(2027, 1, 10)).verdict == "ruled out"
        assert (window(way, JUNE).verdict, window(way, JUNE).end) == ("fits with care", "done")
        assert window(way, JUNE).needs == ("locate-services",)


def test_both_depths_of_cover_are_said():
    said = next(
        one.because
        for one in window(ways(site(), piece(), LARVAE)["bury-excavator"], JUNE).reasons
        if one.rule == "bury-cover"
    )
    assert "18 in" in said
    assert "8 in" in said


KEPT = ("split-maul-stack", "split-splitter-stack")


@pytest.mark.parametrize("name", KEPT)
@pytest.mark.parametrize("life", [ADULTS, LARVAE, brood("possible", "unknown"), brood(flight_to_beat=2029)])
def test_split_and_stacked_wood_is_never_safe_on_drying_alone(name, life):
    assert all(one.end != "done" for one in ways(site(), piece(), life)[name].windows)


def said_of_drying(life, day, name="split-maul-stack"):
    one = window(ways(site(), piece(), life)[name], day)
    return one.end, rules(one) & {"split-early", "split-perhaps", "split-late"}


def test_splitting_counts_for_something_while_it_is_likely_dry_before_the_flight():
    # Prince George: split on 1 June it is dry in October at the latest, on 15 September between April and July.
    assert said_of_drying(LARVAE, date(2027, 6, 1)) == ("partial", {"split-early"})
    assert said_of_drying(LARVAE, date(2027, 9, 15)) == ("not done", {"split-perhaps"})
    assert said_of_drying(LARVAE, date(2028, 4, 1)) == ("not done", {"split-late"})
    assert said_of_drying(ADULTS, date(2027, 4, 1)) == ("not done", {"split-late"})


def test_split_wood_is_to_be_done_while_it_is_still_likely_dry_before_the_flight():
    way = ways(site(), piece(), LARVAE)["split-maul-stack"]
    assert date(2027, 6, 1) < way.finish_by < date(2027, 9, 15)
    assert window(way, way.finish_by).end == "partial"
    assert window(way, way.finish_by + timedelta(days=1)).end == "not done"


def test_what_the_drying_rests_on_is_named():
    for day in (date(2027, 6, 1), date(2027, 9, 15), date(2028, 4, 1)):
        (said,) = (one.because for one in window(ways(site(), piece(), LARVAE)["split-maul-stack"], day).reasons
                   if one.rule in ("split-early", "split-perhaps", "split-late"))  # fmt: skip
        assert "reckoned coarsely from the climate normals of Prince George airport" in said
        assert "20 % moisture, dry basis" in said
        assert "21 May 2028" in said


FAR = {"latitude": 44.0, "longitude": -109.0, "region": "central-rockies"}  # no station is near


def test_without_a_climate_a_rule_of_thumb_stays_and_says_so():
    way = ways(site(site=FAR), piece(), LARVAE)["split-maul-stack"]
    assert window(way, date(2027, 4, 30)).end == "partial"
    assert window(way, date(2027, 5, 1)).end == "not done"
    assert way.finish_by == date(2027, 4, 30)
    assert any("by a rule of thumb" in one.because for one in window(way, ON).reasons)
    stove = ways(site(site=FAR), piece(), LARVAE)["split-maul-stove"]
    assert window(stove, date(2027, 9, 30)).verdict == "ruled out"
    assert window(stove, date(2027, 10, 1)).end == "done"


def test_green_wood_never_goes_into_a_stove():
    # Prince George: split on 1 April it is dry between 6 June and 12 August; split in November as soon as that.
    way = ways(site(), piece(), LARVAE)["split-maul-stove"]
    assert window(way, date(2027, 4, 15)).verdict == "ruled out"
    assert (window(way, date(2027, 6, 6)).verdict, window(way, date(2027, 6, 6)).end) == ("fits with care", "partial")
    assert (window(way, date(2027, 8, 13)).verdict, window(way, date(2027, 8, 13)).end) == ("fits with care", "done")


def test_the_stack_is_loose_without_plastic_and_out_of_doors():
    assert {"split-loose", "split-no-plastic", "split-outdoors"} <= rules(
        window(ways(site(), piece(), LARVAE)["split-maul-stack"], ON)
    )


ENDLESS = {"kind": "yard", "miles": 20.0, "takes": ("logs", "bark")}


@pytest.mark.parametrize(
    ("ends", "end"),
    [
        ((), "not done"),
        ((ENDLESS,), "not done"),
        (({**ENDLESS, "live_spruce_within": 1.0},), "not done"),
        (({**ENDLESS, "live_spruce_within": 1.1},), "partial"),
        (({**ENDLESS, "live_spruce_within": "none"},), "partial"),
        (({**ENDLESS, "processes_by": date(2027, 5, 20)},), "done"),
        (({**ENDLESS, "processes_by": date(2027, 5, 21)},), "not done"),  # onset of that region's flight
    ],
)
def test_hauled_wood_is_done_only_where_it_is_processed_before_the_flight(ends, end):
    found = ways(site(site={"destinations": ends}), piece(), ADULTS)
    name = "haul-truck-to-1" if ends else "haul-truck"
    assert window(found[name], ON).end == end


def test_no_adults_on_the_road_to_live_spruce_in_the_flight():
    place = site(
        site={"destinations": ({**ENDLESS, "live_spruce_within": 0.5}, {**ENDLESS, "live_spruce_within": 3.0})}
    )
    found = ways(place, piece(), ADULTS)
    assert window(found["haul-truck-to-1"], JUNE).verdict == "ruled out"
    assert window(found["haul-truck-to-2"], JUNE).verdict == "fits with care"


def test_hauling_is_one_way_for_each_place_that_takes_the_wood():
    place = site(site={"destinations": ({**ENDLESS, "takes": ("chips",)}, ENDLESS, MILL)})
    table = bench(place)
    found = {one.id for one in table.ways(place.trees[0], piece(), ADULTS)}
    assert {one for one in found if one.startswith("haul-truck")} == {"haul-truck-to-2", "haul-truck-to-3"}
    end = table.destination("haul-truck-to-3")
    assert end is not None
    assert end.kind == "mill"
    assert table.template("haul-truck-to-3").id == "haul-truck"


# --- stumps, slash, host wood, empty wood


def test_stumps_have_their_own_ways():
    found = ways(site(), piece("stump", 19.0), ADULTS)
    assert {one.split("-")[0] for one in found} == {"stump", "leave"}
    assert window(found["stump-spud"], ON).verdict == "ruled out"
    assert window(found["stump-grind"], ON).end == "done"


@pytest.mark.parametrize(("height", "care"), [(1.5, False), (1.51, True)])
def test_a_high_stump_is_cut_lower_first(height, care):
    one = window(ways(site(), piece("stump", 19.0, length_ft=height), ADULTS)["stump-grind"], ON)
    assert ("stump-high" in rules(one)) is care


def test_slash_is_scattered_but_not_when_engravers_fly():
    way = ways(site(), piece("limbs", 0.0), EMPTY)["scatter"]
    assert window(way, OCTOBER).verdict == "fits"
    assert window(way, date(2027, 3, 31)).verdict == "fits"
    assert window(way, date(2027, 4, 1)).verdict == "fits with care"
    assert window(way, date(2027, 7, 31)).verdict == "fits with care"
    assert window(way, date(2027, 8, 1)).verdict == "fits"


def test_leaving_is_done_only_where_nothing_is_at_stake():
    assert {one.end for one in ways(site(), piece(), EMPTY)["leave"].windows} == {"done"}
    assert {one.end for one in ways(site(), piece(), HOST)["leave"].windows} == {"not done"}
    assert {one.end for one in ways(site(), piece(), LARVAE)["leave"].windows} == {"not done"}


# --- tools, hands, wishes


def test_a_way_without_its_tool_is_left_out_or_ruled_out_by_it():
    bare = site(equipment=({"kind": "drawknife", "owned": True},))
    assert {"debark-drawknife", "leave"} <= set(ways(bare, piece(), LARVAE))
    assert "chip-whole" not in ways(bare, piece(), LARVAE)
    listed = ways(bare, piece(), LARVAE, all_tools=True)["debark-saw-debarker"]
    assert {one.verdict for one in listed.windows} == {"ruled out"}
    assert "needs a saw debarker and a chain saw" in listed.windows[0].reasons[-1].because


@pytest.mark.parametrize(
    ("kind", "log", "way", "there"),
    [
        ("stump-grinder", piece("stump", 19.0), "stump-grind", True),
        ("drawknife", piece(), "debark-drawknife", False),
    ],
)
def test_a_machine_on_the_list_without_a_price_can_be_had_and_a_hand_tool_that_nobody_owns_cannot(
    kind, log, way, there
):
    assert (way in ways(site(equipment=({"kind": kind},)), log, LARVAE)) is there
    assert way in ways(site(equipment=({"kind": kind, "rent_per_day": "40"},)), log, LARVAE)
    assert way in ways(site(equipment=({"kind": kind, "owned": True},)), log, LARVAE)


def test_a_tool_counts_only_while_it_is_there():
    place = site(
        site={"nearest_live_spruce": "none"},
        equipment=({**CHIPPER, "from": date(2026, 12, 5), "to": date(2026, 12, 9)},),
    )
    way = ways(place, piece(butt=6.0), LARVAE)["chip-whole"]
    said = [window(way, date(2026, 12, day)).verdict for day in (4, 5, 9, 10)]
    assert said == ["ruled out", "fits", "fits", "ruled out"]
    assert window(way, ON).reasons[0].because == "Its tools are here only from 5 December 2026 until 9 December 2026."


def test_nobody_saws_alone():
    for people, verdict in ((1, "ruled out"), (2, "fits with care")):
        crew = ({"name": "us", "people": people, "hours_per_day": 6.0, "skills": ("saw",)},)
        assert window(ways(site(crew=crew), piece(), LARVAE)["split-maul-stack"], ON).verdict == verdict


def test_a_wish_can_be_let_go_and_says_what_would_hold_then():
    avoiding = site(wishes={"avoid": ("burn",)})
    one = window(ways(avoiding, piece(), ADULTS)["burn-green"], ON)
    assert (one.verdict, one.without_wish) == ("ruled out", "fits with care")
    refused = site(wishes={"avoid": ("burn",)}, site={"burning": {"permit": "refused"}})
    one = window(ways(refused, piece(), ADULTS)["burn-green"], ON)
    assert (one.verdict, one.without_wish) == ("ruled out", None)


def test_saw_logs_are_kept_whole_where_the_client_says_so():
    found = ways(site(wishes={"keep_sawlogs": True}), piece(butt=9.0, top_dob_in=7.0), LARVAE)
    assert window(found["chip-whole"], ON).verdict == "ruled out"
    assert found["debark-drawknife"].then == "saw log"
    thin = ways(site(wishes={"keep_sawlogs": True}), piece(butt=9.0, top_dob_in=6.9), LARVAE)
    assert window(thin["chip-whole"], ON).verdict != "ruled out"
    assert thin["debark-drawknife"].then == "left on site"


# --- promises for every way

LIVES = [ADULTS, LARVAE, HOST, EMPTY, brood("possible", "unknown")]
PLACES = [
    site(),
    site({"status": "logs"}, equipment=ALL[:6], site={"destinations": (MILL,)}, wishes={"avoid": ("chip",)}),
]
SAWN = [
    piece(),
    piece(butt=13.0, top_dob_in=8.0, lift_lb=700.0),
    piece("stump", 18.0),
    piece("top", 4.5),
    piece("limbs", 0.0),
]


@pytest.mark.parametrize(("place", "life"), list(product(range(len(PLACES)), range(len(LIVES)))))
def test_windows_cover_every_day_once_and_neighbours_differ(place, life):
    for log in SAWN:
        for way in ways(PLACES[place], log, LIVES[life], all_tools=True).values():
            assert (way.windows[0].first, way.windows[-1].last) == (ON, HORIZON)
            for one, after in pairwise(way.windows):
                assert after.first == one.last + DAY
                assert (one.verdict, one.end, one.bark, one.reasons) != (
                    after.verdict,
                    after.end,
                    after.bark,
                    after.reasons,
                )


@pytest.mark.parametrize("life", range(len(LIVES)))
def test_after_the_onset_only_part_is_stopped_and_after_half_nothing_counts(life):
    for log in SAWN:
        for way in ways(PLACES[0], log, LIVES[life]).values():
            if LIVES[life].brood == "none" or way.method == "leave" or way.too_late is None:
                continue
            onset = date(way.too_late.year, 5, 21)
            assert window(way, onset).end != "done" or window(way, onset).verdict == "ruled out"
            assert window(way, way.too_late + DAY).end == "not done"


@pytest.mark.parametrize(("place", "life"), list(product(range(len(PLACES)), range(len(LIVES)))))
def test_every_window_says_what_all_its_rules_say_one_by_one(place, life):
    """The bench's short cuts against the long way: every rule asked anew on every tenth day."""
    inventory, found = PLACES[place], LIVES[life]
    table = bench(inventory)
    tree = inventory.trees[0]
    for log in SAWN:
        for way in table.ways(tree, log, found, all_tools=True):
            for number in range(0, (HORIZON - ON).days, 10):
                day = ON + timedelta(days=number)
                values = table.facts(tree, log, found, way.id, day)
                template = table.template(way.id)
                fired = [
                    one
                    for one in table.book.rules
                    if template.id in one.templates and all(c.holds(values) for c in one.when)
                ]
                one = window(way, day)
                assert VERDICTS.index(one.verdict) == max((VERDICTS.index(rule.verdict) for rule in fired), default=0)
                if one.verdict != "ruled out":
                    assert ENDS.index(one.end) == max((ENDS.index(rule.end) for rule in fired), default=0)
                    assert rules(one) == {rule.id for rule in fired}


def test_the_order_of_rules_changes_nothing():
    records = shipped_records()
    assert book(records).rules == book(tuple(reversed(records))).rules


def test_one_more_tool_never_takes_a_way_away():
    few = site(equipment=ALL[:3])
    before = ways(few, piece(), LARVAE)
    after = ways(site(), piece(), LARVAE)
    assert set(before) <= set(after)


def test_pieces_put_on_one_after_another_do_not_change_each_other():
    table = bench(site())
    tree = table.inventory.trees[0]
    thick, thin = piece(butt=13.0, top_dob_in=8.0), piece(butt=7.0)
    first = table.ways(tree, thick, LARVAE)
    table.ways(tree, thin, ADULTS)
    assert table.ways(tree, thick, LARVAE) == first == bench(site()).ways(tree, thick, LARVAE)


OPEN = {"diggable": True, "services_located": True, "frozen": ()}


def test_a_machine_that_digs_too_shallow_buries_nothing_and_a_thick_log_takes_more():
    def verdict(depth, butt):
        made = site(
            equipment=({"kind": "excavator", "owned": True, **({"capacity": depth} if depth else {})},),
            site={"ground": OPEN},
        )
        return window(ways(made, piece(butt=butt), ADULTS)["bury-excavator"], date(2027, 4, 30)).verdict

    assert [verdict(depth, 12.0) for depth in (3.7, 3.8, None)] == ["ruled out", "fits", "fits"]
    assert [verdict(depth, 36.0) for depth in (3.7, 5.6, 5.8, None)] == ["ruled out", "ruled out", "fits", "fits"]


def test_the_trench_of_the_rules_is_the_trench_that_is_dug():
    """Depths written in bury.yaml against the sizes that the hours are figured with."""
    shop = shop_of(site())

    def depth(butt):
        return trench_of(shop, part_of(piece(butt=butt), "whole", None)).depth

    assert depth(27.6) == pytest.approx(3.8, abs=1e-6)
    assert depth(50.4) == pytest.approx(5.7, abs=1e-6)


def test_wood_for_the_stove_is_kept_where_that_is_asked_for():
    kept, free = (site(wishes={"keep_firewood": keep}, site={"ground": OPEN}) for keep in (True, False))
    winter, spring = date(2027, 1, 10), date(2027, 4, 30)
    for name, log, day in (("chip-whole", piece(), winter), ("bury-excavator", piece(butt=20.0), spring)):
        one, other = (window(ways(made, log, ADULTS)[name], day) for made in (kept, free))
        assert (one.verdict, one.without_wish) == ("ruled out", other.verdict)
        assert other.verdict != "ruled out"
    for name, log in (("split-maul-stack", piece()), ("chip-whole", piece("top", 5.0))):
        one, other = (window(ways(made, log, ADULTS)[name], winter) for made in (kept, free))
        assert one.verdict == other.verdict


def frozen_ground(day, **ground):
    made = site(site={"ground": {"diggable": True, "services_located": True, **ground}})
    found = ways(made, piece(), LARVAE)
    return {name: window(found[name], day) for name in ("bury-excavator", "debark-spud-bury-bark")}


def test_a_machine_digs_through_thin_frost_and_a_spade_does_not():
    # Prince George: frozen from November; about a foot of it is left in the first days of May.
    for day, machine, spade in (
        (date(2027, 2, 1), "bury-frozen-deep", "bury-frozen"),
        (date(2027, 5, 5), "bury-frozen-thin", "bury-frozen"),
        (date(2027, 9, 1), None, None),
    ):
        found = frozen_ground(day)
        frost = {"bury-frozen", "bury-frozen-deep", "bury-frozen-thin"}
        assert rules(found["bury-excavator"]) & frost == ({machine} if machine else set())
        assert rules(found["debark-spud-bury-bark"]) & frost == ({spade} if spade else set())


def test_the_users_own_word_on_frozen_ground_overrules():
    assert frozen_ground(date(2027, 2, 1), frozen=())["bury-excavator"].verdict != "ruled out"
    wrote = ({"from": date(2027, 8, 20), "to": date(2027, 9, 10)},)
    shut = frozen_ground(date(2027, 9, 1), frozen=wrote)["bury-excavator"]
    assert shut.verdict == "ruled out"
    assert "as you wrote" in shut.reasons[0].because
    assert frozen_ground(date(2027, 9, 11), frozen=wrote)["bury-excavator"].verdict != "ruled out"


def test_frozen_ground_names_what_it_rests_on():
    assert (
        "by the climate normals of Prince George airport"
        in frozen_ground(date(2027, 2, 1))["bury-excavator"].reasons[0].because
    )
