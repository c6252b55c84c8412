"""The example of a real quotation, and the same with lines of its file changed."""

from datetime import date
from pathlib import Path

from barkwright.quote.quotation import quotation_of
from planned_sites import planned

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = date(2026, 11, 25)
NAMES = {"region": ("interior-plateau", "central-rockies")}


def text_of(*changes, name="quote-three-trees"):
    """The example's text with (old, new) changes, each of which has to be found."""
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def plan_of(*changes, name="quote-three-trees"):
    return planned(text_of(*changes, name=name), ON)


def quote_of(*changes, name="quote-three-trees"):
    return quotation_of(plan_of(*changes, name=name))
