"""Figures of the user's own for a species: given fields replace only those, trees rest on them, they are checked."""

import math
from datetime import date

import pytest

from barkwright.inventory.reading import read_inventory
from barkwright.stem.bucking import cut_tree
from barkwright.stem.ownspecies import species_book
from barkwright.stem.tables import shipped_species, species_facts

TREES = """\
barkwright: 1
site: {name: a, units: imperial, latitude: 53.1, longitude: -122.4}
trees:
  - {id: S, species: white, dbh: 15, attacked: 2025}
  - {id: M, species: white, dbh: 15, height: 70, attacked: 2025}
  - {id: L, species: white, status: logs, felled_on: 2026-10-03, attacked: 2025, logs: [{butt: 12, top: 10, length: 8}]}
  - {id: P, species: white, status: stump, felled_on: 2026-10-03, diameter: 14, height: 1, attacked: 2025}
  - {id: B, species: black, dbh: 9, attacked: 2025}
"""


def written(folder, white):
    path = folder / "own.yaml"
    path.write_text(f"species:\n  white: {white}\n", encoding="utf-8")
    return (str(path),)


def stems(local=()):
    inventory, found = read_inventory(TREES, "a", date(2026, 11, 25))
    assert inventory is not None, found
    inventory = inventory.model_copy(update={"local": local})
    return {tree.id: cut_tree(tree, inventory) for tree in inventory.trees}


def test_given_fields_replace_only_those(tmp_path):
    local = written(tmp_path, "{wood_mc: 62, source: a}")
    old, new = species_facts("white"), species_facts("white", local)
    assert (new.wood_mc, new.wood_sg, new.bark_percent) == (62, old.wood_sg, old.bark_percent)
    assert species_facts("black", local) == species_facts("black")


def test_trees_of_the_species_are_local_and_no_others(tmp_path):
    found, plain = stems(written(tmp_path, "{wood_mc: 62, source: woodlot scales}")), stems()
    wet = 62.4 * 0.37 * (62 - 51.59459) / 100  # pounds of water more in a cubic foot of wood
    for name in "SMLP":
        assert found[name].local == ("moisture of the green wood",)
        (note,) = (note for note in found[name].notes if note.code == "local")
        assert "resting on: woodlot scales" in note.message
        for one, two in zip(found[name].pieces, plain[name].pieces, strict=True):
            if one.kind != "limbs":
                assert one.green_lb - two.green_lb == pytest.approx(wet * one.wood_ft3)
                assert one.lift_lb >= two.lift_lb
    assert found["B"] == plain["B"]
    assert not any(stem.local for stem in plain.values())


def test_a_height_curve_counts_where_a_height_is_estimated_and_is_never_narrower(tmp_path):
    found, plain = stems(written(tmp_path, "{height: {form: wykoff, p: [4.55, -7.1]}, source: a}")), stems()
    assert found["S"].height_ft.likely == pytest.approx(4.5 + math.exp(4.55 - 7.1 / 16))
    assert found["S"].height_ft.high >= plain["S"].height_ft.high
    assert found["S"].height_ft.low <= plain["S"].height_ft.low
    assert found["S"].local == ("curve of height from diameter",)
    assert all(found[name].local == () for name in "MLP")


def test_a_bark_factor_is_the_diameter_inside_over_outside(tmp_path):
    found = stems(written(tmp_path, "{bark_factor: 0.9, source: a}"))
    for name in "SMLP":
        for piece in found[name].pieces:
            if piece.kind != "limbs":
                assert piece.butt_dib_in == pytest.approx(0.9 * piece.butt_dob_in)
    log = found["L"].pieces[0]
    assert log.bark_ft3 / log.wood_ft3 == pytest.approx(1 / 0.81 - 1)


FAULTS = [
    ("{wood_sg: 1.4, source: a}", "out-of-range", 2, 20),
    ("{wood_sg: 0.37 g, source: a}", "wrong-unit", 2, 20),
    ("{wood_mc: wet, source: a}", "bad-number", 2, 20),
    ("{wood_sq: 0.4, source: a}", "unknown-key", 2, 11),
    ("{spcd: 93, source: a}", "unknown-key", 2, 11),
    ("{wood_sg: 0.4}", "uncited", 2, 3),
    ("{source: a}", "missing-value", 2, 3),
    ("{bark_percent: 12, bark_factor: 0.9, source: a}", "bad-value", 2, 29),
    ("{height: 70, source: a}", "odd-shape", 2, 19),
    ("{height: {form: line, p: [1, 2]}, source: a}", "bad-choice", 2, 26),
    ("{height: {form: wykoff}, source: a}", "missing-key", 2, 19),
    ("{height: {form: wykoff, p: [4.5]}, source: a}", "bad-value", 2, 37),
    ("{height: {form: wykoff, p: [4.5, 7.1]}, source: a}", "out-of-range", 2, 37),
    ("{height: {form: wykoff, p: [9e9, -7]}, source: a}", "out-of-range", 2, 37),
    ("{height: {form: chapman, p: [90, 0.1, 1.5]}, source: a}", "out-of-range", 2, 38),
    ("tall", "odd-shape", 2, 10),
]


@pytest.mark.parametrize(("text", "code", "line", "column"), FAULTS)
def test_a_fault_is_told_once_at_its_place_and_the_shipped_species_stays(tmp_path, text, code, line, column):
    book = species_book(written(tmp_path, text))
    assert [(one.code, one.where.line, one.where.column) for one in book.diagnostics] == [(code, line, column)]
    assert book.facts == shipped_species()


def test_a_species_that_there_is_not_is_refused_with_the_nearest(tmp_path):
    path = tmp_path / "own.yaml"
    path.write_text("species:\n  whit: {wood_mc: 62, source: a}\n")
    (fault,) = species_book((str(path),)).diagnostics
    assert (fault.code, fault.hint) == ("unknown-name", "did you mean 'white'?")


@pytest.mark.parametrize(("at_40_in", "sound"), [(319.0, True), (321.0, False)])
def test_no_spruce_of_forty_inches_is_taller_than_320_feet(tmp_path, at_40_in, sound):
    first = math.log(at_40_in - 4.5) + 7 / 41  # Wykoff: 4.5 + exp(p1 + p2 / (d + 1))
    book = species_book(written(tmp_path, f"{{height: {{form: wykoff, p: [{first:.6f}, -7.0]}}, source: a}}"))
    assert bool(book.own) is sound
    assert all("at most 320 ft" in one.message for one in book.diagnostics)
    assert bool(book.diagnostics) is not sound
