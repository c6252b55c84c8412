"""The proof of a rulebook: what a rule asks exists, units fit, it can fire, is cited, and no other rule denies it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from barkwright.diagnostics import Code
from barkwright.ownfiles import near
from barkwright.record import dataclass
from barkwright.sources import UnknownSourceError, cite, load_sources
from barkwright.treatment.conditions import Condition, Fault, Region, facts, normal, region_of
from barkwright.treatment.offers import DIGGERS, KEEPS_FUEL, MACHINES
from barkwright.treatment.rulebook import ENDS, VERDICTS, RuleRecord, reach, templates, way_file

Loc = tuple[int | str, ...]

NEEDS = (
    "ask-access",
    "ask-destination",
    "ask-ground",
    "burn-days",
    "burn-permit",
    "locate-services",
    "name-destination",
)
ANY = None
# What follows from a fact: (fact, words or ANY bound) -> (fact, words). A rule that asks against it never fires.
FOLLOWS: tuple[tuple[str, tuple[str, ...] | None, str, tuple[str, ...]], ...] = (
    ("brood.level", ("none",), "brood.stage", ("none",)),
    ("brood.level", ("none",), "day.adults", ("false",)),
    ("brood.level", ("none",), "day.adults_coming", ("false",)),
    ("brood.level", ("possible", "likely"), "brood.at_stake", ("true",)),
    ("brood.level", ("possible", "likely"), "brood.stage", ("larvae", "adults", "unknown")),
    ("brood.stage", ("adults", "unknown"), "day.adults", ("true",)),
    ("brood.host", ("true",), "brood.at_stake", ("true",)),
    ("brood.at_stake", ("false",), "day.to_flight", ("none",)),
    ("day.adults", ("true",), "day.adults_coming", ("false",)),
    ("day.adults", ("true",), "brood.at_stake", ("true",)),
    ("site.live_spruce_ft", ANY, "site.live_spruce", ("known",)),
    ("way.end_spruce_mi", ANY, "way.end_spruce", ("known",)),
    ("way.end_miles", ANY, "way.end_place", ("known",)),
    ("way.end_processes", ("before-onset", "too-late"), "way.end_place", ("known",)),
    ("way.end_spruce", ("known", "none"), "way.end_place", ("known",)),
    ("piece.saw_log", ("true",), "piece.kind", ("log",)),
)


@dataclass(frozen=True, slots=True)
class Finding:
    """What is wrong with a rule: where in its record, code, message, hint; `key` points at a key instead of a value."""

    at: Loc
    code: Code
    message: str
    hint: str
    key: bool = False


def prove(record: RuleRecord) -> tuple[Finding, ...]:
    """Everything that is wrong with one rule on its own."""
    found = [*_names(record), *_sources(record), *_sentence(record)]
    conditions, faults = _conditions(record.when)
    found += faults
    if not found:
        found += _fires(record, conditions)
    return tuple(found)


def contradictions(records: Sequence[RuleRecord], asked: Iterable[str]) -> tuple[tuple[str, Finding], ...]:
    """Pairs of sound rules that deny each other, reported at the ids in `asked`.

    Two rules deny each other when both state a verdict (or an end) and these differ though both fire in the same cases;
    and when the milder one fires only where the harsher one does, for then it never has any effect.
    """
    shaped = [(one, normal(_conditions(one.when)[0]), reach(one)) for one in records]
    wanted = frozenset(asked)
    found = []
    for one, cases, ways in shaped:
        if one.id not in wanted:
            continue
        for other, others, reached in shaped:
            if other.id == one.id or not ways & reached or not _together(one, other):
                continue
            said = _denies(one, cases, ways, other, others, reached)
            if said:
                hint = f"change one of them, or give this rule the id {other.id} to replace it"
                found.append((one.id, Finding(("then",), "rules-contradict", f"{said} by rule {other.id}", hint)))
    return tuple(found)


def _denies(
    one: RuleRecord,
    cases: dict[str, Region],
    ways: frozenset[str],
    other: RuleRecord,
    others: dict[str, Region],
    reached: frozenset[str],
) -> str | None:
    inside = ways <= reached and all(name in cases and cases[name].inside(region) for name, region in others.items())
    same = cases == others
    for field, order in (("verdict", VERDICTS), ("end", ENDS)):
        mine, theirs = getattr(one.then, field), getattr(other.then, field)
        if field not in one.then.model_fields_set or field not in other.then.model_fields_set or mine == theirs:
            continue
        milder = list(order).index(mine) < list(order).index(theirs)
        if same or (inside and milder):
            return f"{field} '{mine}' is denied in all its cases: '{theirs}'"
    return None


def _together(one: RuleRecord, other: RuleRecord) -> bool:
    regions = not one.region or not other.region or bool(set(one.region) & set(other.region))
    before = one.until is not None and other.start is not None and one.until < other.start
    after = other.until is not None and one.start is not None and other.until < one.start
    return regions and not before and not after


def _names(record: RuleRecord) -> list[Finding]:
    known = {
        "ways": frozenset(templates()),
        "tools": frozenset(tool for one in templates().values() for tool in one.tools),
        "does": frozenset(way_file().do),
    }
    found = []
    for field, words in known.items():
        for number, word in enumerate(getattr(record, field)):
            if word not in words:
                found.append(
                    Finding(
                        (field, number),
                        "unknown-name",
                        f"no way has '{word}' among its {field}" if field != "ways" else f"there is no way '{word}'",
                        near(word, words),
                    )
                )
    for number, word in enumerate(record.then.needs):
        if word not in NEEDS:
            found.append(
                Finding(
                    ("then", "needs", number),
                    "unknown-name",
                    f"'{word}' is nothing that can be arranged",
                    near(word, NEEDS),
                )
            )
    if record.start and record.until and record.start > record.until:
        found.append(Finding(("until",), "never-fires", "the rule ends before it begins", "from: comes before until:"))
    if not found and not reach(record):
        found.append(
            Finding(
                ("id",), "never-fires", "no way is reached by this rule", "loosen methods, ways, bark, tools or does"
            )
        )
    return found


def _sources(record: RuleRecord) -> list[Finding]:
    found = []
    for number, one in enumerate(record.sources):
        try:
            cite(one)
        except UnknownSourceError:
            key = one.split(",")[0].strip()
            found.append(
                Finding(("sources", number), "unknown-source", f"there is no source '{key}'", near(key, load_sources()))
            )
        else:
            if "," not in one:
                found.append(
                    Finding(
                        ("sources", number),
                        "uncited",
                        "the place in the source is missing",
                        "write: key, table or page",
                    )
                )
    if not record.sources and record.basis is None and record.source is None:
        hint = "sources: [...], or basis: ours, or source: in your own words"
        found.append(Finding(("id",), "uncited", "the rule says neither its sources nor its basis", hint))
    elif not record.sources and record.source is None and record.grade in ("A", "B"):
        found.append(
            Finding(
                ("grade",),
                "uncited",
                f"grade {record.grade} is a published test, and no source is named",
                "add sources:, or grade C",
            )
        )
    return found


def _sentence(record: RuleRecord) -> list[Finding]:
    names = _braced(record.because)
    return [
        Finding(("because",), "unknown-fact", f"there is no fact '{name}'", near(name, facts()))
        for name in names
        if name not in facts()
    ]


def _braced(text: str) -> list[str]:
    return [part.split("}")[0] for part in text.split("{")[1:]]


def _conditions(when: Sequence[Mapping[str, Any]]) -> tuple[list[Condition], list[Finding]]:
    good: list[Condition] = []
    found: list[Finding] = []
    for number, one in enumerate(when):
        at: Loc = ("when", number)
        name = one.get("fact")
        if name is None:
            found.append(Finding(at, "missing-key", "a condition asks about a fact", "write fact: first"))
        elif name not in facts():
            found.append(Finding((*at, "fact"), "unknown-fact", f"there is no fact '{name}'", near(str(name), facts())))
        else:
            region = region_of(facts()[name], {key: value for key, value in one.items() if key != "fact"})
            if isinstance(region, Fault):
                found.append(Finding((*at, region.key), region.code, f"{name}: {region.message}", region.hint))
            else:
                good.append(Condition(name, region))
    return good, found


def _fires(record: RuleRecord, conditions: list[Condition]) -> list[Finding]:
    cases = normal(conditions)
    for number, one in enumerate(conditions):
        if cases[one.fact].empty:
            message = f"no value of {one.fact} meets all that is asked of it"
            return [Finding(("when", number), "never-fires", message, "loosen one of the conditions on it")]
    denied = _follow(cases)
    if denied:
        first = next(number for number, one in enumerate(conditions) if one.fact == denied)
        return [
            Finding(
                ("when", first),
                "never-fires",
                f"what is asked of {denied} cannot be, given the rest",
                "drop one of the two",
            )
        ]
    if not any(_meets(name, cases) for name in reach(record)):
        return [
            Finding(
                ("when",),
                "never-fires",
                "none of the ways it reaches can meet its conditions",
                "look at pieces and applies of these ways",
            )
        ]
    return []


def _follow(cases: dict[str, Region]) -> str | None:
    """The fact whose condition is denied by what follows from the others."""
    implied: dict[str, Region] = {}
    for name, words, then, result in FOLLOWS:
        asked = cases.get(name)
        if asked is None or (words is not None and not asked.inside(Region(words=frozenset(words)))):
            continue
        region = Region(words=frozenset(result))
        implied[then] = implied[then].meet(region) if then in implied else region
    return next((name for name, region in implied.items() if name in cases and cases[name].meet(region).empty), None)


def _meets(name: str, cases: dict[str, Region]) -> bool:
    template = templates()[name]
    record = next(one for one in way_file().ways if one.id == name)
    own = {
        "piece.kind": Region(words=frozenset(template.pieces)),
        "way.spoils": Region(words=frozenset(("true" if template.spoils else "false",))),
        "way.keeps_fuel": Region(words=frozenset(("true" if template.method in KEEPS_FUEL else "false",))),
    }
    applies, _ = _conditions(record.applies)
    for one in applies:
        own[one.fact] = own[one.fact].meet(one.region) if one.fact in own else one.region
    if "way.chipper_feed" in cases and "chipper" not in template.tools:
        return False
    if "way.digs_ft" in cases and not DIGGERS & set(template.tools):
        return False
    if "way.operator" in cases and not MACHINES & set(template.tools):
        return False
    return all(not cases[fact].meet(region).empty for fact, region in own.items() if fact in cases)
