"""The work order of a made-up plan, line by line, so that a change of its look is seen. Self-derived: a snapshot.

To accept a changed look, write what `made_up` prints to order_made_up.txt and read the difference.
"""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "output"))

from made_up import plan  # noqa: E402

from barkwright.output.measures import Units  # noqa: E402
from barkwright.output.order import order_text  # noqa: E402


def made_up() -> str:
    return order_text(plan(2, unmet=True), Units(), "made-up.yaml")


def test_the_order_looks_as_it_did() -> None:
    assert made_up() == (HERE / "order_made_up.txt").read_text(encoding="utf-8")


if __name__ == "__main__":
    (HERE / "order_made_up.txt").write_text(made_up(), encoding="utf-8")
