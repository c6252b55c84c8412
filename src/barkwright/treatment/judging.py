"""Judging: one way for all pieces of one profile, by the rules that its days leave open."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.record import dataclass
from barkwright.season.year import FlightYear
from barkwright.sources import Reason
from barkwright.treatment.conditions import Condition, Value
from barkwright.treatment.facts import end_facts
from barkwright.treatment.offers import Offer
from barkwright.treatment.profile import DAY, Profile
from barkwright.treatment.rulebook import ENDS, VERDICTS, Rule
from barkwright.treatment.shown import shown
from barkwright.treatment.ways import End, Verdict, Window

if TYPE_CHECKING:  # loading it takes time that a site without a splitter need not spend
    from barkwright.treatment.drying import Drying

TEXTS = frozenset(
    f"day.{name}" for name in ("onset", "half", "adults_from", "cured_on", "dry_on", "dry_basis", "ground_basis")
)
_NAMED = re.compile(r"\{([a-z_.]+)\}")

Bits = dict[Condition, int]


@dataclass(frozen=True, slots=True)
class Day:
    """A span of days of a profile, and what the day's facts are."""

    first: date
    last: date
    facts: Mapping[str, Value | None]


@dataclass(slots=True)
class Plan:
    """One way for one profile: per span the rules that only the piece's size can still stop from firing."""

    offer: Offer
    facts: Mapping[str, Value | None]  # site, way, tree and brood; and the day's texts
    need: int  # bits of `applies` that the piece must have
    mask: int  # bits that any open rule asks about
    spans: tuple[tuple[Day, tuple[tuple[int, Rule], ...]], ...]
    finish_by: date | None
    too_late: date | None
    rulings: Rulings
    answers: dict[object, tuple[Window, ...]] = field(default_factory=dict)
    drafts: dict[int, tuple[Draft, ...]] = field(default_factory=dict)
    names: dict[int, tuple[str, ...]] = field(default_factory=dict)  # piece facts in the sentences of those drafts

    def windows(self, bits: int, piece: Mapping[str, Value | None]) -> tuple[Window, ...]:
        """The windows of a piece that has these bits; `piece` fills the sentences."""
        asked = bits & self.mask
        drafts = self.drafts.get(asked)
        if drafts is None:
            drafts = self.drafts[asked] = _drafts(self, asked)
            self.names[asked] = _piece_names(drafts)
        names = self.names[asked]
        key = (asked, *(shown(name, piece.get(name)) for name in names)) if names else asked
        found = self.answers.get(key)
        if found is None:
            found = self.answers[key] = tuple(one.window(self.facts, piece) for one in drafts)
        return found

    def result(self, bits: int, piece: Mapping[str, Value | None], day: date) -> tuple[End, tuple[Reason, ...]]:
        """What the way comes to when it is done on a day, and why it is no more; what only forbids it is left aside."""
        span = next((rules for held, rules in self.spans if held.first <= day <= held.last), self.spans[-1][1])
        fired = [rule for asked, rule in span if asked & bits == asked and (rule.effect or rule.verdict != "ruled out")]
        vain = [rule for rule in fired if rule.verdict == "ruled out"]
        end: End = "not done" if vain else ENDS[max((ENDS.index(rule.end) for rule in fired), default=0)]
        lessening = vain or [rule for rule in fired if rule.end != "done"]
        return end, tuple(reason_of(rule, self.facts, piece) for rule in lessening)


@dataclass(frozen=True, slots=True)
class Ruling:
    """What rules that fire together come to."""

    verdict: Verdict
    end: End
    rules: tuple[Rule, ...]  # the weightiest first
    needs: tuple[str, ...]
    without_wish: Verdict | None
    names: tuple[str, ...]  # piece facts in their sentences

    @property
    def out(self) -> bool:
        """True when no wish let go of would open it."""
        return self.verdict == "ruled out" and self.without_wish is None


Rulings = dict[tuple[str, ...], Ruling]  # by the ids of the rules that fired


@dataclass(frozen=True, slots=True)
class Draft:
    """A window before its sentences are filled."""

    first: date
    last: date
    bark: str
    ruling: Ruling

    def window(self, facts: Mapping[str, Value | None], piece: Mapping[str, Value | None]) -> Window:
        """The window with its reasons in words."""
        said = self.ruling
        reasons = tuple(reason_of(rule, facts, piece) for rule in said.rules)
        return Window(self.first, self.last, said.verdict, said.end, self.bark, reasons, said.needs, said.without_wish)


@dataclass(frozen=True, slots=True)
class Asked:
    """A rule with its conditions sorted by when they can be answered."""

    rule: Rule
    fixed: tuple[Condition, ...]  # the same on every day
    daily: tuple[Condition, ...]
    mask: int  # bits of what it asks of the piece's size


def asked_of(offer: Offer, bits: Bits) -> tuple[Asked, ...]:
    """The rules of a way, made ready for `plan_of`."""
    return tuple(
        Asked(
            rule,
            tuple(one for one in rule.when if not one.fact.startswith(("piece.", "day."))),
            tuple(one for one in rule.when if one.fact.startswith("day.")),
            sum(bits[one] for one in rule.when if one.fact.startswith("piece.")),
        )
        for rule in offer.rules
    )


def plan_of(
    offer: Offer,
    profile: Profile,
    own: Mapping[str, Value | None],
    flight: FlightYear | None,
    drying: Drying | None,
    days: Sequence[Day],
    bits: Bits,
    asked: Sequence[Asked],
    rulings: Rulings,
) -> Plan | None:
    """The plan of a way for a profile, or None where the way is not for it.

    `own` holds tree and brood facts, `asked` the way's rules made ready; `rulings` keeps what rules say together.
    """
    facts = {**offer.values, **own, **end_facts(offer.end, flight.onset if flight else None), **_texts(days[0].facts)}
    need = 0
    for one in offer.applies:
        if one in bits:
            need |= bits[one]
        elif not one.holds(facts):
            return None
    open_rules = [one for one in asked if not one.fixed or all(c.holds(facts) for c in one.fixed)]
    daily = [one for one in open_rules if one.daily]
    always = [(one.mask, one.rule) for one in open_rules if not one.daily]
    spans = []
    mask = 0
    for day in _cut(days, offer):
        today = [(one.mask, one.rule) for one in daily if all(c.holds(day.facts) for c in one.daily)]
        left = (*always, *today)
        for bit, _ in left:
            mask |= bit
        spans.append((day, left))
    return Plan(
        offer,
        facts,
        need,
        mask,
        tuple(spans),
        finish_by(offer, profile, flight, drying, days[0].first),
        flight.half if flight else None,
        rulings,
    )


def finish_by(
    offer: Offer, profile: Profile, flight: FlightYear | None, drying: Drying | None, on: date
) -> date | None:
    """The day by which the completing step must have ended; None when nothing flies.

    Onset less the margin; earlier where bark that is only dropped must be off before adults form, where split wood is
    to be dry before the flight (likely dry, or perhaps where that can no longer be had), and where a destination takes
    wood only until a day.
    """
    if flight is None:
        return None
    dates = [flight.onset - timedelta(days=flight.margin_days)]
    template = offer.template
    if (
        profile.level != "none"
        and template.bark in ("dropped", "scored")
        and profile.adults_from is not None
        and profile.adults_from > on
    ):
        dates.append(profile.adults_from - DAY)
    if drying is not None and template.method == "split" and template.bark == "kept":
        likely, perhaps = drying.last_days(flight.onset)
        dates += [one for one in (likely, perhaps) if one >= on][:1]
    if offer.end is not None and offer.end.processes_by is not None and offer.hauls:
        dates.append(offer.end.processes_by)
    return min(dates)


def reason_of(rule: Rule, facts: Mapping[str, Value | None], piece: Mapping[str, Value | None]) -> Reason:
    """Why a rule fired, its sentence filled with the values of its facts."""
    because = _NAMED.sub(lambda m: shown(m[1], piece[m[1]] if m[1] in piece else facts.get(m[1])), rule.because)
    return Reason(rule.id, because, rule.grade, rule.citations, rule.basis, rule.local, rule.own_source)


def names_in(sentence: str) -> tuple[str, ...]:
    """The facts that a sentence shows, in order."""
    return tuple(_NAMED.findall(sentence))


def _texts(facts: Mapping[str, Value | None]) -> dict[str, Value | None]:
    return {name: value for name, value in facts.items() if name in TEXTS}


def _cut(days: Sequence[Day], offer: Offer) -> list[Day]:
    """The spans of a profile, cut again where tools or destination come and go."""
    breaks = sorted(offer.breaks())
    found = []
    for day in days:
        starts = [day.first, *(one for one in breaks if day.first < one <= day.last)]
        for first, after in zip(starts, [*starts[1:], day.last + DAY], strict=True):
            end = offer.end.processes_by if offer.end else None
            extra: dict[str, Value | None] = {
                "day.tools_here": offer.tools_here(first),
                "day.taken": end is None or first <= end,
            }
            found.append(Day(first, after - DAY, {**day.facts, **extra}))
    return found


def _drafts(plan: Plan, bits: int) -> tuple[Draft, ...]:
    """One draft per span, equal neighbours merged; the bark sets days apart only where it is worked on."""
    found: list[Draft] = []
    for day, rules in plan.spans:
        fired = [rule for asked, rule in rules if asked & bits == asked]
        key = tuple([rule.id for rule in fired])
        ruling = plan.rulings.get(key)
        if ruling is None:
            ruling = plan.rulings[key] = ruling_of(fired)
        bark = str(day.facts["day.bark"])
        before = found[-1] if found else None
        alike = before is not None and (before.ruling is ruling or before.ruling.rules == ruling.rules)
        if before and alike and (not plan.offer.peels or before.bark == bark or ruling.out):
            found[-1] = replace(before, last=day.last)
        else:
            found.append(Draft(day.first, day.last, bark, ruling))
    return tuple(found)


def ruling_of(fired: Sequence[Rule]) -> Ruling:
    """What rules that fire together come to: ruled out beats care beats fits; not done beats partial beats done."""
    verdict = max((VERDICTS.index(one.verdict) for one in fired), default=0)
    unwished = max((VERDICTS.index(one.verdict) for one in fired if not one.wish), default=0)
    if verdict == unwished == VERDICTS.index("ruled out"):  # what would have held besides no longer matters
        fired = [one for one in fired if one.verdict == "ruled out" and not one.wish]
        end = ENDS.index("not done")
    else:
        end = max((ENDS.index(one.end) for one in fired), default=0)
    ordered = tuple(sorted(fired, key=lambda one: (-VERDICTS.index(one.verdict), -ENDS.index(one.end), one.id)))
    needs = tuple(sorted({code for one in fired for code in one.needs}))
    names = tuple(sorted({name for one in fired for name in names_in(one.because) if name.startswith("piece.")}))
    without = VERDICTS[unwished] if unwished < verdict else None
    return Ruling(VERDICTS[verdict], ENDS[end], ordered, needs, without, names)


def _piece_names(drafts: Sequence[Draft]) -> tuple[str, ...]:
    if len(drafts) == 1:
        return drafts[0].ruling.names
    return tuple(sorted({name for one in drafts for name in one.ruling.names}))
