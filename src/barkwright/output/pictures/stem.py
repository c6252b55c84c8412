"""The picture of a stem: lying, butt left, with its cuts, what holds beetles, and what becomes of each piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from barkwright.output.blocks import Picture
from barkwright.output.names import part_names
from barkwright.output.pictures.stem_drawing import stem_drawing
from barkwright.output.pictures.stem_lines import stem_lines
from barkwright.output.pictures.stem_parts import LIVES, Run, Stem, StemPart
from barkwright.output.words import listing

if TYPE_CHECKING:
    from barkwright.output.view import View
    from barkwright.stem.pieces import Piece

_WORDS = {
    "chip": "chip", "debark": "strip", "score": "groove", "burn": "burn", "bury": "bury", "split": "split",
    "haul": "haul away", "leave": "leave",
}  # fmt: skip
_MORE = {("debark", "fuel"): "split", ("debark", "saw log"): "saw log", ("chip", "hauled"): "haul away"}
_LISTED_CUTS = 12


def stem_picture(view: View, tree: str) -> Picture | None:
    """The stem of a tree, or its logs one after the other; None where there is no more than a stump."""
    solid = [piece for piece in view.stems[tree].pieces if piece.kind != "limbs" and piece.length_ft > 0]
    if not any(piece.kind != "stump" for piece in solid):
        return None
    status = view.trees[tree].status
    falls = view.plan.fellings.get(tree)
    stays = status == "standing" and falls is not None and falls.who == "not needed"
    parts = tuple(_part(view, piece, stays) for piece in solid)
    stem = Stem(
        parts,
        tuple(_runs(view, tree, parts, stays)),
        view.units,
        to_cut=status in ("windthrown", "felled") or tree in view.felled,
        in_logs=status == "logs",
    )
    title = (
        f"{tree}: {'the logs' if stem.in_logs else 'the stem'}, and what becomes of {'them' if stem.in_logs else 'it'}"
    )
    return Picture(title, _alt(stem, tree), stem_drawing(stem), stem_lines(stem))


def _part(view: View, piece: Piece, stays: bool) -> StemPart:
    found, way = view.broods.get(piece.id), view.way(piece.id)
    lives = "none" if found is None else "host" if found.host else found.brood
    tools = way.tools if way is not None else ()
    thin = next(
        (
            (point.short_butt_ft, point.equipment.replace("-", " "))
            for point in piece.cut_points
            if point.equipment in tools and 0 < point.short_butt_ft < piece.length_ft
        ),
        None,
    )
    return StemPart(piece, _name(piece), lives, _fate(view, piece.id, stays), thin)


def _name(piece: Piece) -> str:
    return str(piece.number) if piece.kind == "log" else piece.kind


def _fate(view: View, piece: str, stays: bool) -> str:
    """What becomes of a piece in a word or two."""
    if stays:
        return "stays standing"
    way, missed = view.way(piece), piece in view.unmet
    if way is None:
        if piece in view.plan.outcomes:
            return "under way" if missed else "done"
        return "no way yet" if missed else "nothing to do"
    more = _MORE.get((way.method, way.then))
    said = f"{_WORDS[way.method]}, {more}" if more else _WORDS[way.method]
    return f"{said}, too late" if missed else said


def _runs(view: View, tree: str, parts: Sequence[StemPart], stays: bool) -> Iterator[Run]:
    """Neighbours with one fate; the limbs go with the top, or stand alone behind it."""
    limbs = [piece for piece in view.stems[tree].pieces if piece.kind == "limbs"]
    fate = _fate(view, limbs[0].id, stays) if limbs else None
    for same, group in groupby(enumerate(parts), key=lambda pair: pair[1].fate):
        members = [place for place, _ in group]
        last = members[-1] == len(parts) - 1
        yield Run(members[0], members[-1], same, "too" if last and fate == same else "none")
        if last and fate is not None and fate != same:
            yield Run(members[-1], members[-1], fate, "alone")


def _alt(stem: Stem, tree: str) -> str:
    """All of the picture in words."""
    parts, units = stem.parts, stem.units
    what = "Logs" if stem.in_logs else "Stem"
    said = [f"{what} of {tree}, butt to the left, {units.feet(stem.length_ft)} long."]
    for lives, phrase in LIVES.items():
        holds = [part.piece.id.rpartition("/")[2] for part in parts if part.lives == lives]
        if holds:
            said.append(f"{part_names(holds)}: {phrase}.".capitalize())
    said.append(f"What becomes of them: {'; '.join(stem.whole.text(run) for run in stem.runs)}.")
    cuts = [part for part in parts if part.piece.from_ft > 0]
    if cuts and not stem.in_logs:
        lead = "Cuts" if stem.to_cut else "Cuts, if it is ever felled,"
        if len(cuts) <= _LISTED_CUTS:
            places = listing([units.feet(part.piece.from_ft, 1).partition(" ")[0] for part in cuts])
            unit = units.feet(cuts[-1].piece.from_ft, 1).rpartition(" ")[2]
            said.append(f"{lead} at {places} {unit} from the ground.")
        else:
            said.append(f"{lead}: {len(cuts)}.")
    last = parts[-1].piece
    thin = last.butt_dob_in if last.kind == "top" else last.top_dob_in
    said.append(f"Across, from the butt to the last cut: {units.ends(parts[0].piece.butt_dob_in, thin)}.")
    for part in parts:
        if part.thin is not None:
            said.append(
                f"The {part.thin[1]} takes log {part.name} from {units.feet(part.thin[0], 1)} above its butt on."
            )
    return " ".join(said)
