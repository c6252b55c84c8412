"""Files that are no daily record, told by what they are, and what to download in their place."""

from __future__ import annotations

import re
from collections.abc import Sequence

from barkwright.record import dataclass

CANADA = "download the daily data of the station as CSV, from climate.weather.gc.ca"
US = "order daily summaries of the station as CSV, from the NCEI climate data page"
AS_CSV = "save or download it as CSV"


@dataclass(frozen=True, slots=True)
class Stranger:
    """What a file is, and what to do."""

    what: str
    instead: str


_STARTS = (
    (b"PK\x03\x04", Stranger("an Excel workbook or a zip archive", "save the sheet as CSV, or unpack the archive")),
    (b"\xd0\xcf\x11\xe0", Stranger("an old Excel workbook", "save the sheet as CSV")),
    (b"\x1f\x8b", Stranger("a gzip archive", "unpack it first")),
    (b"%PDF", Stranger("a PDF document", AS_CSV)),
    (b"\x89HDF", Stranger("a netCDF file", AS_CSV)),
    (b"CDF", Stranger("a netCDF file", AS_CSV)),
)
_PAGE = re.compile(rb"(?:\xef\xbb\xbf)?\s*<(?:!doctype|html|head|body|\?xml)", re.IGNORECASE)
_JSON = re.compile(rb"(?:\xef\xbb\xbf)?\s*[\[{]")
_DLY = re.compile(r"[A-Z0-9_-]{11}[0-9]{6}[A-Z][A-Z0-9]{3}[ -]")
_BY_YEAR = re.compile(r"[A-Z]{2}[A-Z0-9_-]{9},[0-9]{8},[A-Z][A-Z0-9]{3},-?[0-9]+,")
_NORMAL = re.compile(r"(?:ANN|MLY|DLY|HLY|DJF|MAM|JJA|SON)-[A-Z0-9-]+")
_MONTHLY = frozenset(
    ("EMXT", "EMNT", "EMXP", "CLDD", "HTDD", "CDSD", "HDSD", "DX32", "DX70", "DX90", "DT32", "DP01", "DP10")
)


def by_bytes(content: bytes) -> Stranger | None:
    """What the first bytes of a file say that it is, if that is no text table."""
    for start, stranger in _STARTS:
        if content.startswith(start):
            return stranger
    if _PAGE.match(content[:400]):
        return Stranger("a web page", "the download link was not the file itself: " + AS_CSV)
    return Stranger("a JSON file", AS_CSV) if _JSON.match(content[:400]) else None


def by_line(line: str) -> Stranger | None:
    """What a first line without a header says that a file is."""
    if _DLY.match(line) and len(line) > 100:
        return Stranger("a GHCN-Daily .dly file", "download the station's CSV file, or " + US)
    if _BY_YEAR.match(line):
        return Stranger("a GHCN-Daily file of one year for all stations", "download the station's CSV file, or " + US)
    return None


def by_header(names: Sequence[str]) -> Stranger | None:
    """What a header says that a file is, if it is known and no daily record. `names` are in upper case."""
    held = set(names)
    if any(name.startswith("MEAN MAX TEMP (") for name in names):
        return Stranger("an Environment Canada monthly file", CANADA)
    if {"LOCAL_DATE", "MAX_TEMPERATURE"} <= held:
        return Stranger("a table of Environment Canada's data service", CANADA)
    if any(name.startswith("DATE/TIME (") for name in names) or (
        "DATE/TIME" in held and any(n.startswith("TEMP (") for n in names)
    ):
        return Stranger("an Environment Canada hourly file", CANADA)
    if "DATE/HEURE" in held or any(name.startswith("DATE/HEURE") for name in names):
        return Stranger("an Environment Canada file in French", CANADA + " in English")
    if "FRSHTT" in held or {"TEMP", "DEWP", "MAX", "MIN"} <= held:
        return Stranger("an NCEI Global Summary of the Day", US + "; days of this one run by world time")
    if "DATE" in held and held & _MONTHLY and "STATION" in held:
        return Stranger("an NCEI Global Summary of the Month or Year", US)
    if any(_NORMAL.fullmatch(name) for name in names):
        return Stranger("a table of climate normals", US + ": normals are means of many years")
    if {"STATION", "DATE", "HOURLYDRYBULBTEMPERATURE"} <= held:
        return Stranger("an NCEI local climatological data file", US)
    return None


def by_dates(days: Sequence[str]) -> Stranger | None:
    """What the dates of a daily summary say: months or years in the place of days."""
    if days and all(re.fullmatch(r"[0-9]{4}-[0-9][0-9]", day) for day in days):
        return Stranger("an NCEI Global Summary of the Month", US)
    if days and all(re.fullmatch(r"(?:19|20)[0-9][0-9]", day) for day in days):
        return Stranger("an NCEI Global Summary of the Year", US)
    return None
