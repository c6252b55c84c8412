"""What the user would rather have settles near ties, and costs no more than a tenth."""

from collections import Counter

import pytest
from made_sites import planned, site_text

from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.verify import verify


def made(rent: int, wish: str = "") -> tuple[Counter[str], float]:
    """Logs by method, and the money paid, on a site where chipping and stripping cost nearly the same."""
    text = site_text(11, 5, people=3)
    rents = "rent_per_day: 420, rent_per_week: 1500, delivery: 120"
    plan = planned(text.replace(rents, f"rent_per_day: {rent}") + wish)
    assert verify(plan.schedule, plan.work) == ()
    ways = {way.id: way.method for tree in plan.work.trees for ways in tree.ways for way in ways}
    logs = {piece.id for tree in plan.work.trees for piece in tree.stem.pieces if piece.kind == "log"}
    methods = Counter(ways[one.way] for one in plan.schedule.choices if one.way and one.piece in logs)
    return methods, sum(float(line.amount) for line in plan.schedule.costs if line.paid)


@pytest.mark.parametrize(("rent", "taken"), [(730, True), (1500, False)])
def test_a_preferred_method_wins_a_near_tie_and_nothing_dearer(rent: int, taken: bool) -> None:
    free, paid = made(rent)
    liked, more = made(rent, "wishes: {prefer: [chip]}\n")
    assert free["chip"] == 0
    assert (liked["chip"] > 0) == taken
    assert more <= paid * (1 + SETTINGS["near_tie"])


def test_the_same_wish_for_what_is_done_anyway_changes_no_method() -> None:
    (liked, more), (free, paid) = made(1500, "wishes: {prefer: [debark]}\n"), made(1500)
    assert liked == free
    assert more == pytest.approx(paid, rel=SETTINGS["near_tie"])
