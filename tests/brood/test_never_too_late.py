"""Whatever really lives in a tree, what is planned for is never later, and never nothing while something lives there.

The truth is simulated here from the life cycle alone (brood of one, two or three years; new adults in August and
September of the last summer; adults of standing trees at the base in winter) and knows nothing of the decision table.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from brood_cases import BC, butt, judge
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from barkwright.season.flight import coming_flight, flight_year

DAY = timedelta(days=1)
SIDES = {"standing": ("base", "sunny", "shaded", "upper"), "down": ("top", "side", "bottom")}


@dataclass(frozen=True)
class Truth:
    """A tree attacked in one year, with broods of one or more lengths."""

    attacked: int
    lengths: tuple[int, ...]  # years
    early: bool  # adults already in August, or only by October

    def alive(self, on):
        """Lengths of the broods that have not flown by that day."""
        return [n for n in self.lengths if on < flight_year(BC, self.attacked + n).end]

    def stages_seen(self, seen, looked, lies):
        """What a look would find on those sides, on a day after the attack."""
        found = set()
        for length in self.alive(seen):
            last = self.attacked + length - 1
            grown = seen >= date(last, 8, 1) if self.early else seen >= date(last, 10, 1)
            if not grown:
                found |= {"larvae"} if looked else set()
            elif self._shows(length, seen, looked, lies):
                found.add("adults")
        return sorted(found) or ["none"]

    def _shows(self, length, seen, looked, lies):
        """Grown brood of one year shows on the sunny side or on top; slower brood at the base or underneath."""
        if lies:
            return ("top" if length == 1 else "bottom") in looked
        return ("sunny" if length == 1 else "base") in looked


truths = st.builds(
    Truth,
    st.integers(2022, 2026),
    st.sampled_from([(1,), (2,), (3,), (1, 2), (2, 3), (1, 2, 3)]),
    st.booleans(),
)
SINCE_ATTACK, SINCE_LOOK = st.integers(0, 1500), st.integers(0, 900)  # days from the attack to the look, and after it


def planned_in_time(result, truth, on):
    alive = truth.alive(on)
    if not alive:
        return True
    first = min(truth.attacked + n for n in alive)
    one = butt(result)
    return one.brood != "none" and one.flight_to_beat <= max(first, coming_flight(BC, on))


@settings(max_examples=600)
@given(truths, SINCE_ATTACK, SINCE_LOOK, st.sets(st.sampled_from(SIDES["standing"]), min_size=1), st.booleans())
def test_standing_trees_of_a_known_attack_year(truth, till_look, after, looked, with_a_look):
    seen = flight_year(BC, truth.attacked).onset + till_look * DAY
    on = seen + after * DAY
    found = None
    if with_a_look:
        stages = truth.stages_seen(seen, looked, lies=False)
        found = {"stages": stages, "looked": sorted(looked), "seen": seen}
    assert planned_in_time(judge(found, on=on, attacked=truth.attacked), truth, on)


@settings(max_examples=600)
@given(
    truths,
    SINCE_ATTACK,
    SINCE_LOOK,
    st.sets(st.sampled_from(SIDES["down"]), min_size=1),
    st.sampled_from(["windthrown", "felled", "logs"]),
)
def test_wood_that_lies(truth, till_look, after, looked, status):
    seen = flight_year(BC, truth.attacked).onset + till_look * DAY
    on = seen + after * DAY
    stages = truth.stages_seen(seen, looked, lies=True)
    found = {"stages": stages, "looked": sorted(looked), "seen": seen}
    assert planned_in_time(judge(found, on=on, attacked=truth.attacked, status=status), truth, on)


# Months after the attack in which each crown is seen, as published: narrower than the ranges the program allows.
PUBLISHED_CROWN = {"green": (0, 13), "yellow-green": (12, 20), "dropping": (14, 20), "bare": (24, 72)}


@settings(max_examples=600)
@given(
    truths,
    st.sampled_from(sorted(PUBLISHED_CROWN)),
    st.floats(0, 1),
    st.integers(0, 50),
    st.integers(0, 60),
    st.sampled_from(["unknown", "true year", "wrong year"]),
)
def test_standing_trees_judged_by_the_crown(truth, crown, share, into_the_flight, waited, year):
    first, last = PUBLISHED_CROWN[crown]
    attacked_on = flight_year(BC, truth.attacked).onset + into_the_flight * DAY
    seen = attacked_on + timedelta(days=round((first + share * (last - first)) * 30.44))
    on = seen + waited * DAY
    if (
        year == "wrong year"
    ):  # one too late, in the first autumn and winter after it, when the crown must still be green
        assume(crown in ("dropping", "bare") and coming_flight(BC, seen) == truth.attacked + 2)
        assume(coming_flight(BC, on) == truth.attacked + 2)
    given_year = {"unknown": "unknown", "true year": truth.attacked, "wrong year": truth.attacked + 1}[year]
    result = judge({"insect": "spruce-beetle", "crown": crown, "seen": seen}, on=on, attacked=given_year)
    assert planned_in_time(result, truth, on)
    assert truth.attacked in result.possible_attack_years or truth.attacked < min(result.possible_attack_years)


@given(
    st.integers(2020, 2026), st.dates(date(2026, 7, 11), date(2027, 7, 10)), st.sampled_from(["base", "sunny", "none"])
)
def test_without_the_looks_nothing_is_called_empty_before_the_fourth_spring(attacked, on, half_look):
    found = {"stages": ["none"], "looked": [half_look], "seen": on} if half_look != "none" else None
    result = judge(found, on=on, attacked=attacked)
    assert (butt(result).brood == "none") == (2027 - attacked >= 4)
    assert result.needs_inspection == (2027 - attacked < 4)


looks = st.builds(
    lambda stages, looked, seen, holes, crown: {
        "stages": sorted(stages),
        "looked": sorted(looked),
        "seen": seen,
        "exit_holes": holes,
        "crown": crown,
    },
    st.sets(st.sampled_from(["larvae", "pupae"]), min_size=1) | st.just({"none"}),
    st.sets(st.sampled_from(SIDES["standing"])),
    st.dates(date(2025, 6, 1), date(2027, 4, 30)),
    st.sampled_from(["none", "some", "many"]),
    st.sampled_from(["green", "yellow-green", "dropping", "bare"]),
)
years = st.integers(2022, 2026) | st.just("unknown") | st.just("never")
LEVELS = ["none", "possible", "likely"]


@settings(max_examples=300)
@given(looks, years)
def test_adding_an_adult_never_makes_it_later_or_less(found, attacked):
    on = date(2027, 4, 30)
    without = butt(judge(found, on=on, attacked=attacked))
    stages = sorted({*found["stages"], "adults"} - {"none"})
    added = butt(judge({**found, "stages": stages}, on=on, attacked=attacked))
    assert (added.flight_to_beat or 9999) <= (without.flight_to_beat or 9999)
    assert LEVELS.index(added.brood) >= LEVELS.index(without.brood)


@settings(max_examples=300)
@given(looks, years, st.sampled_from(SIDES["standing"]))
def test_looking_at_one_more_side_and_finding_nothing_new_never_makes_it_worse(found, attacked, side):
    on = date(2027, 4, 30)
    before = butt(judge(found, on=on, attacked=attacked))
    after = butt(judge({**found, "looked": sorted({*found["looked"], side})}, on=on, attacked=attacked))
    assert LEVELS.index(after.brood) <= LEVELS.index(before.brood)
    assert (after.flight_to_beat or 9999) >= (before.flight_to_beat or 9999)


@settings(max_examples=200)
@given(looks, years)
def test_the_same_tree_four_years_later_is_the_same_four_years_later(found, attacked):
    on = date(2027, 4, 30)
    one = judge(found, on=on, attacked=attacked)
    shifted = {**found, "seen": found["seen"].replace(year=found["seen"].year + 4)}
    later = judge(shifted, on=on.replace(year=2031), attacked=attacked + 4 if isinstance(attacked, int) else attacked)
    assert tuple(year + 4 for year in one.possible_attack_years) == later.possible_attack_years
    for a, b in zip(one.pieces, later.pieces, strict=True):
        assert (a.brood, a.stage, a.weight, a.confidence) == (b.brood, b.stage, b.weight, b.confidence)
        assert (a.flight_to_beat is None) == (b.flight_to_beat is None)
        assert a.flight_to_beat is None or a.flight_to_beat + 4 == b.flight_to_beat
