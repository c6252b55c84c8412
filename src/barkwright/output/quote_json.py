"""The records of a quotation."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from barkwright.output.json_basics import iso, near, site_record
from barkwright.output.json_quote import (
    AlternativeRecord,
    BuildLineRecord,
    ContractorRecord,
    LookRecord,
    OfferedTreeRecord,
    QuoteResult,
)
from barkwright.output.json_records import question_record
from barkwright.output.order_pieces import fates
from barkwright.output.own_words import plan_lines
from barkwright.output.view import View
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.quote.buildup import BuildLine
    from barkwright.quote.look import PricedLook
    from barkwright.quote.quotation import Alternative, Quotation
    from barkwright.quote.scope import TreeScope


def quote_result(quote: Quotation, view: View) -> QuoteResult:
    """The quotation as plain data, the build-up with it."""
    inventory, built, terms = quote.plan.inventory, quote.built, quote.plan.inventory.quote
    client = inventory.client
    return {
        "site": site_record(inventory.site),
        "currency": inventory.currency,
        "local": list(plan_lines(view)),
        "kind": quote.kind,
        "number": terms.number,
        "shortfalls": [{"code": one.code, "text": one.text, "how": one.how} for one in quote.shortfalls],
        "questions": [question_record(one) for one in view.questions if one.code in quote.open],
        "client": {"name": client.name, "address": client.address, "phone": client.phone, "email": client.email},
        "contractor": _contractor(quote),
        "inspected_on": iso(terms.inspected_on),
        "valid_until": quote.valid_until.isoformat(),
        "work_from": iso(quote.window[0] if quote.window else None),
        "work_to": iso(quote.window[1] if quote.window else None),
        "lines": [
            {
                "part": line.part,
                "tree": line.tree,
                "what": line.what,
                "amount": _money(line.amount),
                "unpriced": line.unpriced,
            }
            for line in quote.lines
        ],
        "price": _money(built.price),
        "at_least": quote.at_least,
        "taxes": [_line(tax) for tax in built.taxes],
        "total": _money(built.total),
        "deposit": _money(built.deposit.amount),
        "balance": _money(built.balance),
        "build_up": {
            "lines": [_line(one) for one in (*built.direct_lines, built.overhead, built.contingency, built.profit)],
            "direct": _money(built.direct),
            "cost": _money(built.cost),
        },
        "options": [{"what": one.what, "price": _money(one.price)} for one in terms.options],
        "look_again": _look(quote.look),
        "alternatives": [_alternative(one) for one in quote.alternatives],
        "trees": [_tree(view, one) for one in quote.scope],
        "clauses": [{"id": one.id, "group": one.group, "text": one.text, "basis": one.basis} for one in quote.clauses],
        "exclusions": list(terms.exclusions),
        "terms": list(terms.terms),
    }


def _contractor(quote: Quotation) -> ContractorRecord:
    one = quote.plan.inventory.contractor
    return {
        "name": one.name,
        "address": one.address,
        "phone": one.phone,
        "email": one.email,
        "licence": one.licence,
        "liability": one.insurance.liability,
        "workers_compensation": one.insurance.workers_compensation,
        "standards": list(one.standards),
        "inspected_by": one.inspected_by,
        "credential": one.credential,
    }


def _line(line: BuildLine) -> BuildLineRecord:
    return {"kind": line.kind, "name": line.name, "basis": line.basis, "amount": _money(line.amount)}


def _look(look: PricedLook | None) -> LookRecord | None:
    if look is None:
        return None
    first, last = (when.isoformat() for when in (look.job.first, look.job.last))
    return {"first": first, "last": last, "hours": near(look.job.hours), "price": _money(look.price)}


def _alternative(one: Alternative) -> AlternativeRecord:
    return {
        "phrase": one.phrase,
        "title": one.title,
        "price": None if one.price is None else _money(one.price),
        "total": None if one.total is None else _money(one.total),
        "estimate": one.estimate,
        "infested_left_ft2": None if one.left_ft2 is None else near(one.left_ft2),
        "last": iso(one.last),
        "assumed": list(one.assumed),
    }


def _tree(view: View, one: TreeScope) -> OfferedTreeRecord:
    stem = view.stems[one.tree]
    return {
        "tree": one.tree,
        "needs_inspection": view.tree_broods[one.tree].needs_inspection,
        "dbh_in": None if stem.dbh_in is None else near(stem.dbh_in),
        "height_ft": None if stem.height_ft is None else near(stem.height_ft.likely),
        "height_estimated": stem.height_estimated,
        "felled": one.felled,
        "look_on": iso(one.look_on),
        "stump_ft": None if one.stump_ft is None else near(one.stump_ft),
        "line_ft": None if one.line_ft is None else near(one.line_ft),
        "boundary_ft": None if one.boundary_ft is None else near(one.boundary_ft),
        "offered": [
            {
                "pieces": [piece.id for piece in fate.pieces],
                "what": fate.what,
                "work": fate.work,
                "finish_by": iso(fate.by),
                "planned": iso(fate.done_on),
                "then": fate.then,
            }
            for fate in fates(view, one.tree)
        ],
        "saw_logs": [
            {
                "piece": log.piece,
                "small_end_dib_in": near(log.small_end_dib_in),
                "length_ft": near(log.length_ft),
                "international_quarter_inch_bf": log.international_bf,
                "scribner_decimal_c_bf": log.scribner_bf,
            }
            for log in one.saw_logs
        ],
        "not_stopped": list(one.misses),
    }


def _money(amount: Decimal) -> str:
    return str(half_up(amount, 2))
