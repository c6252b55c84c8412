"""The published tables in shared/published, row by row."""

import csv
from pathlib import Path

TABLES = Path(__file__).parents[2] / "shared" / "published"


def rows(name):
    with (TABLES / name).open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))
