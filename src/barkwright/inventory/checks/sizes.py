"""Do the sizes of a tree and its logs agree with each other?"""

from __future__ import annotations

import math

from barkwright.inventory.checks.limits import limits
from barkwright.inventory.measure import plain
from barkwright.inventory.model import MeasuredLog, Tree
from barkwright.inventory.parts import Parts
from barkwright.inventory.report import Report
from barkwright.yamldoc import Loc

BREAST_HEIGHT_FT = 4.5


def check_sizes(parts: Parts, report: Report) -> None:
    """Diameter against girth, height and logs, for every sound tree."""
    stump_ft = parts.cutting.stump_height_ft if parts.cutting else 0.0
    for at, tree in parts.trees:
        _girth(at, tree, report)
        if tree.status != "stump":
            _heights(at, tree, report)
            _slenderness(at, tree, report)
        for number, log in enumerate(tree.logs):
            _log((*at, "logs", number), log, report)
        if tree.logs:
            _logs_in_tree(at, tree, stump_ft, report)
            _order_of_logs(at, tree, report)


def _girth(at: Loc, tree: Tree, report: Report) -> None:
    if tree.dbh_in is None or tree.girth_in is None:
        return
    across = tree.girth_in / math.pi
    allowed = max(limits().girth_and_dbh_share * tree.dbh_in, limits().girth_and_dbh_in)
    if abs(across - tree.dbh_in) > allowed:
        said = f"girth {report.amount(tree.girth_in, 'in')} is {report.amount(across, 'in')} across"
        message = f"{said}, dbh says {report.amount(tree.dbh_in, 'in')}"
        report.error("girth-and-dbh", (*at, "girth"), message, "keep the one that was measured")


def _heights(at: Loc, tree: Tree, report: Report) -> None:
    across = tree.breast_height_in
    for key, height in (("height", tree.height_ft), ("broken_at", tree.broken_at_ft)):
        if height is not None and height <= BREAST_HEIGHT_FT and across is not None:
            low = report.amount(BREAST_HEIGHT_FT, "ft")
            message = f"{key} {report.amount(height, 'ft')} is below breast height ({low}), where dbh is measured"
            hint = f"if that is m, write '{plain(height)} m'" if report.system == "imperial" else None
            report.error("below-breast-height", (*at, key), message, hint or "check the height")
    if tree.height_ft is not None and tree.broken_at_ft is not None and tree.broken_at_ft > tree.height_ft:
        broken, height_text = report.amount(tree.broken_at_ft, "ft"), report.amount(tree.height_ft, "ft")
        message = f"broken_at {broken} is above the height {height_text}"
        report.error("odd-shape", (*at, "broken_at"), message, "height is that of the whole tree before it broke")


def _slenderness(at: Loc, tree: Tree, report: Report) -> None:
    across, height = tree.breast_height_in, tree.height_ft
    if across is None or height is None or height <= BREAST_HEIGHT_FT or tree.broken_at_ft is not None:
        return
    ratio, bounds = height * 12 / across, limits().slenderness
    if bounds.warn_below <= ratio <= bounds.warn_above:
        return
    key = "dbh" if tree.dbh_in is not None else "girth"
    shape = "stout" if ratio < bounds.warn_below else "slender"
    said = f"height {report.amount(height, 'ft')} and {report.amount(across, 'in')} across"
    message = f"{said} make a tree {plain(round(ratio))} times as high as thick, too {shape} for a spruce"
    hint = "check both, and their units; for a broken top give broken_at"
    if bounds.error_below <= ratio <= bounds.error_above:
        report.warning("odd-shape", (*at, key), message, hint)
    else:
        report.error("odd-shape", (*at, key), message, hint)


def _log(at: Loc, log: MeasuredLog, report: Report) -> None:
    if log.top_in > log.butt_in:
        top, butt = report.amount(log.top_in, "in"), report.amount(log.butt_in, "in")
        message = f"log {int(at[-1]) + 1}: top {top} is wider than butt {butt}"
        report.error("top-over-butt", (*at, "top"), message, "butt is the thick end: swap them")


def _logs_in_tree(at: Loc, tree: Tree, stump_ft: float, report: Report) -> None:
    whole = sum(log.length_ft * log.count for log in tree.logs)
    if tree.height_ft is not None and whole + stump_ft > tree.height_ft * (1 + limits().logs_over_height_share):
        logs, height = report.amount(whole, "ft"), report.amount(tree.height_ft, "ft")
        message = f"the logs are {logs} long together, the tree is {height} high"
        report.error("logs-over-height", (*at, "logs"), message, "check height, lengths and counts")
    across = tree.breast_height_in
    if across is None:
        return
    dbh = f"dbh {report.amount(across, 'in')}"
    for number, log in enumerate(tree.logs):
        here = (*at, "logs", number)
        too_wide = log.butt_in > across * limits().butt_over_dbh_times
        above = log.length_ft >= BREAST_HEIGHT_FT and log.top_in > across * (1 + limits().thin_end_over_dbh_share)
        if log.top_in <= log.butt_in and (too_wide or above):
            end, size = ("butt", log.butt_in) if too_wide else ("top", log.top_in)
            message = f"log {number + 1}: {end} {report.amount(size, 'in')} is too wide for a tree of {dbh}"
            report.error("logs-and-dbh", (*here, end), message, "check dbh and the log, and their units")
    if max(log.butt_in for log in tree.logs) < across * limits().butt_under_dbh_share:
        widest = report.amount(max(log.butt_in for log in tree.logs), "in")
        message = f"the thickest log is {widest}, the tree has {dbh}: the butt logs are missing or a size is wrong"
        report.warning("logs-and-dbh", (*at, "logs"), message, "list every log that is still there")


def _order_of_logs(at: Loc, tree: Tree, report: Report) -> None:
    for number, (below, above) in enumerate(zip(tree.logs, tree.logs[1:], strict=False), start=1):
        if above.butt_in > below.top_in * (1 + limits().next_butt_over_top_share) and above.top_in <= above.butt_in:
            butt, top = report.amount(above.butt_in, "in"), report.amount(below.top_in, "in")
            message = f"log {number + 1}: butt {butt} is wider than the top {top} of the log before it"
            report.warning("odd-shape", (*at, "logs", number, "butt"), message, "list the logs from the butt up")
