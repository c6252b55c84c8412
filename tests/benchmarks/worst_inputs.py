"""How long the worst inputs keep the program busy before it refuses or reads them, and the most memory that they take.

One process for each input. To see only some: python tests/benchmarks/worst_inputs.py workbook journal
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "fuzz"))

from bombs import BOMBS, set_off
from tabulate import tabulate


def main(*words: str) -> None:
    rows = []
    for bomb in BOMBS:
        if words and not any(word in f"{bomb.reader}: {bomb.name}" for word in words):
            continue
        with tempfile.TemporaryDirectory() as folder:
            found = set_off(bomb, Path(folder))
        rows.append((bomb.reader, bomb.name, found.code, found.seconds, found.megabytes, found.said[:90]))
        sys.stderr.write(f"{rows[-1]}\n")
    rows.sort(key=lambda row: -row[3])
    table = tabulate(
        rows, ("reader", "input", "exit", "CPU s", "MB", "said first"), floatfmt=(".0f",) * 3 + (".1f", ".0f")
    )
    sys.stdout.write(f"{table}\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
