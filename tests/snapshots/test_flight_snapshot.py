"""The flight page of a made-up site, line by line, so that a change of its look is seen. Self-derived: a snapshot.

To accept a changed look, write what `made_up` prints to flight_made_up.txt and read the difference.
"""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "output"))

from flight_site import page, site_plan, weather  # noqa: E402


def made_up() -> str:
    return page(site_plan(weather()))


def test_the_flight_page_looks_as_it_did() -> None:
    assert made_up() == (HERE / "flight_made_up.txt").read_text(encoding="utf-8")


if __name__ == "__main__":
    (HERE / "flight_made_up.txt").write_text(made_up(), encoding="utf-8")
