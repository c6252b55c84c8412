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
        "12.2 in", "International", "Scribner", "2,046.46", "GST, 5 % of the price", "finished by", "dead",
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


# ---- what readers with the sheet in hand asked ----------------------------------------------------------------------


def flat(text):
    return re.sub(r"\s+", " ", text)


def card_of(text, tree):
    """The card of one tree, from its title to the next."""
    return flat(re.search(rf"^{tree}[ :,].*?(?=^[A-Z]\d* ?[(:,]|\Z)", text, re.MULTILINE | re.DOTALL)[0])


def test_what_nobody_looked_at_is_assumed_and_not_found():
    text = page_of(quote_of(name="removal-24"))
    for tree in ("U1", "U2", "U3", "U4", "K1"):
        card = card_of(text, tree)
        assert "Assumed Nobody has looked under the bark: beetles likely, grown beetles, flying in 2027." in card
        assert "Found" not in card
    seen = "Found Larvae were seen at the base and on the sunny side; nobody has looked on the shaded side."
    assert seen in card_of(text, "S2")
    assert "Found Beetles likely, grown beetles, flying in 2027." in card_of(text, "C1")
    assert "Assumed" not in card_of(text, "C1") + page_of(quote_of())


def test_a_tree_whose_taking_down_has_no_price_is_marked_and_the_sum_is_a_least():
    quote = quote_of(name="removal-24")
    text = page_of(quote)
    assert sorted(re.findall(r"tree (\w+),.* \* [\d,.]+$", text, re.MULTILINE)) == ["C1", "C2", "C3"]
    assert "PRICE, AT LEAST" in text
    assert "* Without taking it down: that has no price yet." in text
    assert re.search(r"^What +Estimate$", text, re.MULTILINE)
    result = quote_result(quote, view_of(quote.plan))
    assert result["at_least"]
    assert [line["tree"] for line in result["lines"] if line["unpriced"]] == ["C1", "C2", "C3"]
    sure = page_of(quote_of())
    assert "AT LEAST" not in sure
    assert " * " not in sure
    assert re.search(r"^What +Amount$", sure, re.MULTILINE)


def test_a_crew_that_has_not_said_its_hours_leaves_a_tree_unpriced():
    quote = quote_of(("    removal: {by: dismantle, hours: 7}\n", ""))
    assert [line.tree for line in quote.lines if line.unpriced] == ["B"]
    assert quote.at_least


def test_a_price_from_outside_is_a_price():
    quote = quote_of((", climbing", ""), ("hours: 7}", "hours: 7, price: 900}"))
    assert not any(line.unpriced for line in quote.lines)
    assert not quote.at_least


def test_the_look_after_the_flight_is_offered_by_the_same_build_up():
    quote = quote_of()
    job = next(job for job in quote.plan.schedule.jobs if job.work == "look again")
    hours, spread = Decimal(str(job.hours)), Decimal(str(job.hours_high - job.hours_low))
    labour = (hours * 44).quantize(Decimal("0.01"))
    direct = labour * Decimal("1.28")
    cost = direct * Decimal("1.12") + spread / 6 * 44 * Decimal("1.28")
    assert float(quote.look.price) == pytest.approx(float(cost / Decimal("0.85")), abs=0.03)
    text = flat(page_of(quote))
    assert f"[ ] look again after the flight, Mon 12 Jul 2027, about 40 min of work {quote.look.price}" in text
    assert "Looking again after the beetles' flight, which is advised and is priced apart above" in text
    assert quote_result(quote, view_of(quote.plan))["look_again"]["price"] == str(quote.look.price)
    without = quote_of(("    - {what: grind the three stumps 8 in below the ground, price: 390}\n", ""),
                       ("    - {what: take the chips away, price: 160}\n", ""), ("  options:\n", ""))  # fmt: skip
    assert "with the options ticked above" in flat(page_of(without))


def test_a_look_that_nobody_paid_does_is_left_out_of_the_price_as_before():
    quote = quote_of(("rate: 44}", "}"))
    assert quote.look is None
    assert "Looking again after the beetles' flight, which is advised - Trees" in flat(page_of(quote))


def test_diameters_are_the_contractors_own_where_he_inspected():
    assert "as measured on 12 November 2026." in flat(page_of(quote_of()))
    for change in (("  inspected_on: 2026-11-12\n", ""), ("  inspected_by: Rufus Fennimore\n", "")):
        assert "as given to us." in flat(page_of(quote_of(change)))


def test_the_client_is_told_when_and_why_so_soon():
    text = flat(page_of(quote_of()))
    day = r"\w{3} \d+( \w{3})?( 20\d\d)?"
    told = rf"Felled and cut up {day}( - {day})?; chipped {day}( - {day})?; stripped \w{{3}} \d+ May 2027;"
    assert re.search(told, text)
    assert "until then the logs lie with their bark on" in text
    assert "Wood whose beetles fly in 2028 is due before Fri 21 May 2027 all the same" in text
    removal = flat(page_of(quote_of(name="removal-24")))
    assert "Wood whose beetles fly in 2028 is due before Tue 1 Jun 2027 all the same" in removal
    assert "until then the logs lie" not in removal  # chips of the butts come last there
    grown = ("stages: [larvae]", "stages: [adults]"), ("attacked: 2026", "attacked: 2025")
    assert "all the same" not in flat(page_of(quote_of(*grown)))


def test_a_date_that_all_pieces_share_stands_once_in_the_title():
    text = page_of(quote_of())
    assert text.count("inished by Thu 20 May 2027") == 1
    assert flat(text).count("inished by Thu 20 May 2027") == 2  # one for A and C, one for B
    assert "It becomes chips." not in text
    assert "It is kept as a saw log." in text


def test_words_of_the_trade_are_explained_and_measured_logs_have_their_sizes():
    text = flat(page_of(quote_of(name="removal-24")))
    assert "The thick butt of a log is its lower end, where that is too thick for the chipper." in text
    assert "3 logs, measured: 16.4 to 14.8 in, 8 ft; 14.8 to 12.6 in, 8 ft; 12.6 to 9.9 in, 8 ft" in text
    assert "thick butt" not in page_of(quote_of())
    assert "customary ways of estimating what is sawn" in flat(page_of(quote_of()))


def test_an_arborist_does_not_send_his_client_to_an_arborist():
    text = flat(page_of(quote_of(name="removal-24")))
    assert "We can inspect it as a hazard, price on request" in text
    assert "ask an arborist" not in text
