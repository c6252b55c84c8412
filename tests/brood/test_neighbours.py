"""Which live spruce is looked at first after a flight."""

from brood_cases import BC, ON, stem, tree

from barkwright.brood.judge import judge_tree
from barkwright.brood.neighbours import watched


def order(*trees):
    broods = [judge_tree(one, stem(dbh_in=one.dbh_in), BC, ON) for one in trees]
    return [one.tree for one in watched(trees, broods)]


def green(name, **fields):
    return tree(id=name, attacked="never", **fields)


def test_of_large_trees_the_thickest_comes_first_and_a_seldom_attacked_species_last():
    # Beetles take the largest trees first (csfs2014, opening page); 16 in is large there.
    trees = (green("thin", dbh=16.0), green("black", dbh=30.0, species="black"), green("thick", dbh=24.0))
    assert order(*trees) == ["thick", "thin", "black"]


def test_a_size_that_nobody_took_comes_after_what_is_known_to_be_of_middle_size():
    assert order(green("unknown", dbh=None), green("small", dbh=4.9), green("middle", dbh=5.0)) == [
        "middle",
        "unknown",
        "small",
    ]
