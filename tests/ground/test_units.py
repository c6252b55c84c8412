from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barkwright.units import UNITS, NoAmountError, convert, half_up, parse_amount


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("16.5", "16.5", None),
        ("16.5 in", "16.5", "in"),
        ("16.5in", "16.5", "in"),
        ("42 CM", "42", "cm"),
        ("3 m", "3", "m"),
        ("12' 6\"", "12.5", "ft"),
        ("12 ft 6 in", "12.5", "ft"),
        ("12′ 6″", "12.5", "ft"),
        ("-1' 6\"", "-1.5", "ft"),
        ("3-1/2 in", "3.5", "in"),
        ("3 1/2 in", "3.5", "in"),
        ("3½ in", "3.5", "in"),
        ("½ in", "0.5", "in"),
        ("5' 3-1/4\"", "253/48", "ft"),
        ('16"', "16", "in"),
        ("6 yd3", "6", "yd3"),
        ("6 cu yd", "6", "yd3"),
        ("2 m³", "2", "m3"),
        ("2 mi", "2", "mi"),
        ("8%", "8", "%"),
        ("7.2 kV", "7.2", "kV"),
        ("20 gal/min", "20", "gal/min"),
        ("1e3 m", "1000", "m"),
        ("2 m3", "2", "m3"),
        ("0.25 cords", "0.25", "cord"),
        ("6\xa0ft", "6", "ft"),
    ],
)
def test_amounts_are_read_as_people_write_them(text, number, unit):
    amount = parse_amount(text)
    assert amount.number == Fraction(number)
    assert amount.unit == unit


@pytest.mark.parametrize(
    ("text", "why", "hint"),
    [
        ("1,000 ft", "comma", "write 1000 ft"),
        ("16,5 cm", "decimal comma", "write 16.5 cm"),
        ("010 in", "zero", "write 10 in"),
        ("1_000 m", "underscore", "write 1000 m"),
        ("16 inn", "unknown unit 'inn'", "units"),
        ("6:30", "clock", "decimal"),
        ("12 ft 15 in", "not one number", "write"),
        ("3 - 5 ft", "not a number", "write"),
        ("1/0 in", "zero", "write"),
        ("about 16 in", "not a number", "write"),
        ("", "empty", "write"),
        ("1e999 m", "unit", ""),
        ("9" * 80, "long", "write"),
        (".inf", "not a number", "write"),
        ("6 yd 3", "not one number", "write"),
    ],
)
def test_what_is_no_amount_is_refused_with_a_hint(text, why, hint):
    with pytest.raises(NoAmountError) as raised:
        parse_amount(text)
    assert why in raised.value.message
    assert hint in raised.value.hint


@pytest.mark.parametrize(
    ("number", "unit", "to", "expected"),
    [
        # exact by the international yard and pound agreement of 1959 and by definition of the derived units
        ("1", "in", "cm", 2.54),
        ("1", "ft", "m", 0.3048),
        ("1", "mi", "km", 1.609344),
        ("1", "yd", "ft", 3),
        ("1", "yd3", "ft3", 27),
        ("1", "lb", "kg", 0.45359237),
        ("1", "ton", "lb", 2000),
        ("1", "t", "kg", 1000),
        ("12.7", "cm", "in", 5),
        ("90", "min", "h", 1.5),
        ("1", "gal/min", "L/min", 3.785411784),
    ],
)
def test_conversions_are_exact(number, unit, to, expected):
    assert convert(Fraction(number), unit, to) == expected


def test_lengths_are_no_weights():
    with pytest.raises(ValueError, match="measures"):
        convert(1.0, "in", "lb")


@given(st.integers(1, 10000))
def test_float_noise_of_a_conversion_elsewhere_is_gone(tenths):
    """Inches turned into cm by a spreadsheet come back as the same inches, on either side of any threshold."""
    inches = tenths / 10
    assert convert(inches * 2.54, "cm", "in") == inches
    assert convert(Fraction(repr(inches)), "in", "in") == inches


@given(st.text(max_size=30))
def test_any_text_is_an_amount_or_says_why_not(text):
    try:
        unit = parse_amount(text).unit
    except NoAmountError as error:
        unit = None if error.message and error.hint else "no reason given"
    assert unit in {None, *UNITS}


def test_halves_round_up():
    assert [str(half_up(value, digits)) for value, digits in ((2.5, 0), (0.125, 2), (-2.5, 0))] == ["3", "0.13", "-3"]
