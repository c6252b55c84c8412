"""Every check across the records of an inventory, in the order they run."""

from __future__ import annotations

from collections.abc import Callable

from barkwright.inventory.checks.attack import check_attack
from barkwright.inventory.checks.means import check_calendar, check_crew, check_equipment, check_wishes
from barkwright.inventory.checks.place import check_place
from barkwright.inventory.checks.sizes import check_sizes
from barkwright.inventory.checks.trade import check_quote
from barkwright.inventory.checks.trees import check_ids, check_status, check_trees_there
from barkwright.inventory.parts import Parts
from barkwright.inventory.report import Report

CHECKS: tuple[Callable[[Parts, Report], None], ...] = (
    check_place,
    check_trees_there,
    check_ids,
    check_status,
    check_sizes,
    check_attack,
    check_crew,
    check_equipment,
    check_calendar,
    check_wishes,
    check_quote,
)
