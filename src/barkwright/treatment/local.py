"""The user's own rules: read from the files that the site names, proven, and laid over the shipped ones by id."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from pydantic import ValidationError

from barkwright.diagnostics import Diagnostic, Place
from barkwright.ownentry import MOST_ODD_KEYS, YOURS, too_many
from barkwright.ownfiles import Own, near, own_files
from barkwright.treatment.proof import Finding, contradictions, prove
from barkwright.treatment.rulebook import Outcome, OwnRuleRecord, Rulebook, RuleRecord, book, shipped, shipped_records
from barkwright.yamldoc import Document, Loc

MOST_FAULTS = 500  # told of the rules; ours
MOST_LISTED, MOST_LETTERS = 50, 2_000  # of one list and of one text of a rule; ours
STOPS = {"done": "all", "partial": "part", "not done": "none"}
FORMS = {  # what may stand under a key of a rule, where it is not one of a few words
    "methods": "a list of methods, like [chip, debark]", "ways": "a list of ways, like [debark-spud-burn-bark]",
    "bark": "a list, like [kept, dropped]", "tools": "a list of tools, like [chipper]",
    "does": "a list of steps, like [bury]", "when": "a list of conditions, like - {fact: day.adults, is: true}",
    "then": "a part with verdict, end or needs, like {verdict: ruled out}", "needs": "a list, like [ask-access]",
    "wish": "true or false, without quotes", "sources": 'a list of sources, like ["haack2000, abstract"]',
    "from": "a day, like 2026-10-31", "until": "a day, like 2026-10-31", "checked_on": "a day, like 2026-10-31",
    "region": "a list of regions, like [interior-plateau]",
}  # fmt: skip


@cache
def rule_book(local: tuple[str, ...] = ()) -> Rulebook:
    """The rulebook of a site: the shipped rules, and those in `local` (paths as they can be opened) added or in place.

    Of the files only `rules:` is read here. Faults become diagnostics of the book, those of the files as files among
    them, and a faulty rule is left out.
    """
    if not local:
        return shipped()
    files = own_files(local)
    found = list(files.diagnostics)
    own: dict[str, tuple[RuleRecord, Document, int]] = {}
    for document in files.documents:
        for number, record in _records(document, found):
            if record.id in own:
                _, other, first = own[record.id]
                found.append(_diagnostic(document, number, record.id, _taken(other.place(("rules", first)))))
            else:
                own[record.id] = (record, document, number)
    records = {one.id: one for one in shipped_records()} | {name: one[0] for name, one in own.items()}
    denied = contradictions(tuple(records.values()), own)
    for name, finding in denied:
        _, document, number = own[name]
        found.append(_diagnostic(document, number, name, finding))
    without = {name for name, _ in denied}
    made = book([one for one in records.values() if one.id not in without], frozenset(own))
    return Rulebook(made.templates, made.applies, made.rules, tuple(sorted(found, key=_by_place)))


def own_rules(local: tuple[str, ...]) -> tuple[Own, ...]:
    """The sound rules of the user's own, and the shipped ones that they take the place of."""
    told = {one.id: one for one in shipped_records()}
    sound = {one.id for one in rule_book(local).rules if one.local}
    found = []
    for document in own_files(local).documents:
        for number, record in _records(document, []):
            if record.id in sound:
                old = told.get(record.id)
                where, source = document.place(("rules", number)), _source(record)
                was, known = (None, None) if old is None else (_said(old), _source(old))
                found.append(Own("rules", record.id, record.title, source, where, _said(record), was, known))
    return tuple(found)


def _said(record: RuleRecord) -> str:
    """What a rule does, in a few words."""
    given = record.then.model_fields_set
    parts: list[str] = [record.then.verdict] if "verdict" in given else []
    parts += [f"stops {STOPS[record.then.end]} of the beetles"] if "end" in given else []
    return f"{', '.join(parts) or 'says only'}: {re.sub(r'{[^}]*}', '...', record.because)}"


def _source(record: RuleRecord) -> str:
    basis = YOURS if record.basis == "ours" and isinstance(record, OwnRuleRecord) else record.basis
    return record.source or "; ".join(record.sources) or basis or YOURS


def _taken(first: Place) -> Finding:
    message = f"this id is taken by the rule in line {first.line} of {first.file}"
    return Finding(("id",), "duplicate-id", message, "one id, one rule")


def _records(document: Document, found: list[Diagnostic]) -> list[tuple[int, RuleRecord]]:
    rules = document.data.get("rules") or []
    if not isinstance(rules, list):
        found.append(
            Diagnostic(
                "error",
                "odd-shape",
                "rules: is a list of rules",
                document.place(("rules",)),
                hint="begin each with - id:",
            )
        )
        return []
    if too_many(document, "rules", len(rules), found):
        return []
    good: list[tuple[int, RuleRecord]] = []
    seen: dict[str, int] = {}
    for number, written in enumerate(rules):
        if len(found) >= MOST_FAULTS:
            break
        endless = _endless(written)
        if endless is not None:
            message = f"rule {number + 1}: {endless} is longer than any rule needs"
            hint = f"at most {MOST_LISTED} entries, or {MOST_LETTERS:,} letters"
            found.append(Diagnostic("error", "too-large", message, document.place(("rules", number)), hint=hint))
            continue
        try:
            record = OwnRuleRecord.model_validate(written)
        except ValidationError as errors:
            found += [_shape(document, number, one) for one in errors.errors(include_url=False)[:MOST_ODD_KEYS]]
            continue
        findings = list(prove(record))
        if record.id in seen:
            findings.append(_taken(document.place(("rules", seen[record.id]))))
        seen.setdefault(record.id, number)
        found += [_diagnostic(document, number, record.id, one) for one in findings]
        if not findings:
            good.append((number, record))
    return good


def _endless(written: Any) -> str | None:
    """The key of a rule under which more stands than is looked through."""
    if not isinstance(written, dict):
        return None
    when = written.get("when")
    conditions = when if isinstance(when, list) else []
    for part in (written, written.get("then"), *conditions[:MOST_LISTED]):
        for key, value in part.items() if isinstance(part, dict) else ():
            most = MOST_LISTED if isinstance(value, list) else MOST_LETTERS
            if isinstance(value, list | str) and len(value) > most:
                return str(key)[:40]
    return None


def _diagnostic(document: Document, number: int, name: str, finding: Finding) -> Diagnostic:
    at: Loc = ("rules", number, *finding.at)
    where = document.key_place(at) if finding.key else document.place(at)
    node = document.node(at)
    value = node.text if node.kind == "scalar" else None
    return Diagnostic("error", finding.code, f"rule '{name}': {finding.message}", where, None, value, finding.hint)


def _shape(document: Document, number: int, error: Any) -> Diagnostic:
    """One of pydantic's errors in our words, at its place."""
    loc = tuple(error["loc"])
    at: Loc = ("rules", number, *loc)
    key = str(loc[-1]) if loc else "rule"
    place, value = document.place(at), document.written(at) or None
    known = _keys(loc)
    match error["type"]:
        case "extra_forbidden":
            return Diagnostic(
                "error",
                "unknown-key",
                f"unknown key '{key}' in a rule",
                document.key_place(at),
                None,
                key,
                near(key, known),
            )
        case "missing":
            return Diagnostic(
                "error", "missing-key", f"the rule has no {key}", document.place(at[:-1]), None, None, f"add {key}:"
            )
        case "literal_error":
            expected = error["ctx"]["expected"].replace("'", "").replace(" or ", ", ")
            hint = near(str(error["input"]), expected.split(", "))
            return Diagnostic(
                "error", "bad-choice", f"'{error['input']}' is not one of {expected}", place, None, value, hint
            )
        case _:
            node = document.node(at)
            written = f"'{node.text}'" if node.kind == "scalar" and node.text else f"a {node.kind}"
            name = next((str(step) for step in reversed(loc) if isinstance(step, str)), "rule")
            form = FORMS.get(name, "text" if name in known else "a rule with id, title, because and grade")
            message = f"{name}: {written} is not {form.partition(',')[0]}"
            return Diagnostic("error", "bad-value", message, place, None, value, f"write {form}")


def _keys(loc: tuple[int | str, ...]) -> list[str]:
    model = Outcome if "then" in loc[:-1] else OwnRuleRecord
    return [field.alias or name for name, field in model.model_fields.items()]


def _by_place(one: Diagnostic) -> tuple[str, int, int]:
    return (one.where.file, one.where.line, one.where.column) if one.where else ("", 0, 0)
