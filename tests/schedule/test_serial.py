"""The serial pass on small work: hands, machines of which several run at once, and work that runs day after day."""

import pytest
from project import Activity, Project, book_of, tasks_of

from barkwright.schedule.serial import BookPlacer, in_order, latest_finishes, serial_order, serial_pass


def project(*acts: tuple[int, tuple[int, ...], tuple[int, ...]], capacities: tuple[int, ...] = (4, 3)) -> Project:
    return Project(capacities, tuple(Activity(*act) for act in acts))


def test_the_smallest_key_among_the_eligible_comes_first_and_ties_go_by_index() -> None:
    tasks = tasks_of(project((1, (1, 0), ()), (1, (1, 0), (0,)), (1, (1, 0), ()), (1, (1, 0), ())))
    nothing = [None] * 4
    assert serial_order(tasks, [0, 0, 0, 0], nothing) == [0, 1, 2, 3]
    assert serial_order(tasks, [9, 0, 5, 5], nothing) == [2, 3, 0, 1]


def test_tasks_that_wait_in_a_ring_are_refused() -> None:
    tasks = tasks_of(project((1, (1, 0), (1,)), (1, (1, 0), (0,))))
    with pytest.raises(ValueError, match="ring"):
        serial_pass(tasks, book_of(project((9, (1, 0), ()))), [0, 0])


def test_the_first_task_without_a_place_is_named_and_nothing_comes_after_it() -> None:
    one = project((1, (1, 0), ()), (1, (5, 0), (0,)), (1, (1, 0), (1,)))
    row, stuck = serial_pass(tasks_of(one), book_of(one), [0, 1, 2])
    assert stuck == 1
    assert [placed is None for placed in row] == [False, True, True]


def test_several_machines_of_a_kind_run_at_once_and_no_more_than_there_are() -> None:
    one = project((1, (1, 2), ()), (1, (1, 2), ()), (1, (1, 1), ()))
    row, _ = serial_pass(tasks_of(one), book_of(one), [0, 1, 2])
    assert [placed.first for placed in row if placed] == [0, 1, 0]
    four = project((1, (1, 4), ()))
    assert serial_pass(tasks_of(four), book_of(four), [0])[1] == 0


def test_what_is_unbroken_skips_no_day_on_which_others_work() -> None:
    one = project((1, (4, 0), ()), (3, (1, 0), ()))
    tasks, book = tasks_of(one), book_of(one)
    tasks[0].first = 1
    row, _ = serial_pass(tasks, book, [0, 1])
    assert row[1] is not None
    assert [day for day, _, _ in row[1].stints] == [2, 3, 4]


def test_a_task_comes_late_enough_for_its_first_day_and_the_book_can_be_taken_back() -> None:
    one = project((2, (3, 2), ()))
    tasks, book = tasks_of(one), book_of(one)
    before = [list(row) for row in (*book.free, *book.running)]
    row = [None]
    assert in_order(BookPlacer(book), tasks, [0], row, {0: 1}) is None
    assert row[0].first == 1
    book.give_back(tasks[0], row[0])
    assert [list(row) for row in (*book.free, *book.running)] == before


def test_latest_finishes_come_from_what_waits() -> None:
    one = project((2, (1, 0), ()), (3, (1, 0), (0,)), (1, (1, 0), (0,)), (4, (1, 0), (1, 2)))
    tasks = tasks_of(one)
    assert latest_finishes(tasks, 10) == [3, 6, 6, 10]
    tasks[3].due = 7  # ended by the end of the eighth day
    tasks[1].wait = 1
    assert latest_finishes(tasks, 10) == [0, 4, 4, 8]


def test_the_length_of_common_work_may_be_told() -> None:
    tasks = tasks_of(project((0, (2, 0), ()), (0, (1, 0), (0,))))
    tasks[1].need, tasks[0].last, tasks[1].last = 12.0, 20, 20
    assert latest_finishes(tasks, 9, lambda task: task.need / task.people / 6) == [7, 9]
