"""What an order was made from, told so that a person sees what differs between two of them."""

from functools import cache

from made_sites import planned, site_text

from barkwright.schedule.digest import facts_of


@cache
def facts() -> dict[str, str]:
    text = site_text(4, 2, people=3, more="limits: {chips_site_takes: 3 yd3}\nwishes: {prefer: [chip, debark]}")
    return facts_of(planned(text).work)


def test_amounts_flags_and_lists_read_as_a_person_says_them() -> None:
    found = facts()
    assert found["machine drawknife"] == "owned yes, count 3"
    assert found["wishes"] == "prefer chip debark"
    assert found["limits"] == "chips site takes yd3 3.0"
    assert found["place"].endswith("ground (diggable yes, services located yes)")
    assert found["crew ridge crew"] == "3 for 7 h on mon tue wed thu fri, felling, machine, saw, at 38"
    assert found["calendar"] == "from 2026-10-26 on, off 2026-12-24 to 2027-01-02"
    assert found["burning"] == "permit held, open 2026-11-01 to 2027-03-31"
    assert found["destinations"] == found["calls"] == found["local rules"] == "nothing said"


def test_a_tree_is_told_by_its_state_its_pieces_and_its_size() -> None:
    plan = planned(site_text(4, 2, people=3))
    tree = plan.work.trees[0]
    dbh, height = tree.tree.dbh_in, tree.tree.height_ft
    pieces = len(tree.stem.pieces)
    assert facts_of(plan.work)["tree T1"] == f"{tree.tree.status}, {pieces} pieces, {dbh:.1f} in, {height:.0f} ft"


def test_a_flag_that_is_off_is_no_and_a_number_that_is_one_stays_a_number() -> None:
    text = site_text(4, 1).replace("diggable: true", "diggable: false") + "limits: {chips_site_takes: 1 yd3}\n"
    found = facts_of(planned(text).work)
    assert found["place"].endswith("ground (diggable no, services located yes)")
    assert found["limits"] == "chips site takes yd3 1.0"
