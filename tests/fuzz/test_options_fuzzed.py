"""Options and answers are words from outside like any file: read or refused, never a fault of the program."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from material import ODDITIES, examples
from readers import READERS, read_options
from watch import soon

from barkwright.cli.tree import OPTIONS

USUAL = {
    "species": "white", "latitude": "53.1", "longitude": "-122.4", "dbh": "16.5", "status": "standing",
    "attacked": "2026", "people": "2", "hours_per_day": "6", "days": "sat,sun", "skills": "saw",
}  # fmt: skip
WORDS = (
    "white", "42 cm", "72", "standing", "stump", "logs", "windthrown", "unknown", "never", "mass", "larvae,adults",
    "base,sunny", "none", "green", "2026-10-20", "line=35ft", "line=out-of-reach", "lean", "crane,6,900", "true",
    "14.2,12.9,8,x2", "interior-plateau", "metric", "weather", "60 ft", "held", "2026-10-15..2027-03-31", "0",
    "sat,sun",
    "saw,felling", "38", "drawknife", "chipper 9 in takes 7 in 310/day 1100/week delivery 90 feed hand count 2", "1500",
    "CAD", "burn,bury", "split", "=", ",", "..", "/", "x=", "chipper from to takes",
)  # fmt: skip
NAMES = {names[0].removeprefix("--").partition("/")[0].replace("-", "_"): said for names, said in OPTIONS}
VALUE = (st.sampled_from(WORDS) | ODDITIES).map(lambda text: text.replace("\0", ""))


@st.composite
def answers(draw):
    """Some options of `tree` with values that fit, that fit another option, or that fit nothing."""
    given_ = {name: () if said.get("multiple") else None for name, said in NAMES.items()} | USUAL
    for name in draw(st.lists(st.sampled_from(sorted(NAMES)), max_size=6)):
        if "default" in NAMES[name] and NAMES[name]["default"] is None:
            given_[name] = draw(st.sampled_from((True, False, None)))
        elif NAMES[name].get("multiple"):
            given_[name] = tuple(draw(st.lists(VALUE, max_size=3)))
        else:
            given_[name] = draw(VALUE)
    return given_


@examples(150)
@given(answers())
def test_the_options_of_a_tree_make_an_inventory_or_are_refused(given_):
    with soon(given_):
        read_options(given_)


@examples(100)
@given(st.lists(VALUE, min_size=1, max_size=4).map(" ".join))
def test_what_may_be_tried_is_understood_or_refused(phrase):
    with soon(phrase):
        READERS["try"](phrase.encode("utf-8", "replace"))
