import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from barkwright import yamldoc
from barkwright.yamldoc import decode, load_plain, read_document


def data(text):
    document, found = read_document(text, "f.yaml")
    assert found == ()
    return document.data


def refusal(text):
    document, found = read_document(text, "f.yaml")
    assert document is None
    return [(one.code, one.where.line, one.where.column) for one in found]


@pytest.mark.parametrize(
    ("written", "read"),
    [
        # the traps of YAML 1.1: all of them stay text
        *((word, word) for word in ("yes", "no", "NO", "on", "off", "y", "True", "FALSE", "12:30", "1:30:15", "010")),
        *(
            (word, word)
            for word in ("1_000", "0x1F", "0b11", ".inf", ".nan", "2024-05-01", "2024-13-45", "12'", "00.5")
        ),
        # numbers as people write them
        ("16", 16),
        ("-3", -3),
        ("16.5", 16.5),
        (".5", 0.5),
        ("5.", 5.0),
        ("1e3", 1000.0),
        ("-e0", "-e0"),
        ("1.5e+3", 1500.0),
        ("true", True),
        ("false", False),
        ("null", None),
        ("~", None),
        ("", None),
        ("'16'", "16"),
        ('"true"', "true"),
    ],
)
def test_a_scalar_means_what_it_looks_like(written, read):
    value = data(f"key: {written}\n")["key"]
    assert value == read
    assert type(value) is type(read)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_places_are_counted_from_one_whatever_ends_the_lines(end):
    document, _ = read_document(end.join(["# first", "a:", "  - {b: x, c: 1}", ""]), "f.yaml")
    assert str(document.place(("a", 0, "c"))) == "f.yaml:3:15"
    assert str(document.key_place(("a", 0, "c"))) == "f.yaml:3:12"
    assert str(document.place(("a", 0, "d"))) == "f.yaml:3:5"  # the part that has no such key
    assert document.written(("a", 0, "b")) == "x"


def test_a_byte_order_mark_is_not_part_of_the_first_key():
    assert data("\ufeffa: 1\n") == {"a": 1}


def test_every_duplicate_key_is_reported_with_both_lines():
    _, found = read_document("a: 1\nb: 2\na: 3\nc: {d: 1, d: 2}\n", "f.yaml")
    assert [one.message for one in found] == [
        "key 'a' is written twice, in line 1 and in line 3",
        "key 'd' is written twice, both in line 4",
    ]


@pytest.mark.parametrize(
    ("text", "code", "line", "column"),
    [
        ("a: &x 1\nb: *x\n", "not-plain", 1, 4),
        ("b: 1\nc: *x\n", "not-plain", 2, 4),
        ("a: !!python/object:os.system x\n", "not-plain", 1, 4),
        ("a: {<<: {b: 1}}\n", "not-plain", 1, 5),
        ("? [a, b]\n: 1\n", "not-plain", 1, 3),
        ("a: 1\n---\nb: 2\n", "not-plain", 2, 1),
        ("\n\n# nothing\n", "empty", 1, 1),
        ("a: b\x00\n", "control-character", 1, 5),
        ("a: 1\nb: x\u2028y\n", "control-character", 2, 5),
        ("a: \ud800\n", "control-character", 1, 4),
        ("a: " + "[" * 500 + "\n", "too-deep", 1, 28),
    ],
)
def test_what_inventories_do_without_is_refused_at_its_place(text, code, line, column):
    assert refusal(text) == [(code, line, column)]


def test_size_is_bounded_in_characters_and_in_values(monkeypatch):
    monkeypatch.setattr(yamldoc, "MAX_CHARACTERS", 100)
    monkeypatch.setattr(yamldoc, "MAX_NODES", 10)
    assert refusal("a: " + "x" * 98) == [("too-large", 1, 1)]
    assert refusal("a: [1, 2, 3, 4, 5, 6, 7, 8]\n") == [("too-large", 1, 26)]
    assert data("a: [1, 2, 3, 4, 5, 6, 7]\n")


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("site:\n\tname: x\n", 2, 1, "a tab"),
        ("a: [1, 2\nb: 3\n", 1, 4, "the [ that opens here does not close"),
        ("a: {b: 1\nc: 2\n", 1, 4, "the { that opens here does not close"),
        ("a: {b: 1 c: 2}\n", 1, 11, "a comma is missing here"),
        ("a: {b: 1}}\n", 1, 10, "} closes a bracket that was never opened"),
        ('a: "abc\nb: 2\n', 1, 4, "never closes"),
        ("a: 'abc\nb: 'it'\n", 1, 4, "does not close in its line"),
        ("site\n  name: x\n", 1, 1, "no colon after the key"),
        ("site:\n  name:x\n  b: 2\n", 2, 8, "no blank after the colon"),
        ("site:\n  name: x\n   units: y\n", 3, 4, "indented deeper"),
        ("site:\n    name: x\n  units: y\n", 3, 3, "begins in column 3"),
        ("name: Heron: lake\n", 1, 12, "a second colon"),
        ("trees:\n- id: a\n -id: b\n", 3, 2, "no blank after the dash"),
        ("trees:\n  id: a\n  - id: b\n", 3, 3, "a list entry and a key stand side by side"),
        ('a: "12" in"\n', 1, 9, "text after the closing quote"),
        ('a: "C:\\dir"\n', 1, 7, "backslash"),
        ("a: @home\n", 1, 4, "cannot begin with @"),
        ("site:\n\xa0 name: x\n  b: 1\n", 2, 1, "no-break space"),
        ("a: 1\nb: [\n", 2, 4, "does not close"),
    ],
)
def test_a_syntax_error_is_one_clear_message_at_the_faulty_line(text, line, column, words):
    document, found = read_document(text, "f.yaml")
    assert document is None
    assert [(one.code, one.where.line, one.where.column) for one in found] == [("not-yaml", line, column)]
    assert words in found[0].message
    assert found[0].hint


def test_bytes_that_are_not_utf8_are_named_with_their_place():
    text, (one,) = decode(b"a: 1\r\nb: caf\xe9\r\n", "f.yaml")
    assert text is None
    assert (str(one.where), one.message) == ("f.yaml:2:7", "byte 13 (0xe9) is not UTF-8")
    assert decode("a: 1".encode("utf-16"), "f.yaml")[1][0].code == "not-utf8"
    assert decode("é".encode(), "f.yaml") == ("é", ())


WORDS = st.text("ab yes:-'\"#0123.", max_size=8)
SCALARS = WORDS | st.integers(-9999, 9999) | st.floats(-1e6, 1e6) | st.booleans() | st.none() | st.dates()


@given(st.recursive(SCALARS, lambda inner: st.lists(inner) | st.dictionaries(WORDS, inner), max_leaves=20))
def test_the_quick_reader_reads_what_the_careful_one_reads(value):
    text = yaml.safe_dump(value, allow_unicode=True)
    document, found = read_document(text, "f.yaml")
    quick = load_plain(text)
    if document is None:
        assert quick is None
        assert [one.code for one in found] == ["empty"]
    else:
        assert repr(quick) == repr(document.data)


@given(st.text(alphabet=st.sampled_from("ab:-[]{}'\"#&*!|>?%@`, \n\t\r.1~<\\\x00\xa0é"), max_size=60))
def test_any_text_is_read_or_refused_with_places_in_it(text):
    document, found = read_document(text, "f.yaml")
    assert (document is None) == bool(found)
    for one in found:
        assert 1 <= one.where.line <= text.count("\n") + text.count("\r") + 1
        assert one.where.column >= 1


@pytest.mark.parametrize(
    ("encoding", "named"),
    [("utf-16-le", "UTF-16"), ("utf-16-be", "UTF-16"), ("utf-32-le", "UTF-32"), ("utf-32-be", "UTF-32")],
)
def test_a_file_in_a_wide_encoding_is_called_by_its_name(encoding, named):
    text, found = decode("\ufeffbarkwright: 1\n".encode(encoding), "site.yaml")
    assert text is None
    assert [one.message for one in found] == [f"the file is {named}, not UTF-8"]
