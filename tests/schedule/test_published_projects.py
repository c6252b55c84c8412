"""The serial pass on projects with a known optimum: nothing broken, nothing beaten, as good as its rule is known to be.

The published set (Kolisch and Sprecher 1997, European Journal of Operational Research 96:205-216) lies outside the
project: pytest tests/schedule --psplib=DIR, with DIR/j30/*.sm and DIR/optima.csv.
"""

import csv
from math import sqrt
from pathlib import Path
from random import Random
from statistics import mean, stdev

import pytest
from project import Activity, Project, book_of, faults, tasks_of, textbook_ends

from barkwright.schedule.serial import latest_finishes, serial_pass

FULL_SET, OF_FULL_SET = 480, 5.58  # instances, and the mean excess of this very rule over the optimum on them [%]
SIGMAS = 3.0  # how far from that, in standard errors of their own mean, a few of them may lie

TINY = Project(  # three hands and two machines
    (3, 2),
    (
        Activity(0, (0, 0), ()),
        Activity(3, (2, 1), (0,)),
        Activity(1, (2, 0), (0,)),
        Activity(2, (3, 0), (1,)),
        Activity(3, (0, 2), (1,)),
        Activity(0, (0, 0), (2, 3, 4)),
    ),
)


def planned(project: Project) -> tuple[list[int], list[int]]:
    """Starts and ends of the program's own pass with latest finishes."""
    tasks = tasks_of(project)
    row, stuck = serial_pass(tasks, book_of(project), latest_finishes(tasks, project.horizon))
    assert stuck is None
    starts, ends = [], []
    for act, placed in zip(project.activities, row, strict=True):
        assert placed is not None
        days = [day for day, _, _ in placed.stints]
        start = placed.first if act.days else placed.first + (placed.clock > 0)
        assert not act.days or days == list(range(start, start + act.days))
        starts.append(start)
        ends.append(start + act.days)
    return starts, ends


def test_a_tiny_project_is_planned_at_its_optimum() -> None:
    starts, ends = planned(TINY)
    assert faults(TINY, starts, ends) == []
    assert max(ends) == 6  # no two of the first three have hands enough together: 3 + 1 + 2 days, the last beside them


def test_the_checker_sees_what_is_broken() -> None:
    starts, ends = planned(TINY)
    assert faults(TINY, [0] * len(starts), [act.days for act in TINY.activities])
    assert faults(TINY, starts, [end + 1 for end in ends])


def made_up(seed: int) -> Project:
    dice = Random(seed)
    capacities = tuple(dice.randint(2, 9) for _ in range(4))
    acts = [Activity(0, (0, 0, 0, 0), ())]
    for number in range(1, 25):
        after = tuple(sorted(dice.sample(range(number), min(number, dice.randint(1, 3)))))
        demands = tuple(dice.choice((0, dice.randint(1, most))) for most in capacities)
        acts.append(Activity(dice.randint(1, 9), demands, after))
    return Project(capacities, tuple(acts))


@pytest.mark.parametrize("seed", range(12))
def test_the_pass_is_the_one_of_the_textbook(seed: int) -> None:
    project = made_up(seed)
    starts, ends = planned(project)
    assert faults(project, starts, ends) == []
    assert ends == textbook_ends(project)


def published(folder: Path) -> dict[str, tuple[Project, int]]:
    """Projects of the folder by file name, with their published optimum."""
    import psplib

    with (folder / "optima.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["set"] == "j30"]
    found = {}
    for row in rows:
        told = psplib.parse(folder / row["file"], "psplib")
        after: list[list[int]] = [[] for _ in told.activities]
        for place, act in enumerate(told.activities):
            for successor in act.successors:
                after[successor].append(place)
        acts = tuple(
            Activity(act.modes[0].duration, tuple(act.modes[0].demands), tuple(preds))
            for act, preds in zip(told.activities, after, strict=True)
        )
        capacities = tuple(one.capacity for one in told.resources if one.renewable)
        found[row["file"]] = (Project(capacities, acts), int(row["published_optimal_makespan"]))
    return found


def test_published_projects(request: pytest.FixtureRequest) -> None:
    given = request.config.getoption("--psplib")
    if given is None:
        pytest.skip("published projects are tried with --psplib=DIR")
    excess = []
    for name, (project, optimum) in published(Path(given)).items():
        starts, ends = planned(project)
        assert faults(project, starts, ends) == [], name
        assert max(ends) >= optimum, name
        assert max(ends) == max(textbook_ends(project)), name
        excess.append(100.0 * (max(ends) / optimum - 1.0))
    assert mean(excess) == pytest.approx(OF_FULL_SET, abs=SIGMAS * stdev(excess) / sqrt(len(excess)))
    if len(excess) == FULL_SET:
        assert mean(excess) == pytest.approx(OF_FULL_SET, abs=0.05)
