"""Lines of an inventory, each with the option that it came from; and how options write machines, logs and the like."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field, replace
from typing import Any

from barkwright.diagnostics import Diagnostic
from barkwright.record import dataclass

NUMBER = re.compile(r"-?(?:0|[1-9]\d*)(?:\.\d+)?")
PRICES = {
    "hour": "rent_per_hour",
    "half-day": "rent_per_half_day",
    "day": "rent_per_day",
    "week": "rent_per_week",
    "month": "rent_per_month",
}
OPTIONS_FILE = "options"  # the name that places in the sheet carry
LENGTHS = ("in", "cm", "mm", "ft", "m", "yd3", "m3", "lb", "kg", "t", "hp", "kw")


_SIZE = re.compile(r"(?:0|[1-9]\d*)(?:\.\d+)? (?:in|ft|cm|mm|m|yd3|lb|kg)")
_BESIDE = 36  # column of the comments


class SpecError(ValueError):
    """An option that cannot be read; the message says how it is written."""

    def __init__(self, message: str, option: str) -> None:
        super().__init__(message)
        self.option = option


@dataclass(slots=True)
class Sheet:
    """Lines of an inventory, each with the option that it came from, and comments beside the keys that have one."""

    lines: list[str] = field(default_factory=list)
    options: list[str | None] = field(default_factory=list)
    beside: Mapping[str, str] = field(default_factory=dict)

    def add(self, line: str, option: str | None = None) -> None:
        """One more line."""
        self.lines.append(line)
        self.options.append(option)

    def put(self, indent: int, key: str, value: Any, option: str) -> None:
        """`key: value`, unless there is no value."""
        if value is not None and value != () and value != []:
            self.add(self.with_comment(f"{' ' * indent}{key}: {written(value)}", key), option)

    def open(self, indent: int, key: str, value: str) -> None:
        """A line to be filled in, as a comment, where comments are wanted."""
        if key in self.beside:
            self.add(self.with_comment(f"{' ' * indent}# {key}: {value}".rstrip(), key))

    def with_comment(self, line: str, key: str) -> str:
        """The line with what is said beside its key."""
        return f"{line:<{_BESIDE}} # {self.beside[key]}" if key in self.beside else line

    @property
    def text(self) -> str:
        """The inventory as text."""
        return "\n".join(self.lines) + "\n"

    def with_line(self, after: str, line: str | None) -> str:
        """The text with one more line after the first that begins so."""
        here = next(number for number, one in enumerate(self.lines, 1) if one.startswith(after))
        return "\n".join([*self.lines[:here], *([line] if line else []), *self.lines[here:]]) + "\n"

    def by_option(self, found: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
        """Diagnostics that name the option instead of a line in a file that nobody wrote."""
        return tuple(self._by_option(diagnostic) for diagnostic in found)

    def _by_option(self, diagnostic: Diagnostic) -> Diagnostic:
        if diagnostic.where is None or diagnostic.where.file != OPTIONS_FILE:
            return diagnostic
        option = self.options[diagnostic.where.line - 1] if diagnostic.where.line <= len(self.options) else None
        return replace(diagnostic, where=None, subject=option or "the options")


def written(value: Any) -> str:
    """A value as YAML: numbers and the words true and false bare, everything else quoted."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(written(item) for item in value)}]"
    text = str(value).strip()
    if NUMBER.fullmatch(text) or (re.fullmatch(r"[a-z][a-z-]*", text) and text not in ("null", "true", "false")):
        return text
    if re.fullmatch(r"\d{4}-\d\d-\d\d", text) or _SIZE.fullmatch(text):
        return text
    return json.dumps(text, ensure_ascii=False)


def words(value: str | None) -> list[str] | None:
    """A comma-separated option as a list."""
    return None if value is None else [word.strip() for word in value.split(",") if word.strip()]


def pairs(values: Sequence[str], option: str) -> list[tuple[str, str]]:
    """Options of the form key=value."""
    out: list[tuple[str, str]] = []
    for value in values:
        key, equals, rest = value.partition("=")
        if not equals or not key.strip() or not rest.strip():
            raise SpecError(f"{value!r}: write it as line=out-of-reach or line=35ft", option)
        if key.strip() in (known for known, _ in out):
            raise SpecError(f"{key.strip()!r} is given twice: keep one of them", option)
        out.append((key.strip(), rest.strip()))
    return out


def equipment(spec: str, owned: bool) -> Mapping[str, Any]:
    """A machine in words: 'chipper 9 in takes 7 in 310/day 1100/week delivery 90 feed hand'."""
    option = "--own" if owned else "--rent"
    tokens = spec.replace(",", " ").split()
    if not tokens:
        raise SpecError("name a machine or tool, such as drawknife", option)
    record: dict[str, Any] = {"kind": tokens.pop(0), "owned": owned}
    while tokens:
        token = tokens.pop(0)
        price, slash, per = token.partition("/")
        if slash and per in PRICES and NUMBER.fullmatch(price):
            record[PRICES[per]] = price
        elif token in ("delivery", "feed", "count", "from", "to") and tokens:
            record[token] = tokens.pop(0)
        elif token == "takes" and tokens:
            record["working_capacity"] = _measure(tokens.pop(0), tokens)
        elif re.match(r"[\d.]", token):
            record["capacity"] = _measure(token, tokens)
        else:
            raise SpecError(
                f"{token!r} in {spec!r} is not understood; write it as 'chipper 9 in takes 7 in 310/day delivery 90'",
                option,
            )
    return record


def _measure(token: str, tokens: list[str]) -> str:
    return f"{token} {tokens.pop(0)}" if tokens and tokens[0].lower() in LENGTHS else token


def log_record(spec: str) -> Mapping[str, Any]:
    """A measured log: butt, top and length, parted by commas, as '14.2,12.9,8' or '36 cm,33 cm,2.5 m,x2'."""
    parts = [part.strip() for part in spec.split(",")]
    count = parts.pop()[1:] if len(parts) == 4 and parts[3].startswith("x") else None
    if len(parts) != 3:
        raise SpecError(f"{spec!r}: write it as butt,top,length, such as 14.2,12.9,8", "--log")
    record: dict[str, Any] = dict(zip(("butt", "top", "length"), parts, strict=True))
    return record if count is None else {**record, "count": count}


def removal_record(spec: str) -> Mapping[str, Any]:
    """How a professional takes the tree down, in how many hours and at what price: 'dismantle,6' or 'crane,4,900'."""
    parts = [part.strip() for part in spec.split(",")]
    if len(parts) not in (2, 3) or not all(parts):
        raise SpecError(
            f"{spec!r}: write it as how,hours, such as dismantle,6, or with the price as dismantle,6,900",
            "--removal",
        )
    return dict(zip(("by", "hours", "price"), parts, strict=False))


def flow(record: Mapping[str, Any]) -> str:
    """A record on one line."""
    return f"{{{', '.join(f'{key}: {written(value)}' for key, value in record.items())}}}"
