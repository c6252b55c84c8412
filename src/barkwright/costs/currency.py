"""How finely the money of a currency is counted."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from barkwright.datafile import load
from barkwright.record import dataclass
from barkwright.sources import Basis
from barkwright.units import half_up

HUNDREDTHS = 2


@dataclass(frozen=True, slots=True)
class Currencies:
    """Codes of currencies that share the number of their decimals."""

    codes: tuple[str, ...]
    basis: Basis
    note: str
    checked_on: date


def decimals(currency: str) -> int:
    """Decimals of an amount of money: none where nothing smaller than the unit is counted, else two."""
    whole = load("costs/currencies.yaml", dict[str, Currencies])["without_minor_unit"]
    return 0 if currency in whole.codes else HUNDREDTHS


def least_amount(currency: str) -> Decimal:
    """The smallest amount that is counted [currency]."""
    return Decimal(1).scaleb(-decimals(currency))


def hundredths(hours: float) -> float:
    """Hours as a line of cost shows and prices them, so that hours times the rate is the amount [h]."""
    return float(half_up(round(hours, 6), 2))
