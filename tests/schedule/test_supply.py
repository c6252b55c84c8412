"""What there is in the period model: hands beside hired machines on the days on which these are hired."""

from __future__ import annotations

import pytest
from made_sites import planned, site_text

from barkwright.schedule.levels import MONEY
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.optimum.ideal import ideal_of
from barkwright.schedule.optimum.large import priced, variants_of
from barkwright.schedule.optimum.like import like_trees
from barkwright.schedule.optimum.spans import TreeColumns


def site(people: int) -> SiteModel:
    """Wood that is chipped by two hands, and two chippers, so that hands run short before machines."""
    more = "wishes: {avoid: [debark, burn, bury]}"
    return site_model(planned(site_text(4, 10, people=people, chippers=2, more=more)).work)


@pytest.mark.parametrize(("people", "teams"), [(2, 1), (3, 1), (4, 2), (5, 2)])
def test_on_a_day_of_hire_there_are_as_many_teams_of_two_as_the_crew_can_make(people: int, teams: int) -> None:
    """A third or a fifth person adds no team: seven hours of each team, and no more, are worked beside the machine."""
    model = site(people)
    chipper = next(machine.place for machine in model.machines if machine.hired)
    variants = variants_of(model)
    every = [
        TreeColumns(one.middle, len(one.trees), variants.seasons(one.middle), False, one.trees)
        for one in like_trees(model)
    ]
    found = priced(model, [ideal_of(model, one)[0] for one in every], (MONEY,))
    beside = 0.0  # hours of teams of two beside a chipper [h]
    for taken in found.period.taken:
        for held in taken.pieces:
            for column, variant in held:
                for chunk in variant.chunks:
                    if chunk.hands[1] == 2 and (chipper,) in chunk.hands[2]:
                        beside += found.values[column] * chunk.hours / 2
    days = sum(found.values[use.column] for use in found.period.hired[chipper].values())
    assert beside > 1.0
    assert beside == pytest.approx(7.0 * teams * days, rel=1e-4)  # hires cost, so there are no more days than it takes
