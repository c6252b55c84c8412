"""What is said of wood for which no way is open: the one thing that would open one."""

from __future__ import annotations

from datetime import date

from planned_sites import EXAMPLES, planned

NOT_THERE = ("kind: chain-saw", "kind: drawknife", "kind: maul", "kind: chipper", "burning:", "permit:", "windows:")
ON = date(2026, 11, 25)


def test_where_only_a_tool_is_missing_the_tool_is_named() -> None:
    yard = (EXAMPLES / "yard-tree.yaml").read_text(encoding="utf-8")
    yard = yard.replace("diggable: true", "diggable: false").replace("skills: [saw], ", "")
    kept = [line for line in yard.splitlines() if not any(one in line for one in NOT_THERE)]
    unmet = planned("\n".join(kept) + "\n", ON).schedule.unmet
    assert [one.tree for one in unmet] == ["T1"]
    assert "own or rent it and this way opens" in unmet[0].change
    assert "drawknife" in unmet[0].change
