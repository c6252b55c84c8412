from datetime import date

import pytest

from barkwright import datafile
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Rate:
    """A record of a data file."""

    per_hour: tuple[float, ...]
    checked_on: date


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setattr(datafile, "DATA", tmp_path)
    return tmp_path


def test_a_record_takes_lists_and_dates_from_yaml_once(folder):
    (folder / "rates.yaml").write_text("chip: {per_hour: [1, 2.5], checked_on: 2026-11-25}\n")
    rates = datafile.load("rates.yaml", dict[str, Rate])
    assert rates == {"chip": Rate(per_hour=(1.0, 2.5), checked_on=date(2026, 11, 25))}
    assert type(rates["chip"].per_hour[0]) is float
    (folder / "rates.yaml").unlink()
    assert datafile.load("rates.yaml", dict[str, Rate]) is rates


@pytest.mark.parametrize(
    "text",
    ["chip: {per_hour: [one], checked_on: 2026-11-25}", "chip: {per_hour: [1], checked: 1}", "chip: {per_hour: [1]}"],
)
def test_keys_and_words_that_do_not_fit_are_refused(folder, text):
    (folder / f"{len(text)}.yaml").write_text(text)
    with pytest.raises((TypeError, ValueError)):
        datafile.load(f"{len(text)}.yaml", dict[str, Rate])


def test_rows_leave_comments_out(folder):
    (folder / "table.csv").write_text("# source: x\ncode,value\n1,2.5\n")
    assert datafile.rows("table.csv") == ({"code": "1", "value": "2.5"},)
