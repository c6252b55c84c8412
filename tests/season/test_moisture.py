import pytest
from season_tables import rows

from barkwright.season.moisture import emc_c, emc_f

TABLE = rows("woodhandbook2010-emc.csv")


def test_every_cell_of_table_4_2_in_both_forms():
    assert len(TABLE) == 228
    for row in TABLE:
        temp_f, rh, printed = (float(row[name]) for name in ("temp_f", "rh_pct", "emc_pct"))
        assert abs(emc_c((temp_f - 32) / 1.8, rh) - printed) <= 0.06, row
        assert abs(emc_f(temp_f, rh) - printed) <= 0.07, row


def test_the_two_forms_are_one_equation():
    # Celsius fed into the other form's coefficients would be off by more than this, even at room temperature.
    for temp_c in (-1, 10, 21.11, 40):
        for rh in (20, 50, 80):
            assert emc_c(temp_c, rh) == pytest.approx(emc_f(temp_c * 1.8 + 32, rh), abs=0.06)
    assert abs(emc_f(21.11, 90) - emc_f(70, 90)) > 0.3
