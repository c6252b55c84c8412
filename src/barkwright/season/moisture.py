"""The moisture that wood settles at in air of a temperature and a humidity."""

from __future__ import annotations

from datetime import date

from barkwright import datafile
from barkwright.record import dataclass

Row = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Form:
    """Coefficients of the equation for one scale of temperature; each row is a parabola in it."""

    w: Row
    k: Row
    k1: Row
    k2: Row


@dataclass(frozen=True, slots=True)
class MoistureBook:
    """The whole file, data/season/moisture.yaml."""

    checked_on: date
    source: str
    celsius: Form
    fahrenheit: Form


def emc_c(temp_c: float, rh_pct: float) -> float:
    """Equilibrium moisture content of wood, EMC, by temperature in degrees Celsius.

    temp_c : float    Air temperature, T. [degrees C]
    rh_pct : float    Relative humidity of the air, 0 to 100. [%]
    Returns EMC [% of dry weight].
    Valid: -1.1 to 60 degrees C and 5 to 95 %, the reach of table 4-2.  Error: 0.06 from that table; of wood itself no
    better than 1: wood that dries from green settles a little higher.
    Source: [woodhandbook2010] eq. 4-5, table 4-2.  Differs: nothing.

    >>> round(emc_c(21.11, 50), 1)
    9.2
    """
    return _emc(_book().celsius, temp_c, rh_pct)


def emc_f(temp_f: float, rh_pct: float) -> float:
    """Equilibrium moisture content of wood, EMC, by temperature in degrees Fahrenheit.

    temp_f : float    Air temperature, T. [degrees F]
    rh_pct : float    Relative humidity of the air, 0 to 100. [%]
    Returns EMC [% of dry weight].
    Valid: 30 to 140 degrees F and 5 to 95 %.  Error: 0.07 from table 4-2; otherwise as `emc_c`.
    Source: [woodhandbook2010] eq. 4-5, table 4-2.  Differs: nothing.

    >>> round(emc_f(70, 50), 1)
    9.2
    """
    return _emc(_book().fahrenheit, temp_f, rh_pct)


def _emc(form: Form, temp: float, rh_pct: float) -> float:
    w, k, k1, k2 = (a + b * temp + c * temp * temp for a, b, c in (form.w, form.k, form.k1, form.k2))
    kh = k * rh_pct / 100
    once, twice = k1 * kh, k1 * k2 * kh * kh
    return 1800 / w * (kh / (1 - kh) + (once + 2 * twice) / (1 + once + twice))


def _book() -> MoistureBook:
    return datafile.load("season/moisture.yaml", MoistureBook)
