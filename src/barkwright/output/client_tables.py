"""Tables for a spreadsheet: the options side by side, and the amounts of a quotation."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from barkwright.output.options_json import options_result
from barkwright.output.quote_json import quote_result
from barkwright.output.tables_file import Cell, csv_text

if TYPE_CHECKING:
    from barkwright.output.json_options import CourseRecord
    from barkwright.output.view import View
    from barkwright.plan import Plan
    from barkwright.quote.quotation import Quotation
    from barkwright.study.sides import Sides

COURSE = ("course", "title", "fit", "planned", "stops", "opens", "begin_by", "begin_by_usual_pace", "people_at_once")
MONEY = ("to_pay_low", "to_pay", "to_pay_high", "unpaid_worth")
QUOTED = ("part", "tree", "what", "amount", "currency", "unpriced")


def options_csv(plan: Plan, sides: Sides) -> str:
    """A row per course, in the order of the sheet; names and numbers as in JSON."""
    result = options_result(plan, sides)
    rows = [_course(one, result["currency"]) for one in result["courses"]]
    return csv_text(tuple(rows[0]) if rows else (*COURSE,), rows)


def _course(record: CourseRecord, currency: str) -> dict[str, Cell]:
    cost = record["cost"]
    paid = {name: Decimal(cost[name]) if cost is not None else None for name in MONEY}  # type: ignore[literal-required]
    left: dict[str, Cell] = {name: float(value) for name, value in record["left_over"].items()}  # type: ignore[arg-type]
    return {
        **{name: record[name] for name in COURSE},  # type: ignore[literal-required]
        "missing": "; ".join(record["missing"]),
        "hours_low": record["hours"]["low"],
        "hours_mean": record["hours_mean"],
        "hours_high": record["hours"]["high"],
        "days_low": record["days_low"],
        "days_high": record["days_high"],
        **paid,
        "currency": currency,
        "unpriced": "" if cost is None else "; ".join(cost["unpriced"]),
        **left,
        "barred_by": "; ".join(one["reason"]["because"] for one in record["barred"]),
    }


def quote_csv(quote: Quotation, view: View) -> str:
    """The price lines, the price, each tax and the total of a quotation; options priced apart after them."""
    result = quote_result(quote, view)
    currency = result["currency"]
    rows = [
        _amount(line["part"], line["tree"], line["what"], line["amount"], currency, line["unpriced"])
        for line in result["lines"]
    ]
    rows.append(_amount("price", None, "price before tax", result["price"], currency, result["at_least"]))
    rows += [_amount("tax", None, tax["name"], tax["amount"], currency) for tax in result["taxes"]]
    rows.append(_amount("total", None, "total with tax", result["total"], currency, result["at_least"]))
    rows += [_amount("option", None, one["what"], one["price"], currency) for one in result["options"]]
    if (look := result["look_again"]) is not None:
        rows.append(_amount("option", None, f"look again after the flight, {look['first']}", look["price"], currency))
    return csv_text(QUOTED, rows)


def _amount(
    part: str, tree: str | None, what: str, amount: str, currency: str, unpriced: bool = False
) -> dict[str, Cell]:
    """A row; `unpriced`: part of it has no price yet, so the amount is too low."""
    money: dict[str, Cell] = {"amount": Decimal(amount), "currency": currency, "unpriced": unpriced}
    return {"part": part, "tree": tree, "what": what, **money}
