"""The quotation as a page: what a client reads, what only the contractor sees, and names that would break it."""

import json
import re
from decimal import Decimal
from functools import cache

import jsonschema
import pytest
from click.testing import CliRunner
from quote_sites import EXAMPLES, plan_of, quote_of, text_of

from barkwright.cli.main import main
from barkwright.output import schema as schemas
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.order_json import order_result
from barkwright.output.quote import quote_page
from barkwright.output.quote_json import quote_result
from barkwright.output.view import View

THREE = str(EXAMPLES / "quote-three-trees.yaml")
TWO_PAGES = 2 * 66  # lines of a page at six to the inch on Letter
HOSTILE = [
    "<script>alert(1)</script>",
    "=cmd()",
    "\u202eright to left",
    "x" * 200,
    "Еловая улица",
    "ᐊᐢᑭᕀ ᓰᐱᕀ",
]


def view_of(plan, metric=False):
    return View(plan, Units(metric), "site.yaml")


def page_of(quote, build_up=False, metric=False):
    return render(quote_page(quote, view_of(quote.plan, metric), build_up))


@cache
def printed(*arguments):
    result = CliRunner().invoke(main, [*arguments, "--on", "2026-11-25"])
    assert result.exit_code in (0, 4), result.output
    return result.stdout


def test_three_trees_fit_two_pages_and_can_be_signed():
    text = page_of(quote_of())
    assert text.startswith("QUOTATION 2026-118: ")
    assert len(text.splitlines()) <= TWO_PAGES
    assert "Signed" in text
    assert "ESTIMATE" not in text


def test_an_estimate_says_so_and_has_no_lines_to_sign():
    text = page_of(quote_of(("client: {name: Odalys Brandt, ", "client: {")))
    assert text.startswith("ESTIMATE 2026-118: ")
    assert "for whom the work is done" in text
    assert "Signed" not in text
    assert "___" not in text
    assert "deposit on acceptance" not in text


def test_the_clients_sheet_holds_no_line_of_the_build_up():
    client, own = page_of(quote_of()), page_of(quote_of(), build_up=True)
    assert own.startswith(client.rstrip("\n"))
    secret = own[len(client.rstrip("\n")) :]
    for word in ("overhead", "contingency", "profit, as a margin", "DIRECT COST", "person-hours"):
        assert word in secret
        assert word not in client
    assert "not for the client" in secret.lower()


@pytest.mark.parametrize(
    "said",
    [
        "12.2 in", "International", "Scribner", "2,046.36", "GST, 5 % of the price", "Finished by", "dead",
        "neighbour's ground", "CAD 5,000,000", "certified arborist", "Fri 25 Dec 2026", "got and paid by the client",
        "metal or wire in the wood", "0.5 ft high", "breast height (4.5 ft)", "septic field",
    ],
)  # fmt: skip
def test_what_a_careful_quotation_carries(said):
    assert said in page_of(quote_of()).replace("\n             ", " ")


def test_only_what_the_contractor_filled_in_is_printed():
    text = page_of(quote_of(name="removal-24"))
    for label in ("Licence", "Standards"):
        assert not re.search(rf"^{label} ", text, re.MULTILINE)
    assert re.search(r"^Insurance ", text, re.MULTILINE)


def test_metric_pages_name_no_inch_or_foot_of_ours():
    text = page_of(quote_of(), metric=True)
    own = ("in the ground", "8 in below", "9 ft wide")  # the contractor's own words are not touched
    for words in own:
        text = text.replace(words, "")
    assert not re.search(r"\d (in|ft|sq ft|lb)\b", text)


def test_what_is_not_stopped_is_said_on_the_page():
    text = page_of(quote_of(("calendar: {start: 2027-01-11}", "calendar: {start: 2028-06-20}")))
    assert "WHAT IS NOT STOPPED" in text


def test_nothing_to_quote_is_a_page_of_its_own():
    text = printed("quote", str(EXAMPLES / "woodlot-60.yaml"))
    assert text.startswith("NO QUOTATION: ")
    assert "0.00" not in text


def test_alternatives_are_priced_by_the_same_build_up():
    plain = json.loads(printed("quote", THREE, "--format", "json"))["result"]
    tried = json.loads(printed("quote", THREE, "--try", "forbid chip", "--format", "json"))["result"]
    (other,) = tried["alternatives"]
    assert tried["price"] == plain["price"]
    wish = ("wishes: {keep_sawlogs: true}", "wishes: {keep_sawlogs: true, avoid: [chip]}")
    assert Decimal(other["price"]) == quote_of(wish).built.price
    assert Decimal(other["total"]) == quote_of(wish).built.total
    assert Decimal(other["price"]) != Decimal(plain["price"])


@pytest.mark.parametrize("name", ["quote-three-trees", "removal-24", "yard-tree"])
def test_json_has_the_shape_of_its_schema_and_the_orders_quantities(name):
    whole = json.loads(printed("quote", str(EXAMPLES / f"{name}.yaml"), "--format", "json"))
    jsonschema.validate(whole, schemas.schema("quote"))
    quote, order = whole["result"], json.loads(printed("order", str(EXAMPLES / f"{name}.yaml"), "--format", "json"))
    order = order["result"]
    paid = [line["amount"] for line in order["cost"]["lines"] if line["paid"]]
    assert [line["amount"] for line in quote["build_up"]["lines"] if line["kind"] == "paid"] == paid
    assert sum(Decimal(line["amount"]) for line in quote["lines"]) == Decimal(quote["price"])
    assert {piece for tree in quote["trees"] for one in tree["offered"] for piece in one["pieces"]} == {
        piece["id"] for piece in order["pieces"]
    }
    assert {piece for tree in quote["trees"] for piece in tree["not_stopped"]} == {
        piece for unmet in order["unmet"] for piece in unmet["pieces"]
    }


def test_board_feet_are_those_that_the_plan_counts():
    plan = plan_of()
    quote = quote_result(quote_of(), view_of(plan))
    counted = sum(
        plan.work.yields(tree.tree, piece, way).sawlog_bf
        for tree in plan.work.trees
        for piece, _, ways in tree.pieces()
        for way in ways
        if way.id == view_of(plan).choices[piece.id].way
    )
    assert sum(log["international_quarter_inch_bf"] for tree in quote["trees"] for log in tree["saw_logs"]) == counted
    assert order_result(plan)["currency"] == quote["currency"]


@pytest.mark.parametrize("form", ["text", "markdown", "html", "json"])
def test_hostile_names_are_text_in_every_form(form, tmp_path):
    result = _run(tmp_path, HOSTILE, form)
    assert result.exit_code == 0, result.output
    assert "<script>alert" not in (result.stdout if form == "html" else "")
    if form == "text":
        assert all(len(line) <= 80 for line in result.stdout.splitlines())
        assert all(char.isprintable() for char in result.stdout.replace("\n", ""))
    if form == "json":
        whole = json.loads(result.stdout)
        jsonschema.validate(whole, schemas.schema("quote"))
        assert [one["what"] for one in whole["result"]["options"]] == HOSTILE
    else:
        assert "=cmd()" in result.stdout
        assert HOSTILE[-1] in result.stdout


def test_a_control_character_never_reaches_the_page(tmp_path):
    result = _run(tmp_path, ["bell \\a and escape \\e[31m"], "text")
    assert not {"\a", "\x1b"} & set(result.stdout)


def _run(folder, names, form):
    """The quotation of the example with names of a file that means no good, in every place that takes free text."""
    quoted = [f'"{name}"' for name in names]
    changes = [
        ("client: {name: Odalys Brandt", f"client: {{name: {quoted[0]}"),
        ("  name: Fennimore Tree Care", f"  name: {quoted[-1]}"),
        ("{name: GST,", f"{{name: {quoted[0]},"),
        ("    - {what: grind the three stumps 8 in below the ground, price: 390}\n", ""),
        (
            "    - {what: take the chips away, price: 160}",
            "\n".join(f"    - {{what: {one}, price: 1}}" for one in quoted),
        ),
        ("terms: [interest of 1 % a month on late payment]", f"terms: [{', '.join(quoted)}]"),
        ("protect: [shed roof, septic field behind the house]", f"protect: [{', '.join(quoted)}]"),
    ]
    site = folder / "site.yaml"
    site.write_text(text_of(*changes), encoding="utf-8")
    return CliRunner().invoke(main, ["quote", str(site), "--on", "2026-11-25", "--format", form])
