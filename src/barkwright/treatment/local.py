"""The user's own rules: read from the files that the site names, proven, and laid over the shipped ones by id."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from barkwright.diagnostics import Diagnostic, Place
from barkwright.treatment.proof import Finding, contradictions, near, prove
from barkwright.treatment.rulebook import Outcome, Rulebook, RuleRecord, book, shipped, shipped_records
from barkwright.yamldoc import Document, Loc, decode, read_document

PARTS = ("rules", "rates", "settings")
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

    A local file holds `rules:`; `rates:` and `settings:` are left to their own reader. Faults become diagnostics of the
    book, and a faulty rule is left out.
    """
    if not local:
        return shipped()
    found: list[Diagnostic] = []
    own: dict[str, tuple[RuleRecord, Document, int]] = {}
    for path in local:
        document = _open(path, found)
        if document is not None:
            for number, record in _records(document, found):
                own[record.id] = (record, document, number)
    records = {one.id: one for one in shipped_records()} | {name: one[0] for name, one in own.items()}
    denied = contradictions(tuple(records.values()), own)
    for name, finding in denied:
        _, document, number = own[name]
        found.append(_diagnostic(document, number, name, finding))
    without = {name for name, _ in denied}
    made = book([one for one in records.values() if one.id not in without], frozenset(own))
    return Rulebook(made.templates, made.applies, made.rules, tuple(sorted(found, key=_by_place)))


def _open(path: str, found: list[Diagnostic]) -> Document | None:
    try:
        content = Path(path).read_bytes()
    except OSError as error:
        hint = "local: names files, from the place of the site file"
        found.append(
            Diagnostic("error", "unreadable", f"cannot be read: {error.strerror}", Place(path, 1, 1), hint=hint)
        )
        return None
    text, faults = decode(content, path)
    found += faults
    if text is None:
        return None
    document, faults = read_document(text, path)
    found += faults
    if document is None or not isinstance(document.data, dict):
        if document is not None:
            found.append(
                Diagnostic(
                    "error", "odd-shape", "a rulebook begins with rules:", Place(path, 1, 1), hint="see DEVELOPERS.md"
                )
            )
        return None
    for key in document.data:
        if key not in PARTS:
            where = document.key_place((key,))
            found.append(
                Diagnostic("error", "unknown-key", f"unknown key '{key}'", where, value=key, hint=near(key, PARTS))
            )
    return document


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
    good: list[tuple[int, RuleRecord]] = []
    seen: dict[str, int] = {}
    for number, written in enumerate(rules):
        try:
            record = RuleRecord.model_validate(written)
        except ValidationError as errors:
            found += [_shape(document, number, one) for one in errors.errors(include_url=False)]
            continue
        findings = list(prove(record))
        if record.id in seen:
            line = document.place(("rules", seen[record.id])).line
            findings.append(
                Finding(("id",), "duplicate-id", f"this id is taken by the rule in line {line}", "one id, one rule")
            )
        seen.setdefault(record.id, number)
        found += [_diagnostic(document, number, record.id, one) for one in findings]
        if not findings:
            good.append((number, record))
    return good


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
    model = Outcome if "then" in loc[:-1] else RuleRecord
    return [field.alias or name for name, field in model.model_fields.items()]


def _by_place(one: Diagnostic) -> tuple[str, int, int]:
    return (one.where.file, one.where.line, one.where.column) if one.where else ("", 0, 0)
