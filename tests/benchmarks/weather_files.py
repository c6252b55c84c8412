"""How long made-up weather files take to read, and the memory: a folder of a file a year, and one file of 20 years."""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "season" / "weatherfiles"))

from tabulate import tabulate
from weather_texts import CANADA_HEADER, canada, lines, seasonal, year_of

from barkwright.season.weatherfiles.reading import read_weather


def canadian(day: date) -> str:
    tmax = seasonal(day, -8, 24)
    return canada(str(day), f"{tmax:.1f}", f"{tmax - 12.5:.1f}", "0.4", "", "<31" if day.day % 2 else "44")


def american(day: date) -> str:
    tmax = seasonal(day, 22, 78)
    return f'"USC00999999","TESTING KNOLL, ME US","{day}","6.71"," 1506","0.29","{tmax:.0f}","{tmax - 20:.0f}","29.1"'


def main() -> None:
    rows = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name, "yearly")
        folder.mkdir()
        for year in range(2008, 2024):
            text = lines(CANADA_HEADER, year_of(canadian, year))
            (folder / f"{year}.csv").write_text(text, encoding="utf-8-sig")
        one = Path(name, "one.csv")
        header = "STATION,NAME,DATE,AWND,PGTM,PRCP,TMAX,TMIN,WSF5"
        one.write_text(lines(header, *(year_of(american, year) for year in range(2003, 2023))), encoding="utf-8")
        long = Path(name, "long.csv")
        days = (date(1860, 1, 1) + timedelta(days=n) for n in range(118_000))
        readings = (f"{day},{seasonal(day, -8, 24):.1f}{' ' * 400},{seasonal(day, -20, 9):.1f}" for day in days)
        with long.open("w", encoding="utf-8") as file:  # line by line: the memory below is the reader's alone
            file.write("date,tmax_c,tmin_c\n")
            file.writelines(f"{reading}\n" for reading in readings)
        for title, path in (("16 files of a year", folder), ("one file of 20 years", one), ("one file of 48 MB", long)):
            began = time.perf_counter()
            weather = read_weather((str(path),)).weather
            spent = time.perf_counter() - began
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            assert weather is not None
            rows.append((title, f"{len(weather.days):,}", f"{spent:.2f}", f"{peak:.0f}"))
    table = tabulate(rows, ("what", "days", "seconds", "MB so far"), disable_numparse=True)
    sys.stdout.write(f"{table}\n")


if __name__ == "__main__":
    main()
