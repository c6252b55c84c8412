"""Trees cut into pieces, as a forester would look at them."""

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from trees import codes, cut, inventory

from barkwright.inventory.model import Cutting
from barkwright.inventory.reading import read_inventory
from barkwright.output.measures import Units
from barkwright.stem.bucking import cut_tree, log_ends
from barkwright.stem.profile import profile
from barkwright.stem.tables import coefficient_row

SPECIES = ["white", "engelmann", "sitka", "lutz", "black", "red", "blue", "norway"]


def kinds(stem):
    return [piece.kind for piece in stem.pieces]


def piece(stem, name):
    return next(piece for piece in stem.pieces if piece.id == f"T1/{name}")


# --- what every tree keeps -------------------------------------------------------------------------------------------


@given(
    st.sampled_from(SPECIES),
    st.floats(3, 60),
    st.floats(2.2, 8),
    st.floats(0, 3),
    st.sampled_from([4.0, 8.0, 16.0]),
    st.floats(0, 0.5),
    st.floats(3, 9),
)
@settings(max_examples=150)
def test_pieces_tile_the_stem_and_its_wood(species, dbh, slender, stump_height, log_length, trim, treat_over):
    height = max(dbh * slender, 8.0)
    cutting = {"stump_height": stump_height, "log_length": log_length, "trim": trim, "treat_over": treat_over}
    stem = cut(species=species, dbh=dbh, height=height, cutting=cutting)
    along = [one for one in stem.pieces if one.kind != "limbs"]
    assert along[0].kind == "stump"
    assert along[0].from_ft == 0
    for lower, upper in pairwise(along):
        assert lower.from_ft + lower.length_ft == pytest.approx(upper.from_ft, abs=1e-9)
        assert lower.top_dob_in == pytest.approx(upper.butt_dob_in, abs=1e-9)
        assert lower.butt_dob_in >= lower.top_dob_in
    assert along[-1].from_ft + along[-1].length_ft == pytest.approx(height, abs=0.011)
    for one in stem.pieces:
        assert one.butt_dib_in <= one.butt_dob_in
        assert one.lift_lb >= one.green_lb > 0 or one.length_ft < 1e-9
    logs = [one for one in along if one.kind == "log"]
    assert [one.id for one in logs] == [f"T1/{number}" for number in range(1, len(logs) + 1)]
    assert all(one.length_ft <= log_length + trim + 1e-6 for one in logs)
    if dbh >= treat_over:
        above = [one for one in along if one.kind == "top"]
        assert all(one.butt_dob_in <= treat_over + 1e-6 or one.from_ft <= stump_height for one in above)


@pytest.mark.parametrize("species", SPECIES)
@pytest.mark.parametrize(("dbh", "height"), [(4, 30), (12, 65), (20, 90), (36, 120)])
def test_stump_logs_and_top_hold_the_whole_volume(species, dbh, height):
    stem = cut(species=species, dbh=dbh, height=height)
    code = {"white": 94, "engelmann": 93, "sitka": 98, "lutz": 94, "black": 95, "red": 97, "blue": 96, "norway": 91}[
        species
    ]
    for table, of in (("S1", "wood_ft3"), ("S2", "bark_ft3")):
        whole = coefficient_row(table, code, None).total(dbh, height)
        assert sum(getattr(one, of) for one in stem.pieces) == pytest.approx(whole, rel=1e-12)


def test_the_same_tree_in_centimetres_and_in_inches_has_the_same_pieces():
    def read(units, dbh, height, log_length, stump, over, capacity):
        text = f"""
barkwright: 1
site: {{name: made up, units: {units}, latitude: 53.98, longitude: -123.02}}
trees: [{{id: T1, species: white, dbh: {dbh}, height: {height}}}]
cutting: {{stump_height: {stump}, log_length: {log_length}, treat_over: {over}}}
equipment: [{{kind: chipper, owned: true, capacity: {capacity}}}]
"""
        whole, faults = read_inventory(text, "made-up.yaml", date(2026, 11, 25))
        assert whole is not None, faults
        return cut_tree(whole.trees[0], whole).pieces

    metric = read("metric", 40.64, 24.384, 2.4384, 0.1524, 12.7, 22.86)
    imperial = read("imperial", 16, 80, 8, 0.5, 5, 9)
    assert len(metric) == len(imperial) > 8
    for one, other in zip(metric, imperial, strict=True):
        assert one.id == other.id
        for name in (
            "from_ft",
            "length_ft",
            "butt_dob_in",
            "top_dob_in",
            "wood_ft3",
            "bark_ft2",
            "green_lb",
            "chips_yd3",
        ):
            assert getattr(one, name) == pytest.approx(getattr(other, name), rel=1e-9, abs=1e-9)
        for cut_metric, cut_imperial in zip(one.cut_points, other.cut_points, strict=True):
            assert cut_metric.short_butt_ft == pytest.approx(cut_imperial.short_butt_ft, abs=1e-8)


def test_girth_and_diameter_are_the_same_tree():
    assert cut(girth=16 * 3.141592653589793, height=80).pieces == cut(dbh=16.0, height=80).pieces


# --- where the cuts fall ---------------------------------------------------------------------------------------------


@given(st.floats(0, 4), st.floats(0, 150), st.floats(2, 20), st.floats(0, 1))
def test_no_log_is_longer_than_asked_and_none_needlessly_short(stump_ft, treat_ft, length, trim):
    cutting = Cutting(stump_height=stump_ft, log_length=length, trim=trim)
    cuts = log_ends(cutting, stump_ft, treat_ft)
    lengths = [high - low for low, high in pairwise(cuts)]
    assert cuts[0] == stump_ft
    if treat_ft <= stump_ft:
        assert not lengths
        return
    assert cuts[-1] == pytest.approx(treat_ft, abs=2e-6)
    assert all(0 < one <= length + trim + 1e-5 for one in lengths)
    if len(lengths) > 1:
        assert min(lengths) >= (length + trim) / 2 - 1e-6


def test_a_short_leftover_is_shared_with_the_log_below_it():
    assert log_ends(Cutting(log_length=8.0), 0.5, 18.5) == (0.5, 8.5, 13.5, 18.5)
    assert log_ends(Cutting(log_length=8.0), 0.5, 21.5) == (0.5, 8.5, 16.5, 21.5)
    assert log_ends(Cutting(log_length=8.0), 0.5, 16.5) == (0.5, 8.5, 16.5)
    assert log_ends(Cutting(log_length=8.0), 0.5, 3.0) == (0.5, 3.0)


def test_trim_lengthens_every_full_log():
    stem = cut(dbh=20, height=90, cutting={"log_length": 16.0, "trim": 0.5, "stump_height": 1.0})
    assert [piece(stem, number).length_ft for number in (1, 2)] == [16.5, 16.5]


# --- trees of 5, 12, 20 and 36 in ------------------------------------------------------------------------------------


def test_a_five_inch_tree_gives_one_short_log():
    stem = cut(dbh=5, height=38)
    assert kinds(stem) == ["stump", "log", "top", "limbs"]
    assert piece(stem, 1).top_dob_in == pytest.approx(5, abs=1e-9)
    assert piece(stem, 1).length_ft == pytest.approx(4)


def test_a_thinner_tree_is_slash_from_the_stump_up():
    assert kinds(cut(dbh=4.2, height=30)) == ["stump", "top", "limbs"]


@pytest.mark.parametrize(("dbh", "height", "logs"), [(12, 65, 6), (20, 90, 10), (36, 120, 15)])
def test_thicker_trees_give_eight_foot_logs_to_a_five_inch_top(dbh, height, logs):
    stem = cut(dbh=dbh, height=height)
    assert kinds(stem).count("log") == logs
    assert piece(stem, "top").butt_dob_in == pytest.approx(5, abs=1e-6)
    assert piece(stem, 1).length_ft == 8


def test_asking_for_longer_logs_and_a_thicker_top_gives_fewer():
    few = cut(dbh=20, height=90, cutting={"log_length": 16.0, "treat_over": 8.0})
    assert kinds(few).count("log") == 5
    assert piece(few, "top").butt_dob_in == pytest.approx(8, abs=1e-6)


# --- machines --------------------------------------------------------------------------------------------------------


def test_each_log_says_how_much_of_it_the_chipper_cannot_take():
    stem = cut(dbh=20, height=90, equipment=[{"kind": "chipper", "capacity": 15.0, "working_capacity": 12.0}])
    shape = profile(94, None, 20, 90)
    height = shape.height_of_ft(12.0)
    for one in stem.pieces:
        if one.kind in ("stump", "limbs"):
            assert one.cut_points == ()
            continue
        (point,) = one.cut_points
        assert (point.equipment, point.capacity_in, point.height_ft) == ("chipper", 12.0, height)
        thick = min(max(height - one.from_ft, 0), one.length_ft)
        assert point.short_butt_ft == pytest.approx(thick)
        assert (one.butt_dob_in <= 12.0) == (point.short_butt_ft == 0)
        assert (one.top_dob_in >= 12.0) == (point.short_butt_ft == one.length_ft)


def test_without_a_working_capacity_a_share_of_the_makers_figure_is_taken():
    stem = cut(dbh=20, height=90, equipment=[{"kind": "chipper", "capacity": 12.0}])
    assert piece(stem, 1).cut_points[0].capacity_in == 9.0


def test_a_chipper_without_any_figure_and_a_machine_of_another_measure_cut_nothing():
    stem = cut(dbh=20, height=90, equipment=[{"kind": "chipper"}, {"kind": "splitter", "capacity": 25.0}])
    assert piece(stem, 1).cut_points == ()


# --- what was not measured, or does not fit the equations ------------------------------------------------------------


def test_a_missing_height_is_estimated_and_said():
    stem = cut(dbh=16)
    assert stem.height_estimated
    assert stem.height_ft.low < stem.height_ft.likely < stem.height_ft.high
    assert codes(stem) == ["estimated"]
    assert "height estimated from the diameter" in stem.notes[0].message
    measured = cut(dbh=16, height=80)
    assert not measured.height_estimated
    assert measured.height_ft.low == measured.height_ft.high == 80


def test_a_note_holds_amounts_that_pages_can_turn_metric():
    whole = inventory({"id": "T1", "species": "white", "dbh": 16.0}, site={"units": "metric"})
    message = cut_tree(whole.trees[0], whole).notes[0].message
    assert " ft," in message
    assert " m," in Units(True).sentence(message)
    assert " ft" not in Units(True).sentence(message)


def test_lutz_spruce_is_reckoned_as_white_and_said():
    lutz, white = cut(species="lutz", dbh=16, height=80), cut(species="white", dbh=16, height=80)
    assert lutz.pieces == white.pieces
    assert codes(lutz) == ["fallback"]


def test_white_spruce_of_the_northern_mountains_over_its_data_falls_back_and_says_so():
    for dbh in (24.1, 28, 36):
        mountain, plain = cut("M130", dbh=dbh, height=110), cut(dbh=dbh, height=110)
        assert mountain.pieces == plain.pieces
        assert "fallback" in codes(mountain)
        assert "M130" in mountain.notes[0].message
    inside = cut("M130", dbh=20, height=90)
    assert codes(inside) == []
    assert inside.pieces != cut(dbh=20, height=90).pieces


def test_a_division_without_rows_is_said():
    stem = cut("M330", dbh=16, height=80)
    assert codes(stem) == ["fallback"]
    assert stem.pieces == cut(dbh=16, height=80).pieces


def test_a_stem_that_the_taper_equation_misses_is_flagged():
    stout = cut("M330", species="engelmann", dbh=8, height=25)
    assert "outside-range" in codes(stout)
    assert any("thinner at breast height" in note.message for note in stout.notes)
    assert codes(cut("M330", species="engelmann", dbh=16, height=80)) == []


def test_a_tree_thicker_than_all_the_data_is_flagged():
    assert any("made from trees of" in note.message for note in cut(dbh=40, height=110).notes)


# --- broken, bare, dead, barked --------------------------------------------------------------------------------------


def test_a_broken_top_leaves_the_stem_below_the_break():
    whole, broken = cut(dbh=16, height=80), cut(dbh=16, height=80, broken_at=60)
    assert broken.pieces[0] == whole.pieces[0]
    assert piece(broken, 1) == piece(whole, 1)
    along = [one for one in broken.pieces if one.kind != "limbs"]
    assert along[-1].from_ft + along[-1].length_ft == pytest.approx(60)
    assert along[-1].top_dob_in > 4
    assert 0 < piece(broken, "limbs").green_lb < piece(whole, "limbs").green_lb
    assert sum(one.wood_ft3 for one in along) < sum(one.wood_ft3 for one in whole.pieces)


def test_a_break_below_the_crown_leaves_no_limbs_and_no_top():
    assert set(kinds(cut(dbh=16, height=80, broken_at=30))) == {"stump", "log"}


def test_the_height_before_the_break_is_never_under_the_break():
    stem = cut(dbh=12, broken_at=95)
    assert stem.height_ft.likely > 95
    assert "before the top broke" in stem.notes[0].message


def test_a_bare_crown_has_no_needles():
    green, bare = cut(dbh=16, height=80), cut(dbh=16, height=80, found={"crown": "bare"})
    assert piece(green, "limbs").foliage_lb > 50
    assert piece(bare, "limbs").foliage_lb == 0
    assert piece(bare, "limbs").green_lb < piece(green, "limbs").green_lb
    assert piece(bare, 1).green_lb == piece(green, 1).green_lb  # a bare crown alone is no dry wood


def test_long_dead_wood_is_lighter_to_plan_by_but_not_to_lift_by():
    found = {"crown": "bare", "seen": "2026-10-01"}
    dead, green = cut(dbh=16, height=80, attacked=2022, found=found), cut(dbh=16, height=80)
    assert piece(dead, 1).green_lb == pytest.approx(29 * piece(dead, 1).wood_ft3)
    assert piece(dead, 1).lift_lb == piece(green, 1).lift_lb == pytest.approx(54 * piece(green, 1).wood_ft3)
    assert "assumption" in codes(dead)
    assert "assumption" not in codes(cut(dbh=16, height=80, attacked=2025, found=found))


def test_fallen_bark_is_not_stripped_weighed_or_chipped():
    half, whole = cut(dbh=16, height=80, bark={"left_percent": 50.0}), cut(dbh=16, height=80)
    one, other = piece(half, 1), piece(whole, 1)
    assert one.bark_ft2 == pytest.approx(other.bark_ft2 / 2)
    assert one.bark_ft3 == pytest.approx(other.bark_ft3 / 2)
    assert one.wood_ft3 == other.wood_ft3
    assert one.green_lb < other.green_lb
    assert one.chips_yd3 < other.chips_yd3


def test_a_stump_is_neither_stacked_nor_chipped():
    stump = piece(cut(dbh=16, height=80), "stump")
    assert (stump.cords, stump.chips_yd3) == (0, 0)
    assert stump.wood_ft3 > 0


@pytest.mark.parametrize("status", ["felled", "windthrown"])
def test_down_trees_are_cut_like_standing_ones_and_leave_a_stump(status):
    assert cut(dbh=16, height=80, status=status).pieces == cut(dbh=16, height=80).pieces


# --- as measured -----------------------------------------------------------------------------------------------------

LOGS = ({"butt": 14.2, "top": 12.9, "length": 8.0}, {"butt": 12.9, "top": 11.0, "length": 8.0})


def test_listed_logs_are_taken_as_they_are():
    stem = cut(status="logs", logs=LOGS)
    assert [one.id for one in stem.pieces] == ["T1/1", "T1/2"]
    first, second = stem.pieces
    assert all(one.measured for one in stem.pieces)
    assert (first.butt_dob_in, first.top_dob_in, first.length_ft, first.from_ft) == (14.2, 12.9, 8, 0)
    assert second.from_ft == 8
    assert first.bark_ft3 / first.wood_ft3 == pytest.approx(0.13)  # white spruce, nrs38
    solid = 8 * 3.141592653589793 / 576 * (14.2**2 + 12.9**2 + 14.2 * 12.9) / 3
    assert first.wood_ft3 + first.bark_ft3 == pytest.approx(solid)


def test_a_log_without_bark_is_all_wood():
    bare = cut(status="logs", logs=LOGS, bark={"left_percent": 0.0}).pieces[0]
    assert bare.butt_dib_in == bare.butt_dob_in
    assert (bare.bark_ft3, bare.bark_ft2) == (0, 0)
    assert bare.wood_ft3 > cut(status="logs", logs=LOGS).pieces[0].wood_ft3


def test_a_listed_log_meets_the_chipper_where_its_own_taper_does():
    stem = cut(status="logs", logs=LOGS, equipment=[{"kind": "chipper", "working_capacity": 12.0}])
    assert stem.pieces[0].cut_points[0].short_butt_ft == 8
    assert stem.pieces[1].cut_points[0].short_butt_ft == pytest.approx(0.9 / 1.9 * 8)


def test_a_stump_is_one_piece_that_flares_to_the_ground():
    stem = cut(status="stump", diameter=19.0, height=1.2)
    (stump,) = stem.pieces
    assert (stump.id, stump.length_ft, stump.top_dob_in) == ("T1/stump", 1.2, 19.0)
    assert stump.butt_dob_in > 19
    assert stump.bark_ft2 > 5


def test_what_has_no_measure_at_all_is_refused():
    with pytest.raises(ValueError, match="no diameter at breast height"):
        cut(height=80)
    with pytest.raises(ValueError, match="stump without"):
        cut(status="stump", height=1.0)


# --- stumps of which not everything was measured ---------------------------------------------------------------------


def test_a_stump_without_height_has_that_of_the_cuts_and_says_so():
    stem = cut(status="stump", diameter=19, cutting={"stump_height": 0.8})
    assert [one.length_ft for one in stem.pieces] == [0.8]
    assert codes(stem) == ["assumption"]


def test_a_stump_known_by_its_dbh_alone_is_as_wide_as_that_tree_is_at_the_cut():
    tree = cut(status="standing", dbh=16, height=70, cutting={"stump_height": 1})
    stem = cut(status="stump", dbh=16, height=1)
    assert stem.pieces[0].top_dob_in == pytest.approx(piece(tree, "stump").top_dob_in)
    assert codes(stem) == ["estimated"]


def test_limbs_are_no_stem_nothing_of_them_is_long_thick_or_under_bark():
    limbs = piece(cut(dbh=16, height=80), "limbs")
    sizes = (limbs.from_ft, limbs.length_ft, limbs.butt_dob_in, limbs.top_dob_in, limbs.butt_dib_in, limbs.top_dib_in)
    assert {*sizes, limbs.wood_ft3, limbs.bark_ft3, limbs.bark_ft2, limbs.cords} == {0.0}


@pytest.mark.parametrize(("rest_ft", "top"), [(0.008, False), (0.015, True)])
def test_a_rest_of_the_stem_under_a_hundredth_of_a_foot_is_no_piece(rest_ft, top):
    whole = cut(dbh=16, height=80)
    thin_at = next(one.from_ft for one in whole.pieces if one.kind == "top")  # the logs end there
    assert ("top" in kinds(cut(dbh=16, height=80, broken_at=thin_at + rest_ft))) is top
