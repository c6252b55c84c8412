"""Published check values: how a case is read, refused, run and compared. The cases are the YAML files beside this.

A file is named after its source and holds a list of cases:

    - source: westfall2024                       # key in data/sources.yaml
      locator: example 1, total stem wood volume
      what: barkwright.stem.nsvb:tree_total      # module:function, ours; or adapters:name, adapters_ROOM:name
      given: {model: 2, a: 0.0019, dbh_in: 20.0} # keyword arguments (a list: positional), in the source's units
      pick: likely                               # optional: attribute, key or index of the result, dotted
      expect: "88.452275544288"                  # text, as the source prints it
      tolerance: 1e-9 relative                   # optional: "0.02", "1e-9 relative", "15 %", "exact"
      why: the source prints 12 decimals         # needed when the tolerance is wider than half the last printed digit
      kind: worked-example                       # worked-example table figure-read statement
      printed: 14                                # significant digits the source prints; needed from 10 digits on

Default tolerance: half a unit of the last printed digit of `expect`. Words, dates and true/false compare as text.
"""

from __future__ import annotations

import importlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from functools import cache
from pathlib import Path
from typing import Any

import yaml

HERE = Path(__file__).parent
SOURCES = HERE.parents[1] / "src" / "barkwright" / "data" / "sources.yaml"
KINDS = ("worked-example", "table", "figure-read", "statement")
FIELDS = {"source", "locator", "what", "given", "pick", "expect", "tolerance", "why", "kind", "printed"}
LONG = 10  # significant digits from which an expectation must say how many its source prints


@dataclass(frozen=True)
class Case:
    file: str
    fields: Mapping[str, Any]

    @property
    def id(self) -> str:
        return f"{self.fields.get('source')}[{self.fields.get('locator')}]"

    @property
    def pair(self) -> tuple[str, str]:
        return self.fields["source"], self.fields["what"]


def all_cases() -> Iterator[Case]:
    for path in sorted(HERE.glob("*.yaml")):
        for fields in yaml.safe_load(path.read_text(encoding="utf-8")) or []:
            yield Case(path.name, fields)


@cache
def source_keys() -> frozenset[str]:
    return frozenset(yaml.safe_load(SOURCES.read_text(encoding="utf-8")) or {})


def function(what: str) -> Any:
    module, _, name = what.partition(":")
    target: Any = importlib.import_module(module)
    for part in name.split("."):
        target = getattr(target, part)
    return target


def result(case: Case) -> Any:
    given = case.fields["given"]
    call = function(case.fields["what"])
    value = call(*given) if isinstance(given, list) else call(**given)
    for part in str(case.fields.get("pick", "")).split("."):
        if part == "":
            continue
        if isinstance(value, Mapping):
            value = value[part]
        elif part.lstrip("-").isdigit():
            value = value[int(part)]
        else:
            value = getattr(value, part)
    return value


def number(text: str) -> Decimal | None:
    try:
        value = Decimal(text)
    except InvalidOperation:
        return None
    return value if value.is_finite() else None


def half_last_digit(text: str) -> Decimal:
    exponent = Decimal(text).as_tuple().exponent
    assert isinstance(exponent, int)
    return Decimal(1).scaleb(exponent) / 2


def digits(text: str) -> int:
    return len(Decimal(text).as_tuple().digits)


def allowed(case: Case) -> Decimal:
    """Absolute difference from the printed value that passes."""
    expect, tolerance = case.fields["expect"], case.fields.get("tolerance")
    if tolerance is None:
        return half_last_digit(expect)
    text = str(tolerance).strip()
    if text == "exact":
        return Decimal(0)
    if text.endswith("%"):
        return abs(Decimal(expect)) * Decimal(text[:-1].strip()) / 100
    if text.endswith("relative"):
        return abs(Decimal(expect)) * Decimal(text[: -len("relative")].strip())
    return Decimal(text)


def agrees(case: Case, value: Any) -> bool:
    expect = case.fields["expect"]
    if isinstance(value, bool):
        return str(value).lower() == expect
    if isinstance(value, date):
        return value.isoformat() == expect
    if value is None or isinstance(value, str) or number(expect) is None:
        return str(value) == expect
    slack = Decimal("1e-12") * max(Decimal(1), abs(Decimal(expect)))  # a printed tie in binary
    return abs(Decimal(repr(float(value))) - Decimal(expect)) <= allowed(case) + slack


def faults(case: Case, sources: frozenset[str], value: Any = None) -> list[str]:
    """Why a case may not stand; `value` is our own output, to catch an expectation made with it."""
    fields = case.fields
    found = [f"unknown field {name!r}" for name in sorted(set(fields) - FIELDS)]
    found += [
        f"no {name}" for name in ("source", "locator", "what", "given", "expect", "kind") if not _there(fields, name)
    ]
    if found:
        return found
    if fields["source"] not in sources:
        found.append(f"source {fields['source']!r} is not in data/sources.yaml")
    if case.file != f"{fields['source']}.yaml":
        found.append(f"a case of {fields['source']} stands in {case.file}")
    if fields["kind"] not in KINDS:
        found.append(f"kind is one of {', '.join(KINDS)}")
    if not fields["what"].startswith(("barkwright.", "adapters:", "adapters_")):
        found.append("the function under test is not ours")
    expect = fields["expect"]
    if not isinstance(expect, str):
        return [*found, "expect is text, digit for digit as the source prints it"]
    if number(expect) is not None:
        found += _number_faults(case, expect, value)
    return found


def _there(fields: Mapping[str, Any], name: str) -> bool:
    return name in fields and fields[name] not in (None, "")


def _number_faults(case: Case, expect: str, value: Any) -> list[str]:
    found = []
    if allowed(case) > half_last_digit(expect) and not case.fields.get("why"):
        found.append("a tolerance wider than half the last printed digit needs a why")
    printed = case.fields.get("printed")
    if digits(expect) >= LONG and (printed is None or int(printed) < digits(expect)):
        own = isinstance(value, int | float) and f"{float(value):.9e}" == f"{float(expect):.9e}"
        how = "equals our own output to 10 digits" if own else f"has {digits(expect)} digits"
        found.append(f"the expectation {how}, and the source is said to print {printed or 'an unknown number'}")
    return found
