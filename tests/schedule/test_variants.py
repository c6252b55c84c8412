"""Variants of the period model: the times in which a tree may be taken, and bark that must not lie too long."""

from __future__ import annotations

import pytest
from made_sites import planned, site_text

from barkwright.schedule.bark import DESTROYS, PEELS
from barkwright.schedule.guide import Guide
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel, site_model
from barkwright.schedule.optimum.columns import Goal
from barkwright.schedule.optimum.guided_large import under
from barkwright.schedule.optimum.large import variants_of
from barkwright.schedule.recipe import base_tasks
from barkwright.schedule.scenario import dispatcher_of

WORTH = "worth: {firewood_per_cord: 40}\n"


def site(more: str = "", changed: tuple[str, str] = ("", ""), trees: int = 6) -> SiteModel:
    """Trees T1 to T3 were attacked a year before the others, so their brood flies in the first spring."""
    return site_model(planned(site_text(4, trees, more=more).replace(*changed)).work)


def standing(model: SiteModel) -> list[TreeModel]:
    found = [tree for tree in model.trees if tree.standing and tree.infested_ft2 > 0.0]
    assert found
    return found


def test_no_tree_is_taken_after_its_brood_has_flown() -> None:
    """The flights begin on days 207 and 573. What flies in the first is gone when the second season opens."""
    model = site()
    (onset, end), (later, _) = model.flights
    seen = set()
    for tree in standing(model):
        first = any(piece.onset == onset for piece in tree.pieces if piece.brooding)
        spans = variants_of(model).spans(tree)
        assert spans == [(onset - 1, 0), *([] if first else [(later - 1, end + 1)])]
        seen.add(first)
    assert seen == {True, False}


def test_a_tree_is_taken_after_its_brood_has_flown_where_its_wood_is_worth_something_or_somebody_asks() -> None:
    valued = site(WORTH)
    for tree in standing(valued):
        assert len(variants_of(valued).spans(tree)) == len(valued.flights) + 1
    row = "attack: mass,"
    asked = site(changed=(row, f"{row} hazards: [lean], removal: {{by: dismantle, hours: 6}},"))
    for tree in standing(asked):
        assert tree.hazard
        assert len(variants_of(asked).spans(tree)) == len(asked.flights) + 1


def goals(model: SiteModel, piece: PieceModel, tree: TreeModel, closes: int) -> list[Goal]:
    return [goal for goal, _ in variants_of(model).by_goal(tree, piece, closes, 0)]


def test_bark_with_grown_beetles_is_stripped_no_sooner_than_it_may_lie_until_it_is_burned() -> None:
    """It may be burned from Monday, day 196, on, and it is warm from Friday, day 193, on: not stripped before Friday.

    In the cold it might lie all winter, but not into the warm days.
    """
    model = site(changed=("{from: 2026-11-01, to: 2027-03-31}", "{from: 2027-05-10, to: 2027-05-19}"))
    assert [day for day in range(1, 207) if model.warm[day] and not model.warm[day - 1]] == [193]
    variants = variants_of(model)
    firsts: set[int] = set()
    for tree in standing(model):
        for piece in tree.pieces:
            grown = piece.brood.adults_from
            for pick, _, _ in goals(model, piece, tree, 206):
                steps = variants.steps(tree, piece, pick.option.position, pick.option.window)
                spans = variants.spans_of(tree, piece, pick, steps, 0)
                peel = next((at for at, step in enumerate(steps) if step.do in PEELS), None)
                burn = next((at for at, step in enumerate(steps) if step.do == "destroy-bark-burn"), None)
                if spans is None or peel is None or burn is None or not piece.brooding or pick.option.last > 206:
                    continue
                assert grown is not None
                assert spans[burn][0] >= 196
                if grown <= model.days.day(0):
                    firsts.add(spans[peel][0])
                else:  # nothing in it can fly before it has grown
                    assert spans[peel][0] < 193
    assert min(firsts) == 193


def test_bark_that_may_be_destroyed_on_any_day_is_stripped_on_any_day() -> None:
    model = site()
    variants = variants_of(model)
    seen = 0
    for tree in standing(model):
        for piece in (one for one in tree.pieces if one.brooding):
            for pick, _, _ in goals(model, piece, tree, 206):
                steps = variants.steps(tree, piece, pick.option.position, pick.option.window)
                if any(step.do in DESTROYS and step.spans is None for step in steps) and pick.option.first == 0:
                    spans = variants.spans_of(tree, piece, pick, steps, 0)
                    assert spans is None or spans[0][0] == 0
                    seen += 1
    assert seen


@pytest.mark.parametrize("kind", ["top", "log"])
def test_of_a_felled_tree_what_need_not_be_done_in_time_may_be_done_late_rather_than_left(kind: str) -> None:
    """Felled before the flight, the top may still save half its brood in it; a log must be done, or its tree stands."""
    model = site(trees=12)
    dispatcher = dispatcher_of(model, under(model, Guide()))
    seen = 0
    for tree in standing(model):
        for piece in (one for one in tree.pieces if one.piece.kind == kind and one.brooding):
            if piece.onset is None or piece.half is None or piece.onset != model.flights[0][0] or tree.hazard:
                continue
            closes = piece.onset - 1
            late = [pick for pick, _, flown in goals(model, piece, tree, closes) if flown]
            tried = [pick for pick in dispatcher.candidates(tree, piece, closes) if (pick.due or 0) > closes]
            assert piece.half > closes
            assert bool(late) == bool(tried) == (kind == "top")
            assert all(pick.due == piece.half for pick in [*late, *tried])
            seen += 1
    assert seen


def test_a_tree_may_be_felled_on_the_first_day_and_on_no_later_one_than_it_must_be() -> None:
    model = site()
    for tree in standing(model):
        fell, cut = base_tasks(model, tree, 0)
        assert (fell.first, fell.preds, cut.wait) == (0, (), 0)  # nobody calls or looks, nothing waits
        for last in (0, 5):
            chunks = variants_of(model).base(tree, 0, last)
            assert chunks is not None
            assert [(one.first, one.last) for one in chunks] == [(0, last), (0, last)]


def test_limbs_hold_nothing_and_draw_nothing_so_nothing_is_at_stake_in_them() -> None:
    for tree in standing(site()):
        assert [piece.at_stake for piece in tree.pieces if piece.piece.kind == "limbs"] == [False]
        assert all(piece.at_stake for piece in tree.pieces if piece.brood.brood != "none")
