"""Days of hired machines on a large site: runs of days handed out first, and what waits for what."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
from made_sites import planned, site_text

from barkwright.schedule import together
from barkwright.schedule.guide import Guide
from barkwright.schedule.machine_days import MachineDays, Run
from barkwright.schedule.model import SiteModel, TreeModel, site_model
from barkwright.schedule.optimum import hire_days
from barkwright.schedule.optimum.guided_large import under
from barkwright.schedule.optimum.hire import least_a_day
from barkwright.schedule.optimum.hire_days import filled_days
from barkwright.schedule.optimum.large import Hired
from barkwright.schedule.scenario import dispatcher_of
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tasks import Task
from barkwright.schedule.together import Draft, latest_end, written_together
from barkwright.spread import Spread

HIRED = "  - {kind: saw-debarker, capacity: 5 in, rent_per_day: 90}\n"
SMALL = "  - {kind: chipper, name: small, capacity: 6 in, feed: winch, rent_per_day: 100}\n"
A_DAY = 14.0  # two people, seven hours
END = 190  # before the flight of the spring


@pytest.fixture(scope="module")
def model() -> SiteModel:
    """Two people on weekdays; day 0 is a Monday. A chipper, a saw debarker and a small chipper can be hired."""
    text = (
        site_text(4, 3)
        .replace("  - {kind: chipper", f"{SMALL}  - {{kind: chipper")
        .replace("calendar:", f"{HIRED}calendar:")
    )
    return site_model(planned(text).work)


def place_of(model: SiteModel, kind: str, strongest: bool = True) -> int:
    return next(one.place for one in model.machines if (one.kind, one.strongest) == (kind, strongest))


def a_task(
    need: float, *, kind: str | None = None, way: str | None = "way", last: int = END, preds: tuple[int, ...] = (),
    people: int = 1, first: int = 0,
) -> Task:  # fmt: skip
    """So many person-hours, with a machine for half of them where a kind is named."""
    return Task(
        tree="", work="process", said=(), pieces=(), way=way, hours=Spread.exactly(need),
        machine_hours=Spread.exactly(need / 2 if kind else 0.0), people=people, equipment=(kind,) if kind else (),
        skills=frozenset(), first=first, last=last, preds=preds,
    )  # fmt: skip


def bare(model: SiteModel, number: int) -> TreeModel:
    """A tree of which nothing but its tasks matters."""
    return replace(model.trees[0], pieces=(), place=number)


def drafts(model: SiteModel, trees: Sequence[Sequence[Task]]) -> tuple[SiteModel, Callable[..., Draft]]:
    """A site of trees with these tasks, and what stands in for the making of them from a guide."""
    rows = {number: list(tasks) for number, tasks in enumerate(trees)}
    site = replace(model, trees=[bare(model, number) for number in rows])

    def drafted(_: object, tree: TreeModel) -> Draft:
        tasks = list(rows[tree.place])
        return Draft(TreePlan(tree, tasks), None, [0] * len(tasks), [None] * len(tasks))

    return site, drafted


def runs(
    model: SiteModel, hired: Hired, trees: Sequence[Sequence[Task]], monkeypatch: pytest.MonkeyPatch
) -> tuple[Run, ...]:
    site, drafted = drafts(model, trees)
    monkeypatch.setattr(hire_days, "drafted", drafted)
    return filled_days(site, hired, under(site, Guide()))


def in_a_row(place: int, first: int, last: int) -> Run:
    """A run of all weekdays between two days, for work that may be done until the end."""
    return Run(place, tuple(day for day in range(first, last + 1) if day % 7 < 5), frozenset(((END, 0),)))


def chipped(felling: float, chipping: float, last: int = END) -> list[Task]:
    return [a_task(felling, way=None, people=2), a_task(chipping, kind="chipper", last=last, preds=(0,), people=2)]


def test_a_run_begins_when_the_trees_are_down_and_has_the_days_that_the_prices_say(
    model: SiteModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Eight days of felling, then five of chipping; a day more is allowed, for work does not fill days."""
    chipper = place_of(model, "chipper")
    trees = [chipped(8.0, 5.0)] * 14
    (run,) = runs(model, {chipper: [(0, END, 5.0)]}, trees, monkeypatch)
    assert run.place == chipper
    assert run.first in (9, 10)  # the eighth and the ninth day of work
    assert 5 <= len(run.days) <= 6


def test_what_works_up_the_wood_of_another_machine_has_its_run_after_it(
    model: SiteModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    chipper, debarker = place_of(model, "chipper"), place_of(model, "saw-debarker")
    hired: Hired = {chipper: [(0, END, 3.0)], debarker: [(0, END, 4.0)]}
    for kinds in (("saw-debarker", "chipper"), ("chipper", "saw-debarker")):
        tree = [
            a_task(1.0, way=None, people=2),
            a_task(4.0, kind=kinds[0], preds=(0,)),
            a_task(1.0, preds=(1,)),
            a_task(3.0, kind=kinds[1], preds=(2,)),
        ]
        found = runs(model, hired, [tree] * 14, monkeypatch)
        first, then = sorted(found, key=lambda run: run.first)
        assert [model.machines[run.place].kind for run in (first, then)] == list(kinds)
        assert first.days[-1] < then.first


def test_work_that_must_end_before_the_trees_are_down_has_a_run_of_its_own(
    model: SiteModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twelve days of felling; some of the wood must be chipped within the first two weeks, all else by spring."""
    chipper, soon = place_of(model, "chipper"), 11
    trees = [chipped(14.0, 4.0)] * 11 + [chipped(14.0, 4.0, last=soon)]
    found = runs(model, {chipper: [(0, END, 4.0)]}, trees, monkeypatch)
    early, late = sorted(found, key=lambda run: run.first)
    assert (early.work, late.work) == ({(soon, 0)}, {(END, 0)})
    assert early.days[-1] <= soon < late.first
    assert late.first >= 14  # the third Monday: ten days of work before it


def test_work_that_opens_later_does_not_keep_the_rest_waiting(
    model: SiteModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some wood may be chipped in spring only, in days that the rest could be done on too."""
    chipper = place_of(model, "chipper")
    spring = [a_task(8.0, way=None, people=2), a_task(5.0, kind="chipper", preds=(0,), people=2, first=150)]
    trees = [chipped(8.0, 5.0, last=165)] * 7 + [spring] * 7
    found = runs(model, {chipper: [(0, 150, 2.5), (150, END, 2.5)]}, trees, monkeypatch)
    early, late = sorted(found, key=lambda run: run.first)
    assert early.first in (9, 10)  # when all is felled
    assert late.first >= 150


@pytest.mark.parametrize(("by_hand", "apart"), [(380.0, True), (100.0, False)])
def test_where_hours_run_out_the_machine_comes_on_days_far_apart(
    by_hand: float, apart: bool, monkeypatch: pytest.MonkeyPatch, model: SiteModel
) -> None:
    """Of 29 days of work in spring all but one or two are full: in a block, hands would wait for the machine's days."""
    chipper, opens = place_of(model, "chipper"), 150
    tree = [a_task(2.0, way=None, people=2), a_task(2.0, kind="chipper", preds=(0,), people=2, first=opens)]
    trees = [*([tree] * 7), [a_task(by_hand, first=opens)]]
    (run,) = runs(model, {chipper: [(opens, END, 3.0)]}, trees, monkeypatch)
    spring = [day for day in range(opens, END + 1) if day % 7 < 5]
    gaps = [spring.index(then) - spring.index(day) for day, then in pairwise(run.days)]
    assert run.apart == apart
    assert len(run.days) == 4
    if apart:
        assert run.days[-1] == spring[-1]
        assert max(gaps) - min(gaps) <= 1
        assert min(gaps) >= len(spring) // 4
    else:
        assert gaps == [1, 1, 1]


def test_of_machines_of_a_kind_only_the_strongest_has_a_run(model: SiteModel, monkeypatch: pytest.MonkeyPatch) -> None:
    """It has the days of both, for it does all that they do."""
    strong, weak = place_of(model, "chipper"), place_of(model, "chipper", strongest=False)
    (run,) = runs(model, {weak: [(0, END, 2.0)], strong: [(0, END, 3.0)]}, [chipped(1.0, 5.0)] * 14, monkeypatch)
    assert run.place == strong
    assert 5 <= len(run.days) <= 6


def test_where_nothing_is_hired_there_are_no_runs(model: SiteModel) -> None:
    assert filled_days(model, {}, under(model, Guide())) == ()


def machine_days(model: SiteModel, *found: Run) -> MachineDays:
    return MachineDays(dispatcher_of(model, under(model, Guide())), found)


def test_a_day_is_allotted_until_the_machine_has_no_hours_left_and_the_last_one_beyond_that(model: SiteModel) -> None:
    """The chipper runs seven hours a day, and each task takes 3.5 of them and hardly any of the hands."""
    chipper = place_of(model, "chipper")
    days = machine_days(model, in_a_row(chipper, 7, 9))
    task = a_task(1.0, kind="chipper")
    task.machine_need = 3.5
    found = [days.allot(task, 0, END) for _ in range(8)]
    assert [one and one.day for one in found] == [7, 7, 8, 8, 9, 9, 9, 9]
    assert {one and one.start for one in found} == {7}


def test_what_is_done_on_days_far_apart_waits_for_its_own_day(model: SiteModel) -> None:
    chipper = place_of(model, "chipper")
    days = machine_days(model, replace(in_a_row(chipper, 7, 9), apart=True))
    task = a_task(1.0, kind="chipper")
    task.machine_need = 7.0
    found = [days.allot(task, 0, END) for _ in range(3)]
    assert [one and (one.day, one.start) for one in found] == [(7, 7), (8, 8), (9, 9)]


def test_days_of_which_all_hands_are_taken_are_not_allotted(model: SiteModel) -> None:
    """Two people have fourteen hours a day, however long the machine could run."""
    chipper = place_of(model, "chipper")
    days = machine_days(model, in_a_row(chipper, 7, 9))
    task = replace(a_task(A_DAY, kind="chipper"))
    task.machine_need = 0.1
    assert [one and one.day for one in (days.allot(task, 0, END) for _ in range(3))] == [7, 8, 9]


def test_no_day_is_allotted_before_that_of_what_comes_first_nor_without_a_run_for_such_work(model: SiteModel) -> None:
    chipper = place_of(model, "chipper")
    days = machine_days(model, in_a_row(chipper, 7, 11))
    task = a_task(1.0, kind="chipper")
    later = days.allot(task, 9, END)
    assert later is not None
    assert later.day == 9
    assert days.allot(task, 0, END - 1) is None
    assert days.allot(a_task(1.0, kind="saw-debarker"), 0, END) is None


def written(
    model: SiteModel, trees: Sequence[Sequence[Task]], found: Sequence[Run], monkeypatch: pytest.MonkeyPatch
) -> list[list[tuple[int, int]]]:
    """First and last day of each task."""
    site, drafted = drafts(model, trees)
    monkeypatch.setattr(together, "drafted", drafted)
    scenario = replace(under(site, Guide()), had=tuple(found))
    plans = written_together(dispatcher_of(site, scenario), site.trees, found)
    assert len(plans) == len(trees)
    return [[(one.first, one.last) for one in plans[number].placed] for number in range(len(trees))]


def test_what_a_hired_machine_waits_for_is_done_before_its_run(
    model: SiteModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Felling and carrying take eight of the fifteen days before it; by hand there are more than seven, due in the run.

    The machine takes up the wood of two trees a day, so by its own days most of the carrying could wait longer.
    """
    chipper = place_of(model, "chipper")
    run = in_a_row(chipper, 21, 25)
    tree = [
        a_task(7.0, way=None, people=2),
        a_task(4.0, preds=(0,)),
        a_task(2.0, kind="chipper", preds=(1,), people=2),
    ]
    tree[2].machine_need = 3.5
    hand = [[a_task(7.0, last=22)] for _ in range(15)]
    for _, carry, chip in written(model, [*hand, *([tree] * 10)], [run], monkeypatch)[15:]:
        assert carry[1] < run.first
        assert run.first <= chip[0] <= chip[1] <= run.days[-1]


def test_nothing_is_held_back_that_no_hired_machine_waits_for(
    model: SiteModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All is felled in a day: the fourteen hours of the second day go to work by hand, long before the run."""
    chipper = place_of(model, "chipper")
    run = in_a_row(chipper, 14, 18)
    trees = [chipped(7.0, 4.0), chipped(7.0, 4.0), [a_task(14.0, last=END - 10)]]
    found = written(model, trees, [run], monkeypatch)
    assert max(last for one in found for _, last in one[:1]) == 1  # 28 hours are two days of two people
    assert all(one[1][0] == run.first for one in found[:2])


def test_a_machine_whose_wood_is_late_begins_when_all_of_it_is_ready(
    model: SiteModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The wood of one tree must lie for nine days before it is carried; work by hand that ends later is no reason."""
    chipper = place_of(model, "chipper")
    run = in_a_row(chipper, 7, 18)
    slow = [
        a_task(1.0, way=None, people=2),
        replace(a_task(1.0, preds=(0,)), wait=9),
        a_task(2.0, kind="chipper", preds=(1,), people=2),
    ]
    found = written(model, [[a_task(160.0)], slow, *([chipped(1.0, 2.0)] * 4)], [run], monkeypatch)
    chips = [one[-1][0] for one in found[1:]]
    assert found[1][1] == (9, 9)
    assert min(chips) in (9, 10)
    assert max(chips) < found[0][-1][1]


def test_a_task_may_end_no_later_than_its_due_day_its_last_day_and_its_last_span() -> None:
    task = a_task(1.0, last=50)
    assert latest_end(task) == 50
    assert latest_end(replace(task, due=40)) == 40
    assert latest_end(replace(task, due=60)) == 50
    assert latest_end(replace(task, due=40, spans=((3, 5), (20, 30)))) == 30


@pytest.mark.parametrize(
    ("opens", "before", "begins"),
    [
        (12, 30, 15),  # open by the time the machine is through with what it has before it: at once
        (18, 30, 18),
        (40, 9, 60),  # much later: in the last of the times in which the prices put most of it
        (40, 70, 71),  # and on the day after the work that comes before it
        (300, 30, 300),  # the prices put none of it there: when it opens
    ],
)
def test_work_that_opens_later_begins_when_the_prices_say_and_after_what_comes_before_it(opens, before, begins) -> None:
    hired = {3: [(40, 59, 2.0), (60, 79, 4.0), (80, 99, 1.0)]}
    group = hire_days.Group(opens, END if opens < END else 400, 3.0, [])
    assert hire_days._begin(hired, 3, group, 15, before) == begins


def test_what_is_written_in_uses_up_what_the_site_takes(model: SiteModel, monkeypatch: pytest.MonkeyPatch) -> None:
    class TwoPlans(list[TreePlan]):
        """A site that takes the chips of two trees."""

        add = list.append

        def takes(self, _: TreePlan) -> bool:
            return len(self) < 2

    site, drafted = drafts(model, [[a_task(7.0)]] * 3)
    monkeypatch.setattr(together, "drafted", drafted)
    dispatcher = dispatcher_of(site, under(site, Guide()))
    dispatcher.tally = TwoPlans()  # type: ignore[assignment]
    assert list(written_together(dispatcher, site.trees, ())) == [0, 1]


def test_nothing_is_left_in_the_book_of_a_tree_that_cannot_be_taken_down(
    model: SiteModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two hands have nine days of work before its day; limbing it, and another tree, would find a place."""
    site, drafted = drafts(model, [[a_task(9 * A_DAY, last=7, people=2), a_task(2.0)], [a_task(7.0)]])
    monkeypatch.setattr(together, "drafted", drafted)
    dispatcher = dispatcher_of(site, under(site, Guide()))
    free = sum(sum(day) for day in dispatcher.book.free)
    assert list(written_together(dispatcher, site.trees, ())) == [1]
    assert free - sum(sum(day) for day in dispatcher.book.free) == pytest.approx(7.0)


@pytest.mark.parametrize(
    ("most", "least"),
    [
        (0, 0.0),  # it cannot be had at all
        (1, 540.0),  # a day and the delivery
        (3, (3 * 420 + 120) / 3),
        (7, (1500 + 120) / 7),  # a week, worked on all its days
    ],
)
def test_the_least_that_a_day_of_use_costs(model: SiteModel, most: int, least: float) -> None:
    assert least_a_day(model, place_of(model, "chipper"), most) == pytest.approx(least)
