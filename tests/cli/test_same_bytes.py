"""The same site on the same day gives the same bytes in every process, however its sets and dicts are hashed."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
CALL = "from barkwright.cli.main import main; main()"


@pytest.mark.parametrize("form", ["text", "json"])
@pytest.mark.parametrize("command", [("order",), ("flight",), ("tally",)])
def test_the_same_bytes_in_every_process(command: tuple[str, ...], form: str) -> None:
    site = str(EXAMPLES / "removal-24.yaml")
    printed = set()
    for seed in ("1", "4711"):
        done = subprocess.run(
            [sys.executable, "-c", CALL, *command, site, "--on", "2026-11-25", "--format", form],
            env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=False,
        )  # fmt: skip
        assert done.returncode in (0, 4), done.stderr
        printed.add(done.stdout)
    assert len(printed) == 1
