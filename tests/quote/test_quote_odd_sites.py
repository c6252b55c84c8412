"""Quotations of sites where little or nothing is done, of stumps alone, and of dates that have passed."""

import re
from dataclasses import replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from quote_sites import NAMES

from barkwright.inventory.reading import read_inventory
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.order import order_page
from barkwright.output.order_late import of_these
from barkwright.output.quote import quote_page
from barkwright.output.quote_json import quote_result
from barkwright.output.view import View
from barkwright.plan import plan_order
from barkwright.quote.quotation import quotation_of
from barkwright.schedule.jobs import Unmet
from barkwright.treatment.local import rule_book

HEAD = "site: {name: Lot, units: metric, latitude: 53, longitude: -122.4, region: interior-plateau}"
CLEAR = "near: {line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}"
SEEN = "found: {insect: spruce-beetle, stages: [adults], looked: [base, sunny, shaded], exit_holes: none, seen: DAY}"
CREW = "crew: [{name: us, people: 2, hours_per_day: 6, rate: 30, skills: [saw, felling]}]"
SAWS = "equipment: [{kind: chain-saw, owned: true, cost_per_hour: 2}]"
AUTUMN, FLYING = date(2026, 11, 25), date(2027, 6, 10)


def quoted(*trees, on=AUTUMN, crew=CREW, more=()):
    lines = ["barkwright: 1", HEAD, "trees:", *(f"  - {{{tree}}}" for tree in trees), crew, SAWS, *more]
    inventory, found = read_inventory("\n".join(lines), "site.yaml", on, NAMES)
    assert inventory is not None, found
    return quotation_of(plan_order(inventory, on))


def said(quote):
    """The page as one line, with the blanks of its layout taken out."""
    return " ".join(render(quote_page(quote, view_of(quote))).split())


def view_of(quote, metric=True):
    return View(quote.plan, Units(metric), "site.yaml")


def test_a_look_that_is_priced_is_in_the_scope():
    quote = quoted(f"id: P, species: white, dbh: 40, attacked: 2026, attack: pitched-out, {CLEAR}")
    assert [line.tree for line in quote.lines] == ["P"]
    assert "We look under the bark of P on Wed 25 Nov 2026; nothing else is done to it." in said(quote)
    assert quote_result(quote, view_of(quote))["trees"][0]["look_on"] == "2026-11-25"


def test_a_tree_that_nobody_looks_at_has_nothing_done_to_it():
    trees = (
        f"id: {name}, species: white, dbh: 40, attacked: {year}, {CLEAR}"
        for name, year in (("H", "never"), ("A", 2026))
    )
    quote = quoted(*trees)
    assert "H: nothing is done to it." in said(quote)
    assert "Look We look under the bark on Wed 25 Nov 2026." in said(quote)  # of A, which is felled too


def test_a_tree_that_is_not_felled_has_no_words_about_felling():
    tree = f"id: A, species: white, dbh: 40, height: 22, attacked: 2025, {CLEAR}, {SEEN.replace('DAY', '2027-05-12')}"
    stump = "id: S, species: white, status: stump, diameter: 40, height: 0.3, attacked: 2026"
    text = said(quoted(tree, stump, on=FLYING))
    assert "It stays standing in this plan." in text
    assert "Felled by" not in text


def test_where_nothing_needs_doing_the_sheet_says_that():
    text = said(quoted(f"id: H, species: white, dbh: 40, attacked: never, {CLEAR}"))
    assert "Nothing needs doing against beetles on this site" in text
    assert "paid" not in text


def test_where_nothing_is_planned_nobody_is_called_unpaid():
    tree = f"id: A, species: white, dbh: 40, height: 22, attacked: 2025, {CLEAR}, {SEEN.replace('DAY', '2027-05-12')}"
    text = said(quoted(tree, on=FLYING))
    assert "No work is planned here" in text
    assert "paid" not in text


def test_where_the_hands_are_unpaid_the_sheet_says_that():
    text = said(quoted("id: S, species: white, status: stump, diameter: 40, height: 0.3, attacked: 2026",
                       crew=CREW.replace("rate: 30", "unpaid: true")))  # fmt: skip
    assert "Nobody who works here is paid" in text


def test_many_trees_that_wait_for_a_price_are_counted():
    near = CLEAR.replace("building: out-of-reach", "building: 4")
    trees = [f"id: N{n}, species: white, dbh: 40, height: 22, attacked: 2026, {near}" for n in range(1, 7)]
    quote = quoted(*trees)
    text = next(one.text for one in quote.shortfalls if one.code == "no-price")
    assert "tree service for 6 trees;" in text
    order = " ".join(render(order_page(quote.plan, Units(True), "site.yaml")).split())
    assert "tree service for N" not in order
    assert order.count("tree service for 6 trees") >= 2  # at a glance, and of what it rests on
    few = quoted(*trees[:2])
    assert "tree service for N1 and N2;" in next(one.text for one in few.shortfalls if one.code == "no-price")


def test_pieces_in_a_reason_are_named_shortly():
    pieces = tuple(f"T/{n}" for n in range(1, 11))
    unmet = Unmet(
        "T", (*pieces, "T/stump"), 90.0, f"No way that is open here stops all the brood of {', '.join(pieces)}.", ""
    )
    assert of_these(unmet.why, unmet) == "No way that is open here stops all the brood of T logs 1-10."
    plan = quoted("id: T, species: white, dbh: 40, height: 22, attacked: 2026, " + CLEAR).plan
    quote = quotation_of(replace(plan, schedule=replace(plan.schedule, unmet=(unmet,))))
    assert (
        "T logs 1-10 and stump: 8.4 m2 of infested bark. No way that is open here stops all the brood of T logs 1-10."
        in said(quote)
    )


def test_stumps_are_measured_at_the_cut():
    stumps = [f"id: S{n}, species: white, status: stump, diameter: 40, height: 0.3, attacked: 2026" for n in (1, 2)]
    quote = quoted(*stumps)
    page = render(quote_page(quote, view_of(quote)))
    text = " ".join(page.split())
    assert "2 stumps, white spruce - finished" in text
    assert "Diameters are over the bark, of stumps at the cut, as given to us." in text
    assert re.search(r"^ *Stump +Across, at the cut$", page, re.MULTILINE)  # no empty columns beside them
    assert [line.what for line in quote.lines] == ["stump S1", "stump S2"]
    mixed = said(quoted(*stumps, f"id: A, species: white, dbh: 40, height: 22, attacked: 2026, {CLEAR}"))
    assert "at 1.4 m above the ground where the tree stands, of stumps at the cut, as given" in mixed
    assert "Stump Where Across" in said(quoted(stumps[0] + ", where: by the gate", stumps[1]))


def test_one_log_is_one_and_a_stump_of_no_height_is_level():
    log = "id: L, species: white, status: logs, felled_on: 2026-10-01, attacked: 2026"
    assert "Size 1 log, measured: 40 to 30 cm, 4.0 m" in said(
        quoted(f"{log}, logs: [{{butt: 40, top: 30, length: 4}}]")
    )
    tree = f"id: A, species: white, dbh: 40, height: 22, attacked: 2026, {CLEAR}"
    assert "The stump is cut level with the ground." in said(quoted(tree, more=["cutting: {stump_height: 0}"]))
    assert "The stump is left 0.2 m high." in said(quoted(tree, more=["cutting: {stump_height: 0.2}"]))


def test_green_wood_is_not_told_of_a_day_that_has_passed():
    tree = "id: W, species: white, status: windthrown, dbh: 40, height: 22, down_since: 2026-10-01, attacked: never"
    before, during = (drawn(quoted(tree, on=on).plan) for on in (AUTUMN, FLYING))
    assert any("draws the flight of 21 May 2027: deal with it before then" in text for text in before)
    assert during
    assert all("the flight that began on 21 May 2027: deal with it as soon as you can" in text for text in during)


def drawn(plan):
    """Reasons that the lowest log of a green tree on the ground draws beetles, if it is left."""
    windows = (window for way in plan.ways["W/1"] if way.method == "leave" for window in way.windows)
    return {reason.because for window in windows for reason in window.reasons if "it draws" in reason.because}


def test_money_without_a_smaller_unit_has_no_decimals():
    stumps = [f"id: S{n}, species: white, status: stump, diameter: 40, height: 0.3, attacked: 2026" for n in (1, 2, 3)]
    terms = "quote: {markup_percent: 12.5, overhead_percent: 3, tax: [{name: VAT, percent: 10}], deposit_percent: 30}"
    quote = quoted(*stumps, crew=CREW.replace("rate: 30", "rate: 2775"), more=["currency: JPY", terms])
    built = quote.built
    lines = [*built.direct_lines, built.overhead, built.contingency, built.profit, *built.taxes, built.deposit]
    assert all(amount == int(amount) for amount in (line.amount for line in (*lines, *quote.lines)))
    assert sum(line.amount for line in quote.lines) == built.price
    assert built.overhead.amount == (built.direct * 3 / 100).quantize(Decimal(1), ROUND_HALF_UP)
    page = render(quote_page(quote, view_of(quote), build_up=True))
    assert f"{built.total:,}" in page
    assert not re.search(r"\d\.\d\d(?! person-hours| hours)", page)
    assert "JPY 2,775 an hour" in page
    crowns = quoted(*stumps, more=["currency: NOK", terms])
    assert re.search(r"^PRICE before tax +\d+\.\d\d$", render(quote_page(crowns, view_of(crowns))), re.MULTILINE)


def test_hours_times_the_rate_is_the_amount():
    stumps = [
        f"id: S{n}, species: white, status: stump, diameter: {30 + n}, height: 0.3, attacked: 2026" for n in (1, 2, 3)
    ]
    quote = quoted(*stumps, crew=CREW.replace("rate: 30", "rate: 10000"))
    labour = next(line for line in quote.built.direct_lines if line.kind == "paid")
    assert labour.name == "us, at USD 10,000.00 an hour"
    assert Decimal(labour.basis.removesuffix(" person-hours")) * 10000 == labour.amount
    assert {line.part for line in quote.lines} == {"tree"}  # no work on the site but what rounding makes


def test_notes_of_a_metric_file_are_in_the_readers_units():
    plan = quoted(f"id: T, species: white, dbh: 200, height: 40, attacked: 2026, {CLEAR}").plan
    imperial, metric = (" ".join(render(order_page(plan, Units(one), "s.yaml")).split()) for one in (False, True))
    assert re.search(r"made from trees of [\d.]+ in to [\d.]+ in", imperial)
    assert re.search(r"made from trees of \d+ cm to \d+ cm", metric)


def test_what_was_not_measured_is_asked_in_one_phrase():
    text = said(quoted("id: T, species: white, dbh: 40, height: 22, attacked: 2026"))
    assert "is the nearest power line, building, road and neighbour's ground?" in text


def test_no_rule_names_a_length_that_pages_cannot_turn_metric():
    said_by = [rule.because for rule in rule_book(()).rules]
    assert len(said_by) > 100
    assert not [text for text in said_by if re.search(r"\b(a|one|two) (mile|foot|inch|yard)\b", text)]
