"""What an order was made from, told so that a person sees what differs between two of them."""

from functools import cache

import pytest
from made_sites import planned, site_text

from barkwright.schedule.digest import facts_of, given_out
from barkwright.schedule.issued import issued_text, read_issued


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
    assert found["destinations"] == found["local rules"] == "nothing said"


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


def test_an_order_that_is_given_out_is_read_back_as_it_was() -> None:
    plan = planned(site_text(4, 2))
    order = given_out(plan.schedule, plan.work)
    assert len(order.jobs) == len(plan.schedule.jobs) > 5
    assert read_issued(issued_text(order), "issued.json") == (order, ())


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"format": 1', '"format": 2', "its format is 2; this program reads 1"),
        ('"hours"', '"days"', "it is damaged"),
        ('"jobs": [', '"jobs": [[', "it is damaged"),
    ],
)
def test_a_damaged_order_is_told_and_what_to_do(old: str, new: str, said: str) -> None:
    plan = planned(site_text(4, 2))
    text = issued_text(given_out(plan.schedule, plan.work)).replace(old, new)
    order, (fault,) = read_issued(text, "issued.json")
    assert order is None
    assert said in fault.message
    assert "--issue" in (fault.hint or "")
