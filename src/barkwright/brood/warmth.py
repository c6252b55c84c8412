"""How much of a brood takes one year, by the warmth of its summer; and what that changes where somebody has looked."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from barkwright import datafile
from barkwright.brood import look
from barkwright.brood.signs import AttackYears
from barkwright.brood.sizes import Sentence, stood
from barkwright.brood.verdict import Verdict
from barkwright.inventory.model import Tree
from barkwright.record import dataclass
from barkwright.season.emergence import one_year_brood, stand_brood, tree_brood
from barkwright.season.flight import coming_flight
from barkwright.season.numbers import FLIGHT
from barkwright.season.site import Season
from barkwright.season.springs import Summer, years_read
from barkwright.sources import Reason
from barkwright.stem.pieces import Piece


@dataclass(frozen=True, slots=True)
class WarmthBook:
    """The whole file, data/brood/warmth.yaml."""

    checked_on: date
    reach_ft: float
    disagree: float
    odd: float
    reasons: dict[str, Sentence]


@dataclass(frozen=True, slots=True)
class Warmth:
    """Shares of one-year brood of an attack summer [0 to 1]."""

    year: int
    hours: int  # at 17 C or more in the weeks that count [h]
    high: float  # 15 ft up on the south side: the most of any place on a stem
    ground: float  # at the ground on the north side: what a log's underside has
    tree: float
    stand: float  # by the older model of a whole stand
    most: float  # the largest, with days that nobody read as hot as any: what a decision for safety goes by


def warmth_book() -> WarmthBook:
    """Reach, and the sentences."""
    return datafile.load("brood/warmth.yaml", WarmthBook)


def warmth_of(season: Season, attacked: int) -> Warmth | None:
    """One-year brood of an attack in that summer; None where its weather is not on record to the end of the season."""
    if season.weather is None:
        return None
    summers = (read.summer for read in years_read(season.weather, season.on) if read.year == attacked)
    summer = next(summers, None)
    return None if summer is None or not summer.complete else _warmth(summer)


def refined(tree: Tree, season: Season, on: date, years: AttackYears, verdict: Verdict) -> Verdict:
    """The verdict with what the attack summer's warmth adds.

    Only brood of last summer with a known year can be told apart. A look that found larvae stands where somebody
    looked; where nobody did, and the model puts 5 % or more on the one-year cycle, the coming flight is to be beaten.
    A look that was early in the autumn but full counts as if it had been late where the models put less than that
    anywhere on the stem. The low value at the ground decides nothing: a log's top side is not the ground.
    """
    coming, attacked = coming_flight(season, on), verdict.attacked
    if verdict.brood == "none" or not years.known or attacked is None or attacked != coming - 1:
        return verdict
    warmth = warmth_of(season, attacked)
    if warmth is None:
        return verdict
    rule, warm, unseen = verdict.reasons[0].rule, warmth.most >= FLIGHT["policy_share"], _above_unseen(tree, on)
    if rule == "last-summer-larvae":
        verdict = _doubted(verdict, warmth, coming)
        if warm and unseen:
            said = _said(warmth, "one-year-above", coming)
            return replace(verdict, upper_flight=coming, upper_reasons=said)
        return _with(verdict, _said(warmth, "one-year-seen" if warm else "two-year", coming))
    if rule == "last-summer-larvae-unsure" and not warm and _only_early(tree, on):
        return replace(
            verdict,
            flight=coming + 1,
            stage="larvae",
            adults_from=look.adults_from(coming + 1),
            reasons=_said(warmth, "two-year-early-look", coming + 1),
            upper_flight=coming if unseen else None,
            upper_reasons=verdict.reasons if unseen else (),
        )
    lay = stood(tree, attacked, season) is False
    return _with(verdict, _said(warmth, "down" if lay else "standing", coming))


def out_of_reach(piece: Piece, tree: Tree) -> bool:
    """Is the piece higher up than somebody on the ground can look? Measured logs may be from anywhere."""
    if piece.kind in ("stump", "limbs"):
        return False
    return tree.status == "logs" or piece.from_ft >= warmth_book().reach_ft


def above(verdict: Verdict) -> Verdict:
    """The verdict for wood that nobody could look at from the ground: it may fly earlier than the rest."""
    flight = verdict.upper_flight
    if flight is None:
        return verdict
    return replace(
        verdict,
        flight=flight,
        stage="unknown",
        adults_from=look.adults_from(flight),
        confidence="low" if verdict.confidence == "low" else "medium",
        reasons=verdict.upper_reasons,
        upper_flight=None,
    )


def percent(share: float) -> str:
    """A share as one says it: about 20 %, under 1 %."""
    return "under 1 %" if share < 0.01 else "over 99 %" if share > 0.99 else f"about {share * 100:.0f} %"


def _doubted(verdict: Verdict, warmth: Warmth, flight: int) -> Verdict:
    """Not sure, and to be looked at again, where the model expects beetles that the look did not find."""
    if warmth.ground < warmth_book().odd:
        return verdict
    odd = _reason(warmth_book(), "one-year-odd", warmth, flight)
    return replace(verdict, confidence="low", look_next=True, reasons=(*verdict.reasons, odd))


def _with(verdict: Verdict, reasons: tuple[Reason, ...]) -> Verdict:
    return replace(verdict, reasons=(*verdict.reasons, *reasons))


def _said(warmth: Warmth, name: str, flight: int) -> tuple[Reason, ...]:
    book = warmth_book()
    apart = abs(warmth.stand - warmth.tree) >= book.disagree
    return tuple(_reason(book, one, warmth, flight) for one in ((name, "stand") if apart else (name,)))


def _reason(book: WarmthBook, name: str, warmth: Warmth, flight: int) -> Reason:
    reason = book.reasons[name].reason(f"warmth-{name}")
    shares = {one: percent(getattr(warmth, one)) for one in ("high", "ground", "tree", "stand")}
    said = reason.because.format(
        year=warmth.year,
        hours=f"{warmth.hours:,}",
        flight=flight,
        highest=percent(warmth.most),
        limit=f"{FLIGHT['policy_share'] * 100:g} %",
        **shares,
    )
    return replace(reason, because=said)


def _warmth(summer: Summer) -> Warmth:
    hours, at_most = float(summer.hours), float(summer.hours_at_most)
    return Warmth(
        year=summer.year,
        hours=summer.hours,
        high=one_year_brood(hours, high=True),
        ground=one_year_brood(hours, north=True, ground=True),
        tree=tree_brood(hours),
        stand=stand_brood(float(summer.stand_hours)),
        most=max(
            one_year_brood(at_most, high=True), tree_brood(at_most), stand_brood(float(summer.stand_hours_at_most))
        ),
    )


def _above_unseen(tree: Tree, on: date) -> bool:
    """Was the look taken from the ground at a standing tree? A stem that lay could be looked at all along."""
    if tree.found is None or look.posture(tree, look.seen_on(tree, on)) != "standing":
        return False
    return tree.status != "stump" and "upper" not in tree.found.looked


def _only_early(tree: Tree, on: date) -> bool:
    """Was the look full, of larvae only, and unsure for no other reason than its day?"""
    found, seen = tree.found, look.seen_on(tree, on)
    return found is not None and set(found.stages or ()) == {"larvae"} and look.full_look(tree, found, seen)
