"""Changes of what is wished and allowed: methods, the first day of work, the budget."""

from __future__ import annotations

from datetime import date

from barkwright.inventory.model import Inventory, Method
from barkwright.season.year import in_words
from barkwright.study.change import Change, UnfitChangeError, read_part
from barkwright.units import half_up


def allowed(inventory: Inventory, method: Method) -> Change:
    """A method that is no longer avoided; for burning, with a permit in hand."""
    wishes = inventory.wishes
    avoid = tuple(one for one in wishes.avoid if one != method)
    changed = inventory.model_copy(update={"wishes": wishes.model_copy(update={"avoid": avoid})})
    site = inventory.site
    if method != "burn" or site.burning.permit not in ("refused", "unknown"):
        return Change(f"allow {method}", f"Allowing to {method}", "method", changed)
    burning = site.burning.model_copy(update={"permit": "held"})
    changed = changed.model_copy(update={"site": site.model_copy(update={"burning": burning})})
    now = "it is refused now" if site.burning.permit == "refused" else "nobody has said whether one is"
    said = f"It takes that a permit to burn is held: {now}. Only the fire authority can say so."
    title = "Allowing to burn, with a permit" if method in wishes.avoid else "A permit to burn"
    return Change("allow burn", title, "method", changed, True, (said,))


def forbidden(inventory: Inventory, method: Method) -> Change:
    """A method that is avoided, as the user's wish: it is taken only where infested bark would be left without it."""
    wishes = inventory.wishes
    avoid = wishes.avoid if method in wishes.avoid else (*wishes.avoid, method)
    prefer = tuple(one for one in wishes.prefer if one != method)
    changed = wishes.model_copy(update={"avoid": avoid, "prefer": prefer})
    said = "A method to avoid is still taken where infested bark would be left without it."
    title = f"Avoiding to {method}"
    return Change(f"forbid {method}", title, "method", inventory.model_copy(update={"wishes": changed}), True, (said,))


def started(inventory: Inventory, on: date, day: date) -> Change:
    """Work that begins on another day."""
    if day < on:
        raise UnfitChangeError(f"{day} lies before {on}, the day this is planned for", f"try 'start {on}' or later")
    start = read_part(inventory, on, "calendar", {"start": day.isoformat()}).start
    calendar = inventory.calendar.model_copy(update={"start": start})
    changed = inventory.model_copy(update={"calendar": calendar})
    return Change(f"start {day}", f"Starting on {in_words(day)}", "start", changed, False)


def budgeted(inventory: Inventory, on: date, amount: str | None) -> Change:
    """Another limit on what may be paid; None: no limit."""
    budget = None if amount is None else read_part(inventory, on, "limits", {"budget": _number(amount)}).budget
    limits = inventory.limits.model_copy(update={"budget": budget})
    changed = inventory.model_copy(update={"limits": limits})
    if budget is None:
        return Change("no budget", "No limit on money", "budget", changed, False)
    return Change(f"budget {amount}", f"A budget of {half_up(budget):,}", "budget", changed, False)


def _number(amount: str) -> int | float:
    return float(amount) if "." in amount else int(amount)
