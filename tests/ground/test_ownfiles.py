"""Files of local knowledge as files: regular ones of a bounded size are read, of each that is not one word is said."""

import os

import pytest

from barkwright.ownfiles import MOST_BYTES, own_files


def fault_of(path):
    files = own_files((str(path),))
    assert files.documents == ()
    (fault,) = files.diagnostics
    assert fault.severity == "error"
    assert fault.where.file == str(path)
    return fault


def test_what_is_no_regular_file_is_told_and_never_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.yaml")
    (tmp_path / "folder.yaml").mkdir()
    (tmp_path / "round.yaml").symlink_to("round.yaml")
    for name in ("pipe", "folder", "round", "missing", "a\0b"):
        assert fault_of(tmp_path / f"{name}.yaml").code == "unreadable"
    assert fault_of("/dev/zero").code == "unreadable"
    assert fault_of(tmp_path / ("x" * 400)).code == "unreadable"


def test_a_file_that_is_too_long_is_refused_without_reading_all_of_it(tmp_path):
    with (tmp_path / "large.yaml").open("wb") as large:
        large.truncate(100_000_000)
    assert fault_of(tmp_path / "large.yaml").code == "too-large"
    (tmp_path / "edge.yaml").write_bytes(b"rates: {}" + b" " * (MOST_BYTES - 9))
    assert own_files((str(tmp_path / "edge.yaml"),)).diagnostics == ()
    (tmp_path / "over.yaml").write_bytes(b"rates: {}" + b" " * (MOST_BYTES - 8))
    assert fault_of(tmp_path / "over.yaml").code == "too-large"


BOMB = "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n"


@pytest.mark.parametrize(
    ("content", "code", "line"),
    [
        (b"rates: {a\xff}\n", "not-utf8", 1),
        ("rates: {}\n".encode("utf-16"), "not-utf8", 1),
        (BOMB.encode(), "not-plain", 1),
        (b"rates: " + b"[" * 100 + b"]" * 100, "too-deep", 1),
        (b"rates: {}\n--- \nrates: {}\n", "not-plain", 2),
        (b"rates: !!python/object:os.system {}\n", "not-plain", 1),
        (b"rates: {}\nrates: {}\n", "duplicate-key", 2),
        (b"rates: {\x1b[2J: 1}\n", "control-character", 1),
        (b"- rates\n", "odd-shape", 1),
        (b"just text\n", "odd-shape", 1),
        (b"", "empty", 1),
    ],
)
def test_what_is_no_plain_yaml_is_told_at_its_line(tmp_path, content, code, line):
    path = tmp_path / "own.yaml"
    path.write_bytes(content)
    fault = fault_of(path)
    assert (fault.code, fault.where.line) == (code, line)


def test_a_part_that_there_is_not_is_told_and_the_others_are_read(tmp_path):
    path = tmp_path / "own.yaml"
    path.write_text("rates: {}\nregion: []\n")
    files = own_files((str(path),))
    assert len(files.documents) == 1
    (fault,) = files.diagnostics
    assert (fault.code, fault.hint, fault.where.line) == ("unknown-key", "did you mean 'regions'?", 2)
