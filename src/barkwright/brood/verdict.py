"""The brood of a tree as a whole: the worst that its possible attack years and the look under its bark leave open."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

from barkwright import datafile
from barkwright.brood import look, signs, sizes, table
from barkwright.brood.finding import BroodLevel, Confidence, Stage
from barkwright.inventory.model import Tree
from barkwright.record import dataclass
from barkwright.season.flight import coming_flight
from barkwright.season.site import Season
from barkwright.sources import Reason

CONFIDENCE: tuple[Confidence, ...] = ("low", "medium", "high")


@dataclass(frozen=True, slots=True)
class Outcomes:
    """The whole file, data/brood/outcomes.yaml: special cases, and why a tree may stay."""

    checked_on: date
    small_dbh_in: float
    stay: dict[str, str]
    reasons: dict[str, sizes.Sentence]


@dataclass(frozen=True, slots=True)
class Verdict:
    """The brood of a tree as a whole, before its pieces are told apart."""

    brood: BroodLevel
    stage: Stage | None
    flight: int | None
    adults_from: date | None
    confidence: Confidence
    bole: BroodLevel | None  # what the stem above the base holds, where that differs
    attacked: int | None  # the attack year that decides
    early: int  # the first flight that may come of it
    look_next: bool
    reasons: tuple[Reason, ...]
    upper_flight: int | None = None  # of wood that nobody could look at from the ground, where that differs
    upper_reasons: tuple[Reason, ...] = ()  # in place of the others, for that wood


def verdict_on(tree: Tree, season: Season, on: date, years: signs.AttackYears) -> Verdict:
    """Brood, stage and flight of a tree as a whole, before its size is asked about."""
    coming = coming_flight(season, on)
    if not years.years:
        return Verdict("none", None, None, None, "high", None, None, coming, False, (outcome("never"),))
    if other_insect(tree) and _base_looked_at(tree, on):
        return Verdict("none", None, None, None, "medium", None, None, coming, False, (outcome("other-insect"),))
    verdict = _worst(tree, season, on, years)
    return _mass_again(tree, _capped(tree, verdict))


def _worst(tree: Tree, season: Season, on: date, years: signs.AttackYears) -> Verdict:
    """The worst of what each attack year would mean: the earliest flight, and the highest level of any."""
    coming = coming_flight(season, on)
    cases = [(year, _row(tree, season, on, year, coming)) for year in years.years]
    live = [(year, row) for year, row in cases if row.brood != "none"]
    year, row = min(live or cases[-1:], key=lambda case: (case[1].flight, -sizes.LEVELS.index(case[1].brood), -case[0]))
    flight = coming + row.flight
    reasons = [table.reason_of(row, year, flight, years.known)]
    if len(cases) > 1:
        reasons.append(_years_reason(years.years, coming))
    early = coming + (1 if row.springs == (0,) else 0)
    confidence = row.confidence if years.known else CONFIDENCE[max(0, CONFIDENCE.index(row.confidence) - 1)]
    if not live:
        return Verdict("none", None, None, None, confidence, None, year, early, False, tuple(reasons))
    together = [other for _, other in live if other.flight == row.flight]
    expected = look.adults_from(flight)
    if "adults" in row.look and row.stage == "adults":
        expected = min(expected, look.seen_on(tree, on))
    return Verdict(
        brood=max((other.brood for _, other in live), key=sizes.LEVELS.index),
        stage=_stage({other.stage for other in together}, on >= expected),
        flight=flight,
        adults_from=expected,
        confidence=confidence,
        bole=row.bole if all(other.bole for other in together if other.brood == "likely") else None,
        attacked=year,
        early=early,
        look_next=row.look_next,
        reasons=tuple(reasons),
    )


def _row(tree: Tree, season: Season, on: date, year: int, coming: int) -> table.Row:
    seen: table.Look = "not-looked" if other_insect(tree) else look.look_of(tree, season, on, year)
    holes: table.Holes = (tree.found.exit_holes if tree.found else None) or "not-said"
    return table.row_for(min(max(coming - year, 0), table.OLD), seen, holes)


def _stage(stages: set[Stage], adults_due: bool) -> Stage:
    """The stage on the plan's date: what the table says, except that before August there are no new adults."""
    if not adults_due:
        return "larvae"
    return "adults" if stages == {"adults"} else "unknown"


def _capped(tree: Tree, verdict: Verdict) -> Verdict:
    """Less than the table says where beetles failed, were never seen, or are of another kind."""
    if verdict.brood == "none":
        return verdict
    if other_insect(tree):
        return _less(verdict, "other-insect-base", look_next=True)
    if tree.attack == "pitched-out" and not look.live_brood(tree.found):
        return _less(verdict, "pitched-out", look_next=verdict.look_next)
    if tree.attacked == "unknown" and not signs.signs_of_attack(tree) and not _fading(tree):
        return _less(verdict, "no-sign", look_next=verdict.look_next)
    return verdict


def _mass_again(tree: Tree, verdict: Verdict) -> Verdict:
    """More than the table says where an attack all the way round last summer left nothing: that is looked at twice."""
    if tree.attack != "mass" or verdict.reasons[0].rule != "last-summer-nothing-found":
        return verdict
    return replace(
        verdict,
        brood="possible",
        stage="unknown",
        flight=verdict.early,
        adults_from=look.adults_from(verdict.early),
        confidence="low",
        look_next=True,
        reasons=(*verdict.reasons, outcome("mass-without-brood")),
    )


def _less(verdict: Verdict, why: str, look_next: bool) -> Verdict:
    return replace(
        verdict,
        brood=sizes.lower(verdict.brood, "possible"),
        look_next=look_next,
        reasons=(*verdict.reasons, outcome(why)),
    )


def _fading(tree: Tree) -> bool:
    return bool(tree.found and tree.found.crown in ("yellow-green", "dropping", "bare"))


def _base_looked_at(tree: Tree, on: date) -> bool:
    """Was the place looked at where spruce beetle is, if it is there: the base, or the underside of wood that lies?"""
    if tree.found is None or not tree.found.stages:
        return False
    down = look.posture(tree, look.seen_on(tree, on)) == "down"
    return ("bottom" if down else "base") in tree.found.looked


def _years_reason(years: tuple[int, ...], coming: int) -> Reason:
    names = [str(year) for year in sorted(years)]
    if min(years) <= coming - table.OLD:
        names[0] = f"{names[0]} or earlier"
    listed = f"{', '.join(names[:-1])} or {names[-1]}"
    because = f"What was seen allows an attack in {listed}; the worst of these is planned for."
    return Reason("worst-attack-year", because, "C", (), "ours")


def outcomes() -> Outcomes:
    """Special cases, and why a standing tree may stay."""
    return datafile.load("brood/outcomes.yaml", Outcomes)


@cache
def outcome(name: str) -> Reason:
    """One of the sentences of data/brood/outcomes.yaml, as a reason."""
    return outcomes().reasons[name].reason(name)


def other_insect(tree: Tree) -> bool:
    """Was another insect than spruce beetle found?"""
    return bool(tree.found and tree.found.insect in ("engraver", "other"))
