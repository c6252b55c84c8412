"""The section on what changes since an earlier order, on every form of the page and as JSON."""

import json
from datetime import timedelta
from functools import cache
from pathlib import Path

from jsonschema import Draft202012Validator
from lost_weeks import again
from made_sites import ON, site_text

from barkwright.output import html, layout, markdown
from barkwright.output.changes_json import since_record
from barkwright.output.measures import Units
from barkwright.output.order import order_page
from barkwright.output.order_changes import changes_section
from barkwright.output.order_json import order_result
from barkwright.output.view import View
from barkwright.plan import Plan


@cache
def lost() -> tuple[Plan, Plan]:
    return again(site_text(3, 3), ON + timedelta(days=7), 7)


def test_a_first_order_has_no_such_section() -> None:
    first, _ = lost()
    assert changes_section(View(first, Units(), ""), ()) is None
    assert "since" not in order_result(first)


def test_nothing_changed_is_one_line() -> None:
    _, same = again(site_text(3, 3), ON, 0)
    section = changes_section(View(same, Units(), ""), same.changed)
    assert section is not None
    assert section.heading == "Since the order of Tue 20 Oct 2026"
    assert len(section.blocks) == 1


def test_every_form_says_what_moves_and_why() -> None:
    _, second = lost()
    page = order_page(second, Units(), "x.yaml")
    for form in (layout, markdown, html):
        flat = " ".join(form.render(page).split())
        assert "its day has passed, and it is not recorded as done" in flat
        assert "2026-10-2" not in flat, "dates are said as on the rest of the page"
        assert "in place of Tue 27 Oct 2026" in flat


def test_the_record_follows_its_schema() -> None:
    _, second = lost()
    assert second.since is not None
    schema = json.loads((Path(__file__).parents[2] / "shared" / "order.schema.json").read_text(encoding="utf-8"))
    since = {"$ref": "#/$defs/SinceRecord", "$defs": schema["$defs"]}
    record = since_record(second.since, second.changed)
    Draft202012Validator(since).validate(record)
    assert len(record["changes"]) == len(second.changed) > 0
