"""In which order trees are written in: the earliest flight first, then the worst."""

from types import SimpleNamespace

import pytest

from barkwright.schedule import order
from barkwright.schedule.order import ordered


def tree(
    name: str, onset: int = 200, brood: str = "likely", stage: str = "larvae", ft2: float = 50.0, wood: float = 9.0
):
    piece = SimpleNamespace(
        at_stake=True,
        onset=onset,
        brood=SimpleNamespace(brood=brood, stage=stage),
        brooding=brood != "none",
        piece=SimpleNamespace(wood_ft3=wood),
    )
    return SimpleNamespace(id=name, pieces=[piece], infested_ft2=ft2)


def names(*trees: object, dense: bool = False) -> list[str]:
    model = SimpleNamespace(trees=trees, days=SimpleNamespace(length=700))
    return [one.id for one in ordered(model, SimpleNamespace(guide=None), dense)]  # type: ignore[arg-type]


@pytest.fixture(autouse=True)
def _an_hour_for_each_tree(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(order, "hours_of", lambda *_: 1.0)


def test_the_earliest_flight_comes_first_whatever_else() -> None:
    assert names(tree("T1", onset=570, stage="adults", ft2=900), tree("T2", brood="possible", ft2=1)) == ["T2", "T1"]


def test_of_one_flight_adults_come_before_larvae_and_those_before_what_is_only_possible() -> None:
    trees = (
        tree("T1", brood="none", stage="", ft2=0),  # green wood on the ground
        tree("T2", brood="possible", stage="adults", ft2=90),
        tree("T3", ft2=60),
        tree("T4", stage="adults", ft2=10),
    )
    assert names(*trees) == ["T4", "T3", "T2", "T1"]
    assert names(*trees, dense=True) == ["T2", "T3", "T4", "T1"]  # then by bark for the hour


def test_of_like_trees_the_larger_comes_first_and_then_the_lower_number() -> None:
    assert names(tree("T10"), tree("T2"), tree("T11", wood=20.0)) == ["T11", "T2", "T10"]
