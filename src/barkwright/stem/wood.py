"""From solid wood and bark to pounds, cords and loose chips, for the wood of one tree."""

from __future__ import annotations

from barkwright.inventory.model import Tree
from barkwright.record import dataclass
from barkwright.stem import measures
from barkwright.stem.pieces import CutPoint, Piece, PieceKind
from barkwright.stem.tables import SpeciesFacts, factor
from barkwright.units import FT3_PER_YD3


@dataclass(frozen=True, slots=True)
class Ends:
    """Where a piece lies on its stem, and how thick it is there."""

    from_ft: float
    length_ft: float
    butt_dob_in: float
    top_dob_in: float
    butt_dib_in: float
    top_dib_in: float


@dataclass(frozen=True, slots=True)
class Wood:
    """How the wood of one tree weighs and stacks."""

    tree: str
    facts: SpeciesFacts
    bark_left: float  # share of the bark that is still on
    long_dead: bool

    def piece(
        self,
        kind: PieceKind,
        number: int,
        ends: Ends,
        wood_ft3: float,
        bark_ft3: float,
        bark_dry_lb: float,
        bark_ft2: float,
        measured: bool = False,
        cut_points: tuple[CutPoint, ...] = (),
    ) -> Piece:
        """A piece of stem from its solid wood, and the bark it had before any fell off.

        Planning weight: green wood by the species' density, green bark by its dry weight; long-dead wood by one
        published figure. Lifting weight: the heaviest published figure, never under the planning weight. A stump is
        neither stacked nor chipped: 0 cords, 0 yd3.
        """
        facts, left = self.facts, self.bark_left
        if self.long_dead:
            green_lb = wood_ft3 * factor("long-dead")
        else:
            green_lb = wood_ft3 * measures.density_lb_ft3(facts.wood_sg, facts.wood_mc)
            green_lb += bark_dry_lb * left * (1 + facts.bark_mc / 100)
        loose = measures.loose_yd3(wood_ft3, bark_ft3 * left, factor("chips-wood"), factor("chips-bark"))
        return Piece(
            id=f"{self.tree}/{number or kind}",
            tree=self.tree,
            kind=kind,
            number=number,
            from_ft=ends.from_ft,
            length_ft=ends.length_ft,
            butt_dob_in=ends.butt_dob_in,
            top_dob_in=ends.top_dob_in,
            butt_dib_in=ends.butt_dib_in,
            top_dib_in=ends.top_dib_in,
            wood_ft3=wood_ft3,
            bark_ft3=bark_ft3 * left,
            bark_ft2=bark_ft2 * left,
            green_lb=green_lb,
            lift_lb=max(green_lb, wood_ft3 * factor("lift-live")),
            foliage_lb=0.0,
            cords=0.0 if kind == "stump" else wood_ft3 / factor("cord-solid"),
            chips_yd3=0.0 if kind == "stump" else loose,
            measured=measured,
            cut_points=cut_points,
        )

    def limbs(self, branch_dry_lb: float, foliage_dry_lb: float) -> Piece:
        """Branches and needles of one tree, from their dry weights.

        Green weight by the species' dry-to-green factor for wood with bark: none is published for branches. Lifting
        weight by the same factor times lifting over planning weight of the wood. Loose chips by the dry bulk density
        of loose stem chips: none is published for slash. Solid volume 0, so that the stem's volumes stay additive.
        """
        facts = self.facts
        dry_lb = branch_dry_lb + foliage_dry_lb
        planning = measures.density_lb_ft3(facts.wood_sg, facts.wood_mc)
        dead_share = factor("long-dead") / planning if self.long_dead else 1.0
        grown = measures.dry_to_green(facts.wood_sg, facts.wood_mc, facts.bark_sg, facts.bark_mc, facts.bark_percent)
        green_lb = dry_lb * max(1.0, grown * dead_share)
        bulk = measures.loose_bulk_lb_ft3(facts.wood_sg, factor("chips-wood"))
        return Piece(
            id=f"{self.tree}/limbs",
            tree=self.tree,
            kind="limbs",
            number=0,
            from_ft=0.0,
            length_ft=0.0,
            butt_dob_in=0.0,
            top_dob_in=0.0,
            butt_dib_in=0.0,
            top_dib_in=0.0,
            wood_ft3=0.0,
            bark_ft3=0.0,
            bark_ft2=0.0,
            green_lb=green_lb,
            lift_lb=max(green_lb, dry_lb * grown * factor("lift-live") / planning),
            foliage_lb=foliage_dry_lb,
            cords=0.0,
            chips_yd3=dry_lb / bulk / FT3_PER_YD3,
            measured=False,
        )


def is_long_dead(tree: Tree) -> bool:
    """Has the tree been dead so long that its wood has dried: bare crown, and dried bark or years since attack?"""
    if tree.found is None or tree.found.crown != "bare":
        return False
    if tree.bark.condition == "dried":
        return True
    if tree.found.seen is None or not isinstance(tree.attacked, int):
        return False
    return tree.found.seen.year - tree.attacked >= factor("long-dead-years")
