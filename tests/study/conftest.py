"""What the tests of the study share: the invented sites of the schedule's tests."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "schedule"))
