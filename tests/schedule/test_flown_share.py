"""What of the brood is still there when half its beetles have flown, by hand."""

from types import SimpleNamespace

import pytest

from barkwright.schedule import levels
from barkwright.schedule.levels import flown_share


@pytest.mark.parametrize(
    ("end", "day", "share"),
    [
        ("done", 199, 0.0),
        ("partial", 199, 0.5),  # in time, but half of it lives on
        ("done", 200, 0.5),  # while half of the beetles are still in it
        ("partial", 200, 0.75),
        (None, 0, 1.0),
    ],
)
def test_shares_of_what_is_done_by_halves_before_and_in_the_flight(monkeypatch, end, day, share):
    monkeypatch.setattr(levels, "done_day", lambda *_: day)
    piece = SimpleNamespace(onset=200, piece=SimpleNamespace(id="T1/1"))
    pick = None if end is None else SimpleNamespace(option=SimpleNamespace(end=end))
    assert flown_share(None, None, piece, pick) == share
