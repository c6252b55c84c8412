"""What a guide says beside ways and order: what is left, who does a work, from when on, and what comes first."""

from dataclasses import replace

import pytest
from made_sites import planned, site_text
from project import Activity, Project, tasks_of

from barkwright.schedule.guide import Guide
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.optimum import nearby
from barkwright.schedule.optimum.guided import sooner
from barkwright.schedule.optimum.guided_large import under
from barkwright.schedule.recipe import Pick
from barkwright.schedule.scenario import Candidate, evaluate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.stages import LAST, stages_of

TWO_CREWS = site_text(4, 3).replace(
    "crew: [",
    "crew: [{name: saturday crew, people: 2, hours_per_day: 7, days: [sat], skills: [saw, felling], rate: 90},",
)


@pytest.fixture(scope="module")
def model() -> SiteModel:
    return site_model(planned(TWO_CREWS).work)


def made(model: SiteModel, guide: Guide) -> Candidate:
    return evaluate(model, under(model, guide))


def done(plan: Candidate) -> set[str]:
    return {name for tree in plan.plans for name in tree.picks}


def works(model: SiteModel, plan: Candidate, name: str) -> list[tuple[str, int]]:
    """Crews and first days of the tasks of a piece."""
    return [
        (model.days.crews[placed.crew].name, placed.first)
        for tree in plan.plans
        for task, placed in zip(tree.tasks, tree.placed, strict=True)
        if name in task.pieces and placed.crew is not None
    ]


def a_piece(model: SiteModel, plan: Candidate) -> str:
    """A piece with brood on which the plan works."""
    names = [piece.piece.id for tree in model.trees for piece in tree.pieces if piece.brooding]
    return next(name for name in names if works(model, plan, name))


def test_nothing_is_tried_for_what_is_to_be_left(model: SiteModel) -> None:
    free = made(model, Guide())
    stump = next(
        p.piece.id for t in model.trees for p in t.pieces if p.piece.kind == "stump" and p.piece.id in done(free)
    )
    assert done(made(model, Guide(left=frozenset((stump,))))) == done(free) - {stump}
    tree = model.trees[0].id
    without = made(model, Guide(left=frozenset((tree,))))
    assert not any(name.startswith(f"{tree}/") for name in done(without))
    assert tree in {one.id for one in without.missed} | {one.tree.id for one in without.plans}


def test_the_crew_that_is_named_does_a_work_and_no_sooner_than_is_said(model: SiteModel) -> None:
    name = a_piece(model, made(model, Guide()))
    saturday = made(model, Guide(crews={(name, ""): "saturday crew"}))
    assert {crew for crew, _ in works(model, saturday, name)} == {"saturday crew"}
    first = min(day for _, day in works(model, saturday, name)) + 1
    later = made(model, Guide(crews={(name, ""): "saturday crew"}, days={(name, ""): first}))
    assert min(day for _, day in works(model, later, name)) == first + 6  # the next Saturday


def test_where_what_is_said_cannot_be_it_is_done_anyway(model: SiteModel) -> None:
    name = a_piece(model, made(model, Guide()))
    assert works(model, made(model, Guide(crews={(name, ""): "nobody"})), name)
    assert works(model, made(model, Guide(days={(name, ""): model.days.length})), name)


def test_what_a_hired_machine_waits_for_comes_before_what_waits_for_it() -> None:
    """Strip by machine, carry by hand, chip by machine; another job waits for no machine."""
    chain = Project((4, 4), tuple(Activity(1, (1, 0), preds) for preds in ((), (0,), (1,), (2,), ())))
    tasks = tasks_of(chain)
    tasks = [
        replace(task, equipment=kinds)
        for task, kinds in zip(tasks, ((), ("debarker",), (), ("chipper",), ()), strict=True)
    ]
    assert stages_of(tasks, frozenset(("debarker", "chipper"))) == [0, 0, 1, 1, LAST]
    assert stages_of(tasks, frozenset()) == [LAST] * 5


def test_what_may_wait_need_not() -> None:
    """A fire that may be lit all winter is not put off to its last days, where it costs the same."""
    model = site_model(planned(site_text(5, 10, people=4, hired=False)).work)
    tried = 0
    for tree in model.trees:
        for piece in (one for one in tree.pieces if one.brooding):
            fires = [one for one in model.options(tree, piece) if one.way == "burn-green"]
            for late in fires[1:]:
                name, pick = piece.piece.id, Pick(late, None, 0)
                guide = Guide(picks={name: pick}, seasons={tree.id: (None, 0)})
                now = sooner(model, guide).picks[name].option
                assert now.way == "burn-green"
                assert now.first == min(one.first for one in fires if one.money <= late.money + 0.001)
                closed = replace(guide, seasons={tree.id: (None, late.first)})  # not before the tree may fall
                assert sooner(model, closed).picks[name].option.last >= late.first
                tried += now.first < late.first
    assert tried


def test_no_more_plans_near_one_are_tried_than_are_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[int] = []

    def counted(*asked: object) -> Candidate:
        tried.append(1)
        return evaluate(*asked)  # type: ignore[arg-type]

    monkeypatch.setattr(nearby, "evaluate", counted)
    tight = site_text(6, 6, days="[sat]", start="2027-04-10")
    planned(tight)
    assert len(tried) <= SETTINGS["nearby_tries"] / 6
    whole = len(tried)
    tried.clear()
    monkeypatch.setattr(nearby, "SETTINGS", {"nearby_tries": 30.0})
    planned(tight)
    assert whole > 5
    assert len(tried) == 5
