"""A small plan of made-up records, so that pages can be tested without the rooms that fill them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from barkwright.brood.finding import PieceBrood, Question, TreeBrood
from barkwright.inventory.model import Crew, Equipment, Inventory, Near, Site, Tree
from barkwright.plan import plan_ways
from barkwright.schedule.jobs import Choice, CostLine, Job, Optimum, RentalRun, Schedule, Unmet
from barkwright.season.site import Season, season_of
from barkwright.season.year import FlightYear
from barkwright.sources import Reason
from barkwright.spread import Spread
from barkwright.stem.pieces import Piece, TreeStem
from barkwright.study.risk import FlightRisk, Risk, TreeRisk
from barkwright.treatment.ways import Way, Window

ON = date(2026, 11, 25)
SAT = date(2026, 11, 28)


@dataclass
class MadeUp:
    """Stands in for plan.Plan: the same names, nothing behind them."""

    inventory: Inventory
    on: date
    stems: tuple[TreeStem, ...]
    broods: tuple[TreeBrood, ...]
    flights: tuple[FlightYear, ...]
    ways: dict[str, tuple[Way, ...]]
    schedule: Schedule
    questions: tuple[Question, ...]
    bench: Any = None
    fellings: dict[str, Any] = field(default_factory=dict)
    diagnostics: tuple[Any, ...] = ()
    broken: tuple[str, ...] = ()
    risk: Risk | None = None
    tries: tuple[Any, ...] = ()
    changes: tuple[Any, ...] = ()
    changed: tuple[Any, ...] = ()
    since: date | None = None
    outcomes: dict[str, Any] = field(default_factory=dict)

    @property
    def season(self) -> Season:
        return season_of(self.inventory.site, self.on)

    @property
    def misses(self) -> bool:
        return bool(self.schedule.unmet)


def piece(tree: str, number: int, butt: float, top: float) -> Piece:
    return Piece(
        f"{tree}/{number}",
        tree,
        "log",
        number,
        0.5 + 8 * (number - 1),
        8.0,
        butt,
        top,
        butt - 0.8,
        top - 0.7,
        6.2,
        0.7,
        29.3,
        310.0,
        402.0,
        0.0,
        0.07,
        0.6,
        False,
    )


def plan(trees: int = 1, unmet: bool = False, name: str = "Quiet Bend") -> Any:
    site = Site(name=name, units="imperial", latitude=53.1, longitude=-122.4)
    ids = [f"T{number}" for number in range(1, trees + 1)]
    near = Near(line="out-of-reach", building="out-of-reach", road="out-of-reach", neighbour="out-of-reach")
    inventory = Inventory(
        barkwright=1,
        site=site,
        trees=tuple(
            Tree(id=i, where="north fence", species="white", dbh=16.5, height=72.0, attacked=2026, near=near)
            for i in ids
        ),
        crew=(
            Crew(name="the two of us", people=2, hours_per_day=6.0, days=("sat", "sun"), skills=("saw",), unpaid=True),
        ),
        equipment=(Equipment(kind="chain-saw", owned=True),),
    )
    stems = tuple(
        TreeStem(i, 16.5, Spread.exactly(72.0), False, (piece(i, 1, 17.0, 15.2), piece(i, 2, 15.2, 13.9)), (), ())
        for i in ids
    )
    because = Reason("larvae-fly-second-spring", "White larvae fly in their second spring.", "A", ())
    broods = tuple(
        TreeBrood(
            i,
            tuple(
                PieceBrood(p.id, "likely", "larvae", False, 2027, None, "high", 1.0, (because,)) for p in stem.pieces
            ),
            (2026,),
            False,
            None,
            (),
            (),
        )
        for i, stem in zip(ids, stems, strict=True)
    )
    window = Window(ON, date(2027, 5, 8), "fits", "done", "dormant", (because,))
    ways = {
        p.id: (
            Way(
                "debark-drawknife",
                p.id,
                "debark",
                "strip the bark with the drawknife",
                ("drawknife",),
                "left on site",
                date(2027, 5, 8),
                date(2027, 6, 20),
                (window,),
            ),
        )
        for stem in stems
        for p in stem.pieces
    }
    jobs = tuple(
        Job(
            f"J{n}",
            i,
            tuple(p.id for p in stem.pieces),
            "process",
            "strip the bark with the drawknife",
            "debark-drawknife",
            SAT,
            SAT,
            (),
            4.0,
            2.0,
            9.0,
            2,
            "the two of us",
            ("drawknife",),
            True,
            "line-not-checked",
            ((SAT, 4.0),),
            (),
            date(2027, 5, 8),
        )
        for n, (i, stem) in enumerate(zip(ids, stems, strict=True), 1)
    )
    schedule = Schedule(
        choices=tuple(
            Choice(p.id, "debark-drawknife", 0, SAT, None, "It fits.") for stem in stems for p in stem.pieces
        ),
        jobs=jobs,
        rentals=(RentalRun("chipper", "chipper, 9 in", SAT, SAT, "1 day, delivered", Decimal("400.00")),),
        costs=(CostLine("chipper, 9 in", "rental", "1 day", Decimal("400.00"), "yours", True),),
        unmet=(Unmet("T1", ("T1/2",), 29.3, "Too few days are left.", "One more weekend."),) if unmet else (),
        infested_before_ft2=58.6,
        infested_left_ft2=0.0,
        host_left_ft2=0.0,
        optimum=Optimum((), "priority rule", "nothing is proven", None),
    )
    question = [
        Question(
            i,
            "line-not-checked",
            f"Is a power line near {i}?",
            "Look up from the stem.",
            "A line stops the felling.",
            1,
        )
        for i in ids
    ]
    flight = FlightYear(2027, date(2027, 5, 22), date(2027, 6, 20), date(2027, 7, 31), 14, "A regional calendar.", ())
    return MadeUp(
        inventory,
        ON,
        stems,
        broods,
        (flight,),
        ways,
        schedule,
        tuple(question),
        plan_ways(inventory, ON).bench,
        risk=risk(*ids),
    )


def risk(*trees: str, chance: float = 0.87, spare: int | None = -3, years: int = 9) -> Risk:
    return Risk(
        probability=chance,
        flights=(FlightRisk(2027, chance, date(2027, 5, 20), spare, years),),
        trees=tuple(TreeRisk(tree, 0.5 + 0.1 * place) for place, tree in enumerate(trees)),
        finish_share=0.8,
        sure_share=0.9,
        bark_left_ft2=8.4,
        years=years,
        range=(0.64, 0.97) if years else None,
        range_level=0.9,
        weather=years > 0,
        pace=(0.7, 1.5),
        draws=2000,
        seed=1,
    )
