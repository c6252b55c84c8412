"""The program's own data files, checked on load."""

from __future__ import annotations

import csv
import json
from functools import cache
from typing import Any, TypeVar

from pydantic import TypeAdapter

from barkwright.sources import DATA
from barkwright.yamldoc import load_plain

Model = TypeVar("Model")


def load(path: str, model: type[Model]) -> Model:
    """The YAML file at `path`, relative to the data folder, as a `model`; read once. Dates in it are ISO text.

    `model` is a pydantic model, a dataclass or a type like `dict[str, Rate]`. Raises pydantic's ValidationError.
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
    data = load_plain((DATA / path).read_text(encoding="utf-8"))
    # By way of JSON, a strict model takes a list for a tuple and ISO text for a date, and nothing else.
    return TypeAdapter(model).validate_json(json.dumps(data))
