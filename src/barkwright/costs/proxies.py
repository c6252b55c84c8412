"""Hourly machine rates that stand in for prices that are not given: the published ones, and the user's own by id."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, get_args

from barkwright.datafile import load
from barkwright.inventory.model import Kind
from barkwright.ownentry import YOURS, Entry, Taken, entries_by_id
from barkwright.ownfiles import Own, own_files
from barkwright.record import dataclass
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.diagnostics import Diagnostic

KEYS = ("kind", "class", "up_to", "per_hour", "currency", "year")
YEARS = (1990, 2100)
MOST = 100_000  # an hour of a machine in any currency; ours


@dataclass(frozen=True, slots=True)
class ProxyRate:
    """One hourly machine rate."""

    kind: str
    code: str
    per_hour: Decimal
    up_to: float | None
    label: str
    year: int
    currency: str
    note: str | None = None
    local: bool = False
    source: str | None = None  # of a local one, in the user's words


@dataclass(frozen=True, slots=True)
class _Rows:
    source: str
    schedule_year: int
    currency: str
    checked_on: date
    rates: tuple[dict[str, str | float | None], ...]


@dataclass(frozen=True, slots=True)
class RateTable:
    """All hourly rates, those of a kind from small to large, and what the user's own files say."""

    rates: tuple[ProxyRate, ...]
    own: tuple[Own, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()

    def proxy(self, kind: Kind, capacity: float | None) -> ProxyRate | None:
        """The rate of the smallest machine class that takes the capacity; the smallest of all for None."""
        of_kind = (one for one in self.rates if one.kind == kind)
        return next((one for one in of_kind if capacity is None or one.up_to is None or capacity <= one.up_to), None)


@cache
def rate_table(local: tuple[str, ...] = ()) -> RateTable:
    """The published rates, with those in `local` (paths as they can be opened) added or in place by id.

    A faulty entry becomes a diagnostic and leaves the published rate in place.
    """
    shipped = {one.code: one for one in _shipped()}
    if not local:
        return RateTable(tuple(shipped.values()))
    rates, taken = dict(shipped), Taken()
    found: list[Diagnostic] = []
    own: list[Own] = []
    for document in own_files(local).documents:
        for code, entry in entries_by_id(document, "machine_rates", "machine rate", found):
            rate = _rate(code, entry, shipped.get(code))
            if rate is not None and taken.free(code, entry):
                rates[code] = rate
                own.append(_own(rate, shipped.get(code), entry))
    kinds = list(dict.fromkeys(one.kind for one in rates.values()))
    ordered = sorted(rates.values(), key=lambda one: (kinds.index(one.kind), one.up_to is None, one.up_to or 0.0))
    return RateTable(tuple(ordered), tuple(own), tuple(found))


def _shipped() -> tuple[ProxyRate, ...]:
    book = load("costs/machines.yaml", _Rows)
    return tuple(
        ProxyRate(
            kind=str(row["kind"]),
            code=str(row["code"]),
            per_hour=Decimal(str(row["per_hour"])),
            up_to=None if (up_to := row["up_to"]) is None else float(up_to),
            label=str(row["class"]),
            year=book.schedule_year,
            currency=book.currency,
            note=None if (note := row.get("note")) is None else str(note),
        )
        for row in book.rates
    )


def _rate(code: str, entry: Entry, old: ProxyRate | None) -> ProxyRate | None:
    entry.only(KEYS)
    if entry.sound:
        entry.needs("per_hour", "currency", "year", *(() if old else ("kind", "class")))
    kind, label = entry.word("kind", get_args(Kind)), entry.text("class")
    if old is not None and kind not in (None, old.kind):
        entry.fault("bad-choice", "kind", f"the shipped rate {code} is of a {old.kind}", "take another id")
    amount = entry.number("per_hour", 0, MOST, "money an hour")
    year = entry.number("year", *YEARS, "")
    up_to = entry.number("up_to", 0, MOST, "the unit of its kind's capacity")
    currency, source = entry.text("currency"), entry.rests_on()
    if currency is not None and not (len(currency) == 3 and currency.isascii() and currency.isupper()):
        entry.fault("bad-value", "currency", f"currency '{currency}' is no code of three letters", "write USD or CAD")
    if not entry.sound or amount is None or year is None or currency is None:
        return None
    price = half_up(amount, 2)
    if old is not None:
        return replace(
            old, per_hour=price, label=label or old.label, up_to=up_to if entry.has("up_to") else old.up_to,
            year=int(year), currency=currency, note=entry.text("note"), local=True, source=source,
        )  # fmt: skip
    return ProxyRate(str(kind), code, price, up_to, str(label), int(year), currency, entry.text("note"), True, source)


def _own(new: ProxyRate, old: ProxyRate | None, entry: Entry) -> Own:
    was = None if old is None else _said(old)
    known = None if old is None else load("costs/machines.yaml", _Rows).source
    return Own("machine_rates", new.code, new.label, new.source or YOURS, entry.where, _said(new), was, known)


def _said(rate: ProxyRate) -> str:
    return f"{rate.per_hour} {rate.currency} an hour, in {rate.year}"
