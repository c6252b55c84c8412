"""Trees, stems and sites for the brood tests, made without reading a file or cutting a stem."""

from datetime import date

from barkwright.brood.judge import judge_tree
from barkwright.inventory.model import Site, Tree
from barkwright.season.site import season_of
from barkwright.stem.pieces import Piece, TreeStem

ON = date(2026, 11, 15)  # the coming flight is 2027's


def season(region="interior-plateau", latitude=54.0):
    site = Site.model_validate(
        {"name": "any", "units": "imperial", "latitude": latitude, "longitude": -122.0, "region": region}
    )
    return season_of(site, ON)


BC = season()  # flies 21 May to 10 July


def tree(found=None, **fields):
    given = {"id": "T1", "species": "white", "dbh": 16.5, "height": 72.0, **fields}
    if found is not None:
        given["found"] = {name: tuple(value) if isinstance(value, list) else value for name, value in found.items()}
    return Tree.model_validate(given)


def piece(kind="log", number=1, from_ft=0.5, butt_in=16.0, top_in=None, length_ft=8.0):
    top_in = butt_in if top_in is None else top_in
    name = str(number) if kind == "log" else kind
    return Piece(
        id=f"T1/{name}", tree="T1", kind=kind, number=number if kind == "log" else 0, from_ft=from_ft,
        length_ft=length_ft, butt_dob_in=butt_in, top_dob_in=top_in, butt_dib_in=butt_in, top_dib_in=top_in,
        wood_ft3=1.0, bark_ft3=0.1, bark_ft2=10.0, green_lb=50.0, lift_lb=60.0, foliage_lb=0.0, cords=0.0,
        chips_yd3=0.0, measured=False,
    )  # fmt: skip


WHOLE = (
    piece("stump", from_ft=0.0, butt_in=19.0, length_ft=0.5),
    piece(number=1, from_ft=0.5, butt_in=18.0),
    piece(number=2, from_ft=8.5, butt_in=14.0),
    piece(number=3, from_ft=24.5, butt_in=10.0),
    piece(number=4, from_ft=32.5, butt_in=9.0),
    piece(number=5, from_ft=40.5, butt_in=7.0),
    piece("top", from_ft=48.5, butt_in=5.0, top_in=0.0),
    piece("limbs", from_ft=0.0, butt_in=0.0, length_ft=0.0),
)


def stem(*pieces, dbh_in=16.5):
    return TreeStem("T1", dbh_in, None, False, pieces or WHOLE, (), ())


def judge(found=None, on=ON, pieces=(), place=BC, **fields):
    return judge_tree(tree(found, **fields), stem(*pieces), place, on)


def butt(result):
    """The butt log of a judged tree, or its only piece."""
    return next((one for one in result.pieces if one.piece == "T1/1"), result.pieces[0])


def rule(result):
    """The row of the attack table that decided."""
    return butt(result).reasons[0].rule
