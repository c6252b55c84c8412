import re
from datetime import date
from pathlib import Path

import pytest

from barkwright.sources import DATA, UnknownSourceError, cite, load_sources, uses

SRC = DATA.parent
TODAY = date.today()  # noqa: DTZ011 - a source of next year would be a slip in any time zone
RECORDS = load_sources()
PUBLISHED = Path(__file__).parents[1] / "published"
CITED_IN_CODE = re.compile(r'cite\(\s*f?"([a-z0-9-]+),')


def test_the_file_is_alphabetical():
    assert list(RECORDS) == sorted(RECORDS)


@pytest.mark.parametrize("key", RECORDS)
def test_a_record_says_how_it_was_seen_and_when(key):
    record = RECORDS[key]
    assert 1850 <= record.year <= TODAY.year
    if record.url:
        assert record.accessed is not None
        assert record.accessed <= TODAY
    assert not (record.doi and record.url), "a doi is enough"
    assert key in cite(f"{key}, p. 1").key


@pytest.mark.parametrize("key", RECORDS)
def test_every_source_is_used_somewhere(key):
    by_tests = any(path.stem == key for path in PUBLISHED.glob("*.yaml"))
    assert uses()[key] or by_tests, "no data file, module or published case rests on it: cite it or take it out"


def test_a_citation_of_an_unknown_source_fails_loudly():
    with pytest.raises(UnknownSourceError, match="nobody1999"):
        cite("nobody1999, table 1")


def test_every_source_cited_in_code_is_recorded():
    cited = {key for path in SRC.rglob("*.py") for key in CITED_IN_CODE.findall(path.read_text(encoding="utf-8"))}
    assert cited
    assert cited <= set(RECORDS)


def test_every_source_of_a_published_case_is_recorded():
    named = {
        key
        for path in PUBLISHED.glob("*.yaml")
        for key in re.findall(r"^\s*-?\s*\{?source: ([a-z0-9-]+)", path.read_text(encoding="utf-8"), re.MULTILINE)
    }
    assert named <= set(RECORDS)
