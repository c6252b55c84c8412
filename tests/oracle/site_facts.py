"""What may be done on a small site, told from `SiteWork` and the checker's rules alone.

Nothing here is taken from the modules that make schedules. Five of their rules that the checker does not ask for are
kept, because they say what a plan is: work that waits for nothing begins inside the windows of its way; services are
marked some days after the call; professionals come for eight hours a day; a look or a felling does not cross a night
where a day is long enough; a machine runs while its work is done, in even shares.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from offers import offers_of, undominated
from site_records import DAY, HALF, PEELS, Node, Offer, PieceFacts, SiteFacts, Slot, TreeFacts, destroys, done_at

from barkwright.brood.finding import PieceBrood
from barkwright.brood.hosts import draws_beetles, is_host_piece
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.schedule.verify_bark import is_warm
from barkwright.schedule.verify_days import hours_of
from barkwright.schedule.verify_wood import counts
from barkwright.season.flight import coming_flight, flight_year
from barkwright.stem.pieces import Piece
from barkwright.treatment.ways import Step, Way


def facts_of(work: SiteWork) -> SiteFacts:
    """Everything that the exact model needs to know of a site."""
    first = max(work.on, work.inventory.calendar.start or work.on)
    years = {p.flight_to_beat for t in work.trees for p in t.brood.pieces if p.flight_to_beat is not None}
    last = max(flight_year(work.season, year).half for year in years | {coming_flight(work.season, work.on)})
    if any(tree.brood.needs_inspection for tree in work.trees):
        last = max(last, first + DAY * int(SETTINGS["look_again_days"]))
    length = max(1, (last - first).days + 1)
    hours = {
        crew.name: [hours_of(crew, first + DAY * day, work) for day in range(length)] for crew in work.inventory.crew
    }
    site = SiteFacts(work, first, length, hours, [])
    for tree in work.trees:
        site.trees.append(_tree(site, tree))
    return site


def _tree(site: SiteFacts, tree: TreeWork) -> TreeFacts:
    work, felling = site.work, tree.felling
    standing = tree.tree.status == "standing"
    gate = felling.earliest or tree.tree.not_before
    opens = 0 if gate is None else max(0, site.index(gate))
    every = frozenset(range(site.length))
    found = TreeFacts(
        tree,
        [],
        standing,
        tree.tree.removal is not None and bool(tree.tree.hazards),
        not (standing and felling.who == "not needed"),
        None,
        [],
        [],
        [],
        [],
    )
    look = work.inspection(tree)
    if look is not None:
        settled = work.look_from(tree)
        start = 0 if settled is None else site.index(settled)
        found.look = _base(site, f"{tree.tree.id} look", look, (), frozenset(d for d in every if d >= start))
    if felling.who != "not needed":
        found.calls = [_base(site, f"{tree.tree.id} call", step, (), every) for step in felling.calls]
        _cuts(site, found, opens)
    found.periods = _periods(site, found)
    for piece, brood, ways in tree.pieces():
        found.pieces.append(_piece(site, found, piece, brood, ways, opens))
    return found


def _base(site: SiteFacts, name: str, step: Step, before: tuple[Node, ...], days: frozenset[int]) -> Node:
    spans = step.spans
    if spans is not None:
        days = frozenset(d for d in days if any(a <= site.first + DAY * d <= b for a, b in spans))
    return Node(name, step, before, days, whole=step.work in ("inspect", "fell"))


def _cuts(site: SiteFacts, found: TreeFacts, opens: int) -> None:
    felling = found.tree.felling
    before = (*([] if found.look is None else [found.look]), *found.calls)
    for step in felling.steps:
        days = frozenset(range(opens, site.length))
        node = _base(site, f"{found.tree.tree.id} {step.work}", step, before, days)
        if step.work == "fell":
            node.wait = felling.lead_days
            shut = felling.closed
            node.days = frozenset(d for d in node.days if not any(a <= site.first + DAY * d <= b for a, b in shut))
            node.crews = felling.crews
            if felling.by != "crew":
                day = SETTINGS["professional_day"] * max(step.people, 1)
                node.outside = max(1, -int(-(step.person_hours.mean - 1e-9) // day))
                node.days = frozenset(d for d in node.days if (site.first + DAY * d).weekday() < 5)
        found.cuts.append(node)
        before = (node,)


def _periods(site: SiteFacts, found: TreeFacts) -> list[tuple[int, int]]:
    """First day of each span of days on which a felling meets the same flight, and the year of that flight."""
    work = site.work
    if not found.standing:
        lies = draws_beetles(found.tree.tree, work.season, work.on)
        return [(0, coming_flight(work.season, work.on))] if lies else []
    years = [coming_flight(work.season, site.first + DAY * day) for day in range(site.length)]
    return [(day, year) for day, year in enumerate(years) if day == 0 or years[day - 1] != year]


def _piece(
    site: SiteFacts, tree: TreeFacts, piece: Piece, brood: PieceBrood, ways: Sequence[Way], opens: int
) -> PieceFacts:
    lives = counts(tree.tree, brood)
    stays = tree.standing and not tree.may_work
    flight = None if brood.flight_to_beat is None else flight_year(site.work.season, brood.flight_to_beat)
    found = PieceFacts(
        piece,
        brood,
        brood.weight * piece.bark_ft2 if lives else 0.0,
        piece.bark_ft2 if brood.host and brood.brood == "none" and not stays else 0.0,
        None if flight is None else site.index(flight.onset),
    )
    if not tree.may_work:
        return found
    offered = [one for way in ways for one in offers_of(site, tree, found, way)]
    if not found.at_stake:  # nothing is owed to it: only what the wood is worth could speak for work on it
        offered = [one for one in offered if one.worth > 0.0]
    known: dict[tuple[object, ...], Node] = {}
    for one in undominated(site, offered):
        nodes = _nodes(site, tree, found, one, opens, known)
        if nodes is not None:
            found.slots += _slots(site, tree, found, one, nodes)
    return found


def _nodes(
    site: SiteFacts, tree: TreeFacts, piece: PieceFacts, one: Offer, opens: int, known: dict[tuple[object, ...], Node]
) -> tuple[Node, ...] | None:
    """The steps of an offer as work; None where a machine or nobody with the skills is there."""
    inventory = site.work.inventory
    kinds = {entry.kind for entry in inventory.equipment}
    if "locate-services" in one.window.needs:
        opens = max(opens, site.work.locating()[1])
    found: list[Node] = []
    before: Node | None = None
    peeled: Node | None = None
    key: tuple[object, ...] = ()
    for step in one.steps:
        able = [c for c in inventory.crew if c.people >= step.people and set(c.skills) >= set(step.skills)]
        if not kinds.issuperset(step.equipment) or not able:
            return None
        adults = piece.infested > 0.0 and piece.brood.adults_from is not None
        mark = (step.do in PEELS, destroys(step)) if adults else ()
        key = (*key, (step.person_hours.mean, step.machine_hours.mean, step.people, step.equipment, step.skills,
                      step.wait_days, step.spans, opens, *mark))  # fmt: skip
        node = known.get(key)
        if node is None:
            days = frozenset(range(opens, site.length))
            name = f"{piece.piece.id} {step.do}"
            node = known[key] = _base(site, name, step, tree.cuts_last() if before is None else (before,), days)
            node.wait = step.wait_days
            node.whole = False
            if destroys(step) and adults:
                node.peeled = peeled
            tree.nodes.append(node)
        peeled = node if step.do in PEELS else peeled
        found.append(node)
        before = node
    return tuple(found)


def _slots(site: SiteFacts, tree: TreeFacts, piece: PieceFacts, one: Offer, nodes: tuple[Node, ...]) -> Iterator[Slot]:
    """The offer by the last day of its completing step: cut where a day later counts differently."""
    done = done_at(one.steps) if one.steps else 0
    last = one.last
    if piece.at_stake and one.way.too_late is not None:
        last = min(last, site.index(one.way.too_late))
    finish = None if one.way.finish_by is None else site.index(one.way.finish_by)
    cuts = {last}
    if piece.at_stake:
        season = site.work.season
        own = piece.brood.flight_to_beat
        lies = [site.index(flight_year(season, year).onset) - 1 for _, year in tree.periods if own and own > year]
        ends = [finish, None if piece.onset is None else piece.onset - 1, *lies]
        cuts |= {end for end in ends if end is not None and one.first <= end < last}
    if not one.steps:
        cuts = {0} if one.first == 0 else set()
    for cut in sorted(cuts):
        if cut < one.first:
            continue
        in_time = piece.onset is None or cut < piece.onset
        kept = 0.0 if one.window.end == "done" else HALF
        slot = Slot(
            piece, one.way, nodes, done, one.first, cut, one.window.end, one.against, one.worth,
            kept if in_time else 1.0,
            kept if in_time else 1.0 - (1.0 - kept) * (1.0 - HALF),
            not in_time or (finish is not None and bool(one.steps) and cut > finish),
        )  # fmt: skip
        yield slot


def latest_destroying(site: SiteFacts, stripped: int) -> int:
    """The last day on which bark that was stripped on a day, with grown beetles in it, may be destroyed."""
    worked = 0
    warm = is_warm(site.work.season, site.first + DAY * stripped)
    for day in range(stripped + 1, site.length):
        worked += any(hours[day] > 0 for hours in site.hours.values())
        warm = warm or is_warm(site.work.season, site.first + DAY * day)
        if warm and worked > SETTINGS["bark_kept_warm"]:
            return day - 1
    return site.length - 1


def onset_lain_through(site: SiteFacts, piece: PieceFacts, year: int) -> int | None:
    """Onset of the flight of a year if a piece on the ground by then lies through it before its own flight."""
    own = piece.brood.flight_to_beat
    if not piece.at_stake or own is None or own <= year or not is_host_piece(piece.piece):
        return None
    return site.index(flight_year(site.work.season, year).onset)
