"""The result of `check`: is the file sound, and what is still open?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from barkwright.output.json_local import CheckResult
from barkwright.output.layout import wrapped
from barkwright.output.measures import Units
from barkwright.output.names import shown_name
from barkwright.output.view import View, site_word
from barkwright.output.words import amount

if TYPE_CHECKING:
    from barkwright.diagnostics import Diagnostic
    from barkwright.output.json_local import LocalRecord
    from barkwright.plan import Plan


def check_text(plan: Plan, found: Sequence[Diagnostic], made_from: str) -> str:
    """In two lines: no faults, so many warnings, so many open questions."""
    result = check_result(plan, found)
    text = f"{shown_name(made_from)}: no faults found in {amount(result['trees'], 'tree')}"
    if result["warnings"]:
        text += f", {amount(result['warnings'], 'warning')}"
    lines = wrapped(text + ".")
    if result["open_questions"]:
        asked = amount(result["open_questions"], "open question")
        lines += wrapped(f"{asked}: 'barkwright order {site_word(made_from)}' prints them first.")
    return "\n".join(lines) + "\n"


def check_result(plan: Plan, found: Sequence[Diagnostic], local: LocalRecord | None = None) -> CheckResult:
    """The same as plain data. local : what the site's own files say and change, where that was asked for"""
    return {
        "faults": sum(diagnostic.severity == "error" for diagnostic in found),
        "warnings": sum(diagnostic.severity == "warning" for diagnostic in found),
        "open_questions": len(View(plan, Units(), "").asked),
        "trees": len(plan.inventory.trees),
        "local": local,
    }
