"""The program's own data files. Tests hold every one of them against its type; loading trusts them."""

from __future__ import annotations

import csv
from functools import cache
from typing import Any, TypeVar

from barkwright.building import builder
from barkwright.sources import DATA
from barkwright.yamldoc import load_plain

Model = TypeVar("Model")


def load(path: str, model: type[Model]) -> Model:
    """The YAML file at `path`, relative to the data folder, as a `model`; read once. Dates in it are ISO text.

    `model` is a record, a pydantic model or a type like `dict[str, Rate]`. Raises TypeError where keys do not fit it.
    """
    loaded: Model = _load(path, model)  # type: ignore[arg-type]  # every type is hashable
    return loaded


@cache
def rows(path: str) -> tuple[dict[str, str], ...]:
    """The rows of the CSV file at `path` below the data folder, by column name, without lines that begin with #."""
    with (DATA / path).open(encoding="utf-8", newline="") as lines:
        return tuple(csv.DictReader(line for line in lines if not line.startswith("#")))


@cache
def _load(path: str, model: Any) -> Any:
    return builder(model)(load_plain((DATA / path).read_text(encoding="utf-8")))
