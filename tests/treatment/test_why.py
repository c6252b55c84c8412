"""Why: every fact, every way, and the rules behind each window."""

from bench_site import ADULTS, LARVAE, bench, piece, site

from barkwright.treatment.conditions import facts
from barkwright.treatment.why import why


def test_every_fact_that_the_rules_see_is_shown_with_meaning_and_unit():
    made = site()
    found = why(bench(made), made.trees[0], piece(), ADULTS)
    names = {one.name for one in found.facts}
    names |= {one.name for way in found.ways for one in way.windows[0].facts}
    assert names == set(facts())
    shown = {one.name: one.value for one in found.facts}
    assert shown["piece.butt_dob_in"] == "9 in"
    assert shown["brood.stage"] == "adults"
    assert shown["site.live_spruce_ft"] == "60 ft"


def test_each_reason_comes_with_what_its_rule_asked():
    made = site()
    found = why(bench(made), made.trees[0], piece(butt=12.0), LARVAE)
    way = next(one for one in found.ways if one.way.id == "chip-whole")
    fired = way.windows[0].fired[0]
    assert fired.reason.rule == "chip-too-thick"
    assert fired.asked == ("thick end less what the chipper takes all day: above 0 in",)
    assert fired.verdict == "ruled out"


def test_ways_without_their_tools_are_shown_too():
    made = site(equipment=())
    found = why(bench(made), made.trees[0], piece(), ADULTS)
    assert "debark-drawknife" in {one.way.id for one in found.ways}
