"""Which rates a way's hours rest on: for `why`, and for naming every placeholder that changes a result."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from barkwright.treatment.bench import Bench
from barkwright.treatment.rates import Equation, Rate, Setting, equations
from barkwright.treatment.shop import Shop, shop_of

CUT = ("cut-move", "cut-face", "saw-share")
RATES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "cut-free-butt": CUT,
        "quarter": ("rip-face", *CUT),
        "chip": ("chipper-share", "chip-drag", "limb-drag", "limb-bundle", *CUT),
        "limb-flush": ("stub-density", "stub-cut", "stub-axe-factor", "saw-share", "hand-share"),
        "score": ("peel-dormant", "saw-debarker", "score-factor", "turn-log", "saw-share"),
        "buck-short": CUT,
        "buck-fuel": CUT,
        "stack": ("stack", "hand-share"),
        "stove": ("stove", "hand-share"),
        "gather-bark": ("bark-gather", "hand-share"),
        "bag-bark": ("bark-bag", "hand-share"),
        "destroy-bark-burn": ("burn-share", "burn-attend"),
        "destroy-bark-bury": ("hand-dig", "hand-share"),
        "destroy-bark-chip": ("chipper-share", "chip-drag"),
        "haul-bark": ("load-hand", "haul-share", "drive-factor", "hand-share"),
        "spread-chips": ("chip-spread", "hand-share"),
        "pile": ("pile", "hand-share"),
        "burn": ("burn-share", "burn-attend", "burn-green-factor"),
        "burn-stump": ("burn-share", "burn-attend", "burn-stump-piles"),
        "grind-stump": ("grind-stump", "grind-setup"),
        "scatter": ("scatter", "hand-share"),
        "load-haul": ("load-hand", "load-machine", "haul-share", "drive-factor", "hand-share"),
    }
)
"""Rates by word of the ways' vocabulary, where neither tool nor bark decides them."""

SETTINGS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "quarter": ("short-length",),
        "chip": ("lift-people",),
        "buck-short": ("short-length",),
        "gather-bark": ("bark-loose",),
        "bag-bark": ("bark-loose",),
        "destroy-bark-burn": ("bark-loose", "slash-pile-height", "slash-pile-width"),
        "destroy-bark-bury": ("bark-loose", "bark-layer", "trench-cover"),
        "destroy-bark-chip": ("bark-loose", "bark-armful", "bark-weight"),
        "haul-bark": ("bark-loose", "bark-weight", "truck-payload", "truck-yd3", "default-miles"),
        "pile": ("short-length",),
        "burn": (
            "pack-large", "pack-small", "log-pile-height", "log-pile-width", "slash-pile-height", "slash-pile-width",
            "dry-share",
        ),
        "bury": (
            "bucket", "trench-clearance", "trench-layer", "trench-width", "trench-packing", "trench-cover",
            "soil-swell",
        ),
        "cover-stump": ("bucket", "trench-cover"),
        "load-haul": ("truck-payload", "truck-yd3", "default-miles"),
    }
)  # fmt: skip
"""Sizes by word of the ways' vocabulary."""


EQUATIONS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "chip": ("chipping", "lifting"),
        "destroy-bark-chip": ("chipping",),
        "destroy-bark-burn": ("pile-shape", "smoke"),
        "pile": ("lifting",),
        "burn": ("hand-pile", "pile-shape", "smoke"),
        "burn-stump": ("smoke",),
        "bury": ("digging",),
        "cover-stump": ("digging",),
        "load-haul": ("drive", "lifting"),
        "haul-bark": ("drive",),
    }
)
"""Published equations by word of the ways' vocabulary."""

FELLING_RATES = (
    "tree-setup", "tree-walk", "yard-factor", "saw-share", "limb", "log-cut", "tree-limbs",
)  # fmt: skip
FELLING_EQUATIONS = (
    "fell-likely", "fell-low", "fell-high", "fell-volume", "fell-unknown", "limb-and-buck", "limb-and-buck-high",
)  # fmt: skip


class FigureLine(NamedTuple):
    """One figure in words: what it is, its value with unit, and what it rests on."""

    what: str
    value: str
    basis: str


class Grounds(NamedTuple):
    """What the hours and amounts of a plan rest on, each named once."""

    local: tuple[str, ...]  # the user's own rates and sizes
    placeholders: tuple[str, ...]  # nobody published them: enter your own
    ours: tuple[str, ...]
    from_memory: tuple[str, ...]
    practice: tuple[str, ...]  # common practice, no source
    sources: tuple[str, ...]  # "key, locator" of published figures and equations


def figures_behind(bench: Bench, chosen: Iterable[tuple[str, str]], felling: bool = True) -> Grounds:
    """What the chosen ways rest on; chosen: way id and bark condition of each, felling: is a tree felled or bucked?"""
    book = shop_of(bench.inventory).book
    pairs = sorted(set(chosen))
    entries: dict[str, Rate | Setting] = {}
    known = [EQUATIONS.get(step.do, ()) for way, _ in pairs for step in bench.template(way).steps]
    for way, bark in pairs:
        entries |= dict(rates_behind(bench, way, bark))
        entries |= dict(settings_behind(bench, way))
    if felling:
        entries |= {name: book.rates[name] for name in FELLING_RATES}
        known.append(FELLING_EQUATIONS)
    titles = {
        name: f"{entry.title} ({entry.own_source})" if entry.local else entry.title for name, entry in entries.items()
    }

    def named(basis: str) -> tuple[str, ...]:
        return tuple(titles[name] for name, entry in entries.items() if entry.basis == basis and not entry.local)

    cited = [entry.source for entry in entries.values() if entry.source and entry.basis == "published"]
    cited += [equations()[name].source for names in known for name in names]
    local = tuple(titles[name] for name, entry in entries.items() if entry.local)
    return Grounds(
        local, named("placeholder"), named("ours"), named("from memory"), named("common practice, no source"),
        tuple(sorted(set(cited))),
    )  # fmt: skip


def own_figures(bench: Bench, chosen: Iterable[tuple[str, str]], felling: bool = True) -> tuple[str, ...]:
    """The user's own rates and sizes behind some ways, each with what it rests on."""
    return figures_behind(bench, chosen, felling).local if bench.inventory.local else ()


def figure_lines(bench: Bench, chosen: Iterable[tuple[str, str]]) -> tuple[FigureLine, ...]:
    """Every figure behind the ways, in words, each once: rates, then sizes, then published equations."""
    pairs = sorted(set(chosen))
    rates = {name: rate for way, bark in pairs for name, rate in rates_behind(bench, way, bark)}
    sizes = {name: size for way, _ in pairs for name, size in settings_behind(bench, way)}
    known = dict.fromkeys(each for way, _ in pairs for each in equations_behind(bench, way))
    found = [
        FigureLine(each.title, f"{_between(each)} {_unit(each.unit)}".rstrip(), _rests(each)) for each in rates.values()
    ]
    found += [
        FigureLine(each.title, f"{each.value:g} {_unit(each.unit)}".rstrip(), _rests(each)) for each in sizes.values()
    ]
    return (*found, *(FigureLine(each.title, "equation", each.source) for each in known))


def _between(rate: Rate) -> str:
    return f"{rate.low:g} to {rate.high:g}, likely {rate.likely:g}"


def _unit(unit: str) -> str:
    words = {"h": "hours", "min": "minutes", "person-h": "person-hours", "share": "", "factor": "times"}
    top, _, under = unit.partition("/")
    under = {"h": "hour", "person-h": "person-hour", "min": "minute"}.get(under, under)
    return words.get(top, top) + (f" per {under}" if under else "")


def _rests(entry: Rate | Setting) -> str:
    if entry.local:
        return f"local: {entry.own_source}"
    if entry.basis == "published" and entry.source:
        return entry.source
    return "placeholder: enter your own" if entry.basis == "placeholder" else entry.basis


def equations_behind(bench: Bench, way: str) -> tuple[Equation, ...]:
    """The published equations that a way's hours and amounts rest on, each once, in the order of the steps."""
    names = [name for step in bench.template(way).steps for name in EQUATIONS.get(step.do, ())]
    return tuple(equations()[name] for name in dict.fromkeys(names))


def rate_names(do: str, tool: str | None, bark: str) -> tuple[str, ...]:
    """Ids of the rates that the hours of one step may rest on, with its tool, in a bark condition."""
    if do in ("peel", "peel-stump"):
        stump = ("stump-peel-factor",) if do == "peel-stump" else ("turn-log",)
        if tool == "saw-debarker":
            return ("peel-dormant", "saw-debarker", *stump, "saw-share")
        spud = ("spud-easy" if bark in ("slipping", "loosened") else "spud-tight",) if tool == "bark-spud" else ()
        return (f"peel-{bark}", *spud, *stump, "hand-share")
    if do == "split":
        return ("split-splitter" if tool == "splitter" else "split-maul", "hand-share")
    if do in ("bury", "cover-stump"):
        lay = ("lay-log",) if do == "bury" else ()
        speed = ("dig-backhoe",) if tool == "backhoe" else ("bucket-fill", "dig-cycles", "dig-share")
        return (*speed, "fill-factor", *lay)
    return RATES[do]


def rates_behind(bench: Bench, way: str, bark: str) -> tuple[tuple[str, Rate], ...]:
    """The rates that a way's hours rest on, by id, each once, in the order of the steps."""
    shop = shop_of(bench.inventory)
    names = [name for step in bench.template(way).steps for name in rate_names(step.do, step.tool, bark)]
    return tuple((name, shop.book.rates[name]) for name in dict.fromkeys(names))


def settings_behind(bench: Bench, way: str) -> tuple[tuple[str, Setting], ...]:
    """The sizes that a way's hours and amounts rest on, by id, each once; those the inventory answers are left out."""
    shop = shop_of(bench.inventory)
    names = [name for step in bench.template(way).steps for name in SETTINGS.get(step.do, ())]
    answered = _answered(bench, shop, way)
    return tuple((name, shop.book.settings[name]) for name in dict.fromkeys(names) if name not in answered)


def placeholders(bench: Bench, way: str, bark: str) -> tuple[str, ...]:
    """What a way rests on that nobody published: titles for "placeholder: enter your own"."""
    rates = [rate.title for _, rate in rates_behind(bench, way, bark) if rate.basis == "placeholder"]
    sizes = [size.title for _, size in settings_behind(bench, way) if size.basis == "placeholder"]
    return (*rates, *sizes)


def _answered(bench: Bench, shop: Shop, way: str) -> frozenset[str]:
    """Sizes that this site's own inventory makes unnecessary."""
    found = {"default-miles"} if bench.destination(way) is not None else set()
    tools = bench.template(way).tools
    if any(shop.payload_given(kind) for kind in tools if kind in ("truck", "trailer")) or "chip-truck" in tools:
        found.add("truck-payload")
    if shop.payload_given("chip-truck") or not (
        {"chip-truck"} & set(tools) or bench.template(way).bark == "carried-off"
    ):
        found.add("truck-yd3")
    return frozenset(found)
