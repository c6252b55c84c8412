"""Flight calendars of the user's own: added or in place by id, found by town, marked local, and checked."""

from datetime import date

import pytest

from barkwright.inventory.model import Site
from barkwright.season.flight import calendar_flight, finish_by
from barkwright.season.ownregions import region_book
from barkwright.season.regions import regions
from barkwright.season.site import season_of

ON = date(2026, 11, 25)
GOOD = """\
regions:
  - id: kestrel-flats
    name: the Kestrel Flats
    words: from the middle of May
    onset: 05-12
    end: 07-05
    points: [[53.12, -122.44]]
    source: trap notes of the forest office
"""


def written(folder, text, name="own.yaml"):
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return (str(path),)


def site(**given):
    return Site(name="a", units="imperial", **{"latitude": 53.12, "longitude": -122.44, **given})


def test_a_calendar_is_added_and_found_by_its_name_and_its_town(tmp_path):
    local = written(tmp_path, GOOD)
    assert region_book(local).diagnostics == ()
    for made in (site(region="kestrel-flats"), site()):
        season = season_of(made, ON, local)
        assert (season.region.id, season.notes) == ("kestrel-flats", ())
        flight = calendar_flight(season, 2027)
        assert (flight.onset, flight.end, flight.local) == (date(2027, 5, 12), date(2027, 7, 5), True)
        assert finish_by(flight) == date(2027, 4, 28)
        assert flight.basis.startswith("Local flight calendar of the Kestrel Flats")
        assert flight.basis.endswith("It rests on: trap notes of the forest office.")
    assert season_of(site(), ON).region.id == "interior-plateau"


def test_a_calendar_with_a_shipped_id_takes_its_place_and_keeps_its_towns(tmp_path):
    text = GOOD.replace("id: kestrel-flats", "id: interior-plateau").replace("    points: [[53.12, -122.44]]\n", "")
    local = written(tmp_path, text)
    book = region_book(local)
    assert len(book.book.regions) == len(regions().regions)
    season = season_of(site(latitude=53.92, longitude=-122.75), ON, local)
    assert (season.region.local, season.region.onset) == (True, "05-12")
    (own,) = book.own
    assert own.was == "the beetles fly from 21 May to 10 July (late May to early July)"
    assert own.was_source == "bc-guide, spruce beetle page"
    assert not calendar_flight(season_of(site(), ON), 2027).local


FAULTS = [
    ("onset: 05-12", "onset: 2027-05-12", "bad-date", 5, 12),
    ("onset: 05-12", "onset: 06-31", "bad-date", 5, 12),
    ("onset: 05-12", "onset: 12 May", "bad-date", 5, 12),
    ("onset: 05-12", "onset: 01-12", "out-of-range", 5, 12),
    ("end: 07-05", "end: 05-12", "span-reversed", 6, 10),
    ("    end: 07-05\n", "", "missing-key", 2, 5),
    ("onset:", "onse:", "unknown-key", 5, 5),
    ("[53.12, -122.44]", "[-122.44, 53.12]", "coordinates-swapped", 7, 14),
    ("[53.12, -122.44]", "[53.12, -222.44]", "out-of-range", 7, 14),
    ("[53.12, -122.44]", "53.12", "bad-value", 7, 14),
    ("[[53.12, -122.44]]", "here", "odd-shape", 7, 13),
    ("id: kestrel-flats", "id: Kestrel Flats", "bad-id", 2, 9),
    ("    source: trap notes of the forest office\n", "", "uncited", 2, 5),
    ("source: trap", "basis: read # ", "bad-choice", 8, 12),
    ("name: the Kestrel Flats", "name: 3", "bad-value", 3, 11),
    ("regions:\n  - id", "regions:\n    id", "odd-shape", 2, 5),
]


@pytest.mark.parametrize(("right", "wrong", "code", "line", "column"), FAULTS)
def test_a_fault_is_told_once_at_its_place_and_the_shipped_calendars_stay(tmp_path, right, wrong, code, line, column):
    assert right in GOOD
    book = region_book(written(tmp_path, GOOD.replace(right, wrong)))
    assert [(one.code, one.where.line, one.where.column) for one in book.diagnostics] == [(code, line, column)]
    assert book.diagnostics[0].hint
    assert (book.book.regions, book.own) == (regions().regions, ())


def test_an_id_is_used_once_in_all_files(tmp_path):
    twice = region_book(written(tmp_path, GOOD + GOOD.removeprefix("regions:\n")))
    assert [one.code for one in twice.diagnostics] == ["duplicate-id"]
    local = (*written(tmp_path, GOOD, "one.yaml"), *written(tmp_path, GOOD, "two.yaml"))
    (fault,) = region_book(local).diagnostics
    assert (fault.code, fault.where.file) == ("duplicate-id", local[1])


def test_how_well_it_is_known_is_what_its_writer_says(tmp_path):
    for basis, known in (("from memory", "from memory"), ("ours", "from memory")):
        text = GOOD.replace("source: trap notes of the forest office", f"basis: {basis}")
        (region,) = [one for one in region_book(written(tmp_path, text, f"{basis}.yaml")).book.regions if one.local]
        assert region.known == known
