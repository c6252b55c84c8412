"""Inputs made to take long or to fill the memory are refused, or read, in 5 seconds and 1 GB."""

from __future__ import annotations

import os

import pytest
from bombs import BOMBS, MEGABYTES, SECONDS, set_off
from readers import READERS
from watch import soon

SMALL = 0.004  # of the full size
USUAL = [
    bomb if number % 4 == 0 else pytest.param(bomb, marks=pytest.mark.slow) for number, bomb in enumerate(BOMBS)
]  # one in four in the usual run


@pytest.mark.parametrize("bomb", USUAL, ids=lambda one: one.name)
def test_a_small_one_is_read_or_refused_soon(bomb):
    content = bomb.content(SMALL)
    with soon(bomb.name):
        READERS[bomb.reader](content)


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(os, "wait4"), reason="no way to measure a process here")
@pytest.mark.parametrize("bomb", BOMBS, ids=lambda one: one.name)
def test_the_full_one_takes_no_more_than_it_may(bomb, tmp_path):
    found = set_off(bomb, tmp_path)
    assert found.code in (0, 2, 3, 4), found
    assert "fault of the program" not in found.said
    assert found.seconds <= SECONDS
    assert found.megabytes <= MEGABYTES
