"""What lives in a tree and its pieces, which flight it must beat, and what has to be looked at first."""

from __future__ import annotations

from datetime import date

from barkwright.brood import hosts, look, questions, signs, sizes, warmth
from barkwright.brood.finding import Confidence, PieceBrood, Question, TreeBrood
from barkwright.brood.verdict import Verdict, other_insect, outcome, outcomes, verdict_on
from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Tree
from barkwright.season.site import Season
from barkwright.season.year import in_words
from barkwright.stem.pieces import Piece, TreeStem


def judge_tree(tree: Tree, stem: TreeStem, season: Season, on: date) -> TreeBrood:
    """The brood of one tree and of each of its pieces on the plan's date.

    The worst attack year that the user's word and the signs leave open decides. Pieces come in the stem's order.
    """
    years = signs.attack_years(tree, season, on)
    verdict = warmth.refined(tree, season, on, years, verdict_on(tree, season, on, years))
    pieces = _pieces(tree, stem, verdict, season, on)
    holds = any(piece.brood != "none" for piece in pieces)
    host = any(piece.host for piece in pieces)
    lain = host and hosts.flights_lain_through(tree, season, on) > 0 and not _looked_through(tree)
    return TreeBrood(
        tree=tree.id,
        pieces=pieces,
        possible_attack_years=years.years,
        needs_inspection=(holds and verdict.look_next) or lain,
        may_stay_standing=_may_stay(tree, stem, verdict, holds),
        questions=_questions(tree, season, on, years, verdict, holds, lain),
        notes=_notes(tree, on, verdict, holds),
        early_flight=verdict.early if holds and verdict.look_next else None,
    )


def _pieces(tree: Tree, stem: TreeStem, verdict: Verdict, season: Season, on: date) -> tuple[PieceBrood, ...]:
    if verdict.brood == "none" or verdict.flight is None or verdict.stage is None or verdict.attacked is None:
        return tuple(_empty_piece(piece, tree, verdict, season, on) for piece in stem.pieces)
    stood = sizes.stood(tree, verdict.attacked, season)
    within = sizes.Within(
        level=verdict.brood,
        bole=verdict.bole if stood else None,
        stood=stood,
        winter=sizes.winter_of(tree, stood, verdict.stage, verdict.flight, on),
        seen=_seen_in(tree, stem),
    )
    return tuple(_infested_piece(piece, tree, verdict, within) for piece in stem.pieces)


def _seen_in(tree: Tree, stem: TreeStem) -> tuple[str, ...]:
    """The pieces in which the live brood on record will have been seen: the base, and the thickest."""
    if not _live_here(tree):
        return ()
    stems = [piece for piece in stem.pieces if piece.kind in ("log", "stump")]
    thickest = max((piece.butt_dob_in for piece in stems), default=0.0)
    return tuple(piece.id for piece in stems if sizes.is_base(piece, tree) or piece.butt_dob_in == thickest)


def _infested_piece(piece: Piece, tree: Tree, verdict: Verdict, within: sizes.Within) -> PieceBrood:
    held = sizes.held_by(piece, tree, within)
    if verdict.upper_flight is not None and warmth.out_of_reach(piece, tree):
        verdict = warmth.above(verdict)
    infested = held.brood != "none"
    return PieceBrood(
        piece=piece.id,
        brood=held.brood,
        stage=verdict.stage if infested else None,
        host=False,
        flight_to_beat=verdict.flight if infested else None,
        adults_from=verdict.adults_from if infested else None,
        confidence=verdict.confidence if held.brood == "likely" else _at_most_medium(verdict.confidence),
        weight=held.weight,
        reasons=(*verdict.reasons, *held.reasons) if infested else held.reasons,
    )


def _empty_piece(piece: Piece, tree: Tree, verdict: Verdict, season: Season, on: date) -> PieceBrood:
    draws = hosts.draws_beetles(tree, season, on)
    host = draws and hosts.is_host_piece(piece)
    reasons = verdict.reasons
    if host:
        reasons = (*reasons, outcome("host-to-fell" if tree.status == "standing" else "host"))
    elif draws:
        reasons = (*reasons, outcome("host-thin"))
    return PieceBrood(
        piece=piece.id,
        brood="none",
        stage=None,
        host=host,
        flight_to_beat=hosts.flight_drawn(tree, season, on) if host else None,
        adults_from=None,
        confidence=verdict.confidence,
        weight=sizes.weights().none,
        reasons=reasons,
    )


def _at_most_medium(confidence: Confidence) -> Confidence:
    return "low" if confidence == "low" else "medium"


def _may_stay(tree: Tree, stem: TreeStem, verdict: Verdict, holds: bool) -> str | None:
    """Why a standing tree may not need felling for the beetle's sake, the strongest reason first."""
    if tree.status != "standing":
        return None
    stay = outcomes().stay
    if holds and _live_here(tree):
        return None
    if tree.found and tree.found.insect in ("engraver", "other"):
        return stay[tree.found.insect]
    if verdict.attacked is None:
        return stay["never" if tree.removal is None else "removed"]
    if tree.attack in ("pitched-out", "strip") and holds:
        return stay[tree.attack]
    dbh = tree.breast_height_in or stem.dbh_in
    if dbh is not None and dbh < outcomes().small_dbh_in:
        return stay["small"]
    if holds:
        return None
    return stay["failed" if verdict.reasons[0].rule == "last-summer-nothing-found" else "empty"]


def _questions(
    tree: Tree, season: Season, on: date, years: signs.AttackYears, verdict: Verdict, holds: bool, lain: bool
) -> tuple[Question, ...]:
    asked: list[Question] = []
    if years.contradiction is not None:
        worst = f"brood that flies in {verdict.flight}" if holds else "no brood"
        asked.append(questions.attack_year(tree, years.contradiction, worst))
    if holds and verdict.look_next:
        if other_insect(tree):
            asked.append(questions.other_insect(tree, season, on, verdict.early))
        elif verdict.reasons[-1].rule == "mass-without-brood":
            asked.append(questions.mass_without_brood(tree, season, on, verdict.early))
        else:
            asked.append(questions.look_under_bark(tree, season, on, verdict.early))
    if holds and verdict.upper_flight is not None and verdict.reasons[0].rule == "last-summer-larvae":
        asked.append(questions.look_higher(tree, season, on, verdict.upper_flight))
    if holds and tree.attack == "strip" and tree.status == "standing" and _live_here(tree):
        asked.append(questions.strip_attack(tree))
    if lain and not holds:
        asked.append(questions.look_at_host(tree, on))
    return tuple(asked)


def _notes(tree: Tree, on: date, verdict: Verdict, holds: bool) -> tuple[Diagnostic, ...]:
    notes = []
    if tree.found and tree.found.stages and tree.found.seen is None:
        when = in_words(on)
        notes.append(
            Diagnostic(
                "note",
                "assumption",
                f"the day of the look under the bark is not given, so {when} is taken",
                subject=tree.id,
                hint="write seen: with the day, for larvae seen in August may be adults by October",
            )
        )
    if _live_here(tree) and tree.found and tree.found.insect == "not-sure":
        notes.append(
            Diagnostic(
                "note",
                "assumption",
                "the insect is not named, so what lives under the bark is taken to be spruce beetle",
                subject=tree.id,
                hint=f"{look.look_book().looks['gallery']} {look.look_book().looks['engraver']}",
            )
        )
    if holds and tree.status == "logs" and tree.stood_at_attack is not False and verdict.stage != "larvae":
        notes.append(
            Diagnostic(
                "note",
                "assumption",
                "these logs may have left a stump that holds adults over the winter, and it is not part of this entry",
                subject=tree.id,
                hint="list the stump as a tree of its own with status: stump, unless it is listed already",
            )
        )
    return tuple(notes)


def _live_here(tree: Tree) -> bool:
    """Was live brood seen that is spruce beetle's, or may be?"""
    return look.live_brood(tree.found) and not other_insect(tree)


def _looked_through(tree: Tree) -> bool:
    return bool(tree.found and tree.found.stages)
