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


@pytest.mark.parametrize(("tolerance", "taken"), [(0, False), (1000, True)])
def test_a_preferred_method_is_taken_within_the_tolerance_and_no_dearer(tolerance: int, taken: bool) -> None:
    best = f"best: {{money_tolerance: {tolerance}}}\n"
    free, paid = made(730, best)
    liked, more = made(730, f"{best}wishes: {{prefer: [chip]}}\n")
    assert (liked["chip"] > free["chip"]) == taken
    assert more <= paid + tolerance + 1


def test_the_same_wish_for_what_is_done_anyway_changes_no_method() -> None:
    (liked, more), (free, paid) = made(1500, "wishes: {prefer: [debark]}\n"), made(1500)
    assert liked["debark"] >= free["debark"]
    assert more <= paid * (1 + SETTINGS["money_tolerance_share"]) + 1
