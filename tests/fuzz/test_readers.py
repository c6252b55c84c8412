"""Whatever stands in a file, its reader gives what it read or says what is wrong, soon, in lines to be printed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from material import damaged, damaged_workbook, examples, seeds, workbook
from readers import READERS
from watch import soon


@pytest.mark.parametrize("reader", READERS)
def test_a_sound_file_is_read(reader):
    for text in seeds(reader):
        with soon(text):
            READERS[reader](text.encode("utf-8", "replace"))


@pytest.mark.parametrize("reader", READERS)
def test_a_damaged_file_is_read_or_refused(reader):
    @examples({"yaml": 200, "inventory": 250, "local": 80, "weather": 120, "draft": 40, "answer": 30}.get(reader, 150))
    @given(damaged(seeds(reader)))
    def run(content):
        with soon(content):
            READERS[reader](content)

    run()


@pytest.mark.parametrize("reader", READERS)
def test_any_bytes_are_read_or_refused(reader):
    @examples(10 if reader in ("answer", "local") else 50)
    @given(st.binary(max_size=400) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "replace")))
    def run(content):
        with soon(content):
            READERS[reader](content)

    run()


def test_a_sound_workbook_is_read():
    READERS["sheet"](workbook())


@examples(120)
@given(damaged_workbook())
def test_a_damaged_workbook_is_read_or_refused(content):
    with soon(content):
        READERS["sheet"](content)
