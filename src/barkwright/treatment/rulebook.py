"""The rulebook: rules as data, read, proven and compiled against the closed list of facts and the ways they judge."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date
from functools import cache
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from barkwright.datafile import load
from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Method
from barkwright.record import dataclass
from barkwright.sources import Citation, Grade, cite
from barkwright.treatment.conditions import Condition, Fault, facts, normal, region_of
from barkwright.treatment.ways import Bark, End, Part, Template, TemplateStep, Then, Verdict, Work

FILES = ("all", "chip", "debark", "score", "burn", "bury", "split", "haul", "leave")
VERDICTS: tuple[Verdict, ...] = ("fits", "fits with care", "ruled out")  # the later beats the earlier
ENDS: tuple[End, ...] = ("done", "partial", "not done")  # the later beats the earlier
Basis = Literal["common practice, no source", "ours", "from memory", "placeholder"]


class Outcome(BaseModel):
    """What a rule does where it fires. A rule without verdict and end only says something."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    verdict: Verdict = "fits"
    end: End = "done"
    needs: tuple[str, ...] = ()  # codes of what must be arranged: locate-services, burn-permit ...
    wish: bool = False  # only the client's wish: it may be let go where infested bark would be left


class RuleRecord(BaseModel):
    """One rule as written."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)  # alone it is read of local rules only

    id: str
    title: str
    methods: tuple[Method, ...] = ()
    ways: tuple[str, ...] = ()  # template ids; with methods: both count
    bark: tuple[Bark, ...] = ()  # only ways that leave the bark so
    tools: tuple[str, ...] = ()  # only ways that use one of these
    does: tuple[str, ...] = ()  # only ways with one of these steps
    when: tuple[dict[str, Any], ...] = ()
    then: Outcome = Outcome()
    because: str
    opens: str | None = None  # of a rule that rules out: what would rule it in
    effect: bool = False  # says how well a way works
    grade: Grade
    sources: tuple[str, ...] = ()
    basis: Basis | None = None
    start: date | None = Field(default=None, alias="from")
    until: date | None = None
    region: tuple[str, ...] = ()
    checked_on: date

    @property
    def source(self) -> str | None:
        """Where it comes from in the user's own words; a shipped rule cites its sources."""
        return None


class OwnRuleRecord(RuleRecord):
    """One rule of the user's own, which may name a source that the program does not know."""

    said_by: str | None = Field(default=None, alias="source", max_length=300)
    note: str | None = None

    @property
    def source(self) -> str | None:
        """Where it comes from in the user's own words."""
        return " ".join(self.said_by.split()) if self.said_by else None


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule, compiled."""

    id: str
    title: str
    when: tuple[Condition, ...]
    verdict: Verdict
    end: End
    needs: tuple[str, ...]
    wish: bool
    because: str
    grade: Grade
    citations: tuple[Citation, ...]
    basis: Literal["published", "common practice, no source", "ours", "from memory", "placeholder"]
    templates: frozenset[str]
    start: date | None
    until: date | None
    region: tuple[str, ...]
    local: bool = False
    opens: str | None = None  # what would rule in again what it rules out
    effect: bool = False  # does its sentence say how well a way works?
    own_source: str | None = None  # of a local rule, in the user's words


@dataclass(frozen=True, slots=True)
class Rulebook:
    """The ways and the rules that judge them."""

    templates: Mapping[str, Template]
    applies: Mapping[str, tuple[Condition, ...]]
    rules: tuple[Rule, ...]  # by id
    diagnostics: tuple[Diagnostic, ...] = ()  # what is wrong with the user's own rules


@dataclass(frozen=True, slots=True)
class StepRecord:
    """One step as written."""

    work: Work
    do: str
    tool: str | None = None
    part: Part = "whole"
    wait: Literal["cure", "dry"] | None = None
    in_windows: bool = False
    completes: bool = False


@dataclass(frozen=True, slots=True)
class TemplateRecord:
    """One way as written in data/treatment/ways.yaml."""

    id: str
    method: Method
    title: str
    pieces: tuple[Literal["log", "stump", "top", "limbs"], ...]
    tools: tuple[str, ...]
    then: Then
    bark: Bark
    steps: tuple[StepRecord, ...]
    spoils: bool = False
    applies: tuple[dict[str, Any], ...] = ()


@dataclass(frozen=True, slots=True)
class WayFile:
    """The whole of data/treatment/ways.yaml."""

    do: dict[str, str]
    ways: tuple[TemplateRecord, ...]


class RuleFile(BaseModel):
    """One rulebook file: shipped per method, or the user's own."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    rules: tuple[RuleRecord, ...]


@cache
def way_file() -> WayFile:
    """data/treatment/ways.yaml, checked."""
    return load("treatment/ways.yaml", WayFile)


@cache
def templates() -> Mapping[str, Template]:
    """Every way as a template, by id, in the order of the file."""
    return {
        one.id: Template(
            one.id, one.method, one.title, one.pieces, one.tools, one.then, one.bark,
            tuple(TemplateStep(s.work, s.do, s.tool, s.part, s.wait, s.in_windows, s.completes) for s in one.steps),
            one.spoils,
        )
        for one in way_file().ways
    }  # fmt: skip


@cache
def shipped_records() -> tuple[RuleRecord, ...]:
    """The shipped rules as written, by id."""
    found = [one for name in FILES for one in load(f"rules/{name}.yaml", RuleFile).rules]
    return tuple(sorted(found, key=lambda one: one.id))


@cache
def shipped() -> Rulebook:
    """The shipped rulebook. Raises ValueError if a shipped rule cannot be compiled: the tests forbid that."""
    return book(shipped_records())


def book(records: Iterable[RuleRecord], local: frozenset[str] = frozenset()) -> Rulebook:
    """A rulebook of these records; those whose id is in `local` are marked as the user's own."""
    rules = tuple(compile_rule(one, one.id in local) for one in sorted(records, key=lambda one: one.id))
    applies = {one.id: conditions_of(one.applies) for one in way_file().ways}
    return Rulebook(templates(), applies, rules)


def conditions_of(written: Iterable[Mapping[str, Any]]) -> tuple[Condition, ...]:
    """Compiled conditions. Raises ValueError for one that cannot be asked."""
    found: list[Condition] = []
    for one in written:
        name = str(one["fact"])
        region = region_of(facts()[name], {key: value for key, value in one.items() if key != "fact"})
        if isinstance(region, Fault):
            raise ValueError(f"{name}: {region.message}; {region.hint}")
        found.append(Condition(name, region))
    return tuple(Condition(name, region) for name, region in normal(found).items())


def compile_rule(record: RuleRecord, local: bool = False) -> Rule:
    """A rule ready to be asked. Raises ValueError or KeyError for a fact, source or condition that is not known."""
    return Rule(
        record.id,
        record.title,
        conditions_of(record.when),
        record.then.verdict,
        record.then.end,
        record.then.needs,
        record.then.wish,
        record.because,
        record.grade,
        tuple(cite(one) for one in record.sources),
        record.basis or "published",
        reach(record),
        record.start,
        record.until,
        record.region,
        local,
        record.opens,
        record.effect,
        record.source,
    )


def reach(record: RuleRecord) -> frozenset[str]:
    """The ids of the ways that a rule judges: of its methods or named, and then only with its bark, tools and steps."""
    found = {
        *(templates().keys() & record.ways),
        *(way for method in record.methods for way in _ways_by("method")[method]),
    }
    if not record.methods and not record.ways:
        found = set(templates())
    for words, what in ((record.bark, "bark"), (record.tools, "tools"), (record.does, "does")):
        if words:
            found &= {way for word in words for way in _ways_by(what)[word]}
    return frozenset(found)


@cache
def _ways_by(what: Literal["method", "bark", "tools", "does"]) -> Mapping[str, frozenset[str]]:
    """The ids of the ways by method, by what becomes of the bark, by tool or by step."""
    found: defaultdict[str, set[str]] = defaultdict(set)
    for one in templates().values():
        words = {"method": (one.method,), "bark": (one.bark,), "tools": one.tools, "does": [s.do for s in one.steps]}
        for word in words[what]:
            found[str(word)].add(one.id)
    return defaultdict(frozenset, {word: frozenset(ways) for word, ways in found.items()})
