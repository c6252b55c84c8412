"""What the answers about frozen ground and drying wood rest on, in sentences."""

from __future__ import annotations

from barkwright.season.climate import climate_of
from barkwright.season.dryness import air_of
from barkwright.season.ground import ground_of
from barkwright.season.site import Season
from barkwright.sources import Citation, cite


def climate_words(season: Season, ground: bool = True, drying: bool = True) -> tuple[str, ...]:
    """A sentence or two each about what frozen ground and drying rest on here."""
    return (*([ground_of(season).words] if ground else []), *([_drying(season)] if drying else []))


def climate_sources(season: Season, ground: bool = True, drying: bool = True) -> tuple[Citation, ...]:
    """The sources behind `climate_words`."""
    cited = list(ground_of(season).citations) if ground else []
    climate = climate_of(season)
    if drying and climate is not None and air_of(season) is not None:
        cited += [*climate.citations, cite("woodhandbook2010, eq. 4-5"), cite("alduchov1996, Magnus form")]
    return tuple(dict.fromkeys(cited))


def _drying(season: Season) -> str:
    climate = climate_of(season)
    if climate is None or air_of(season) is None:
        return (
            "How fast split wood dries is a rule of thumb of our own, one whole summer: no daily weather with humidity "
            "and no climate normals are near enough."
        )
    return (
        f"How fast split wood dries is reckoned coarsely from {climate.words}, for pieces up to 6 in thick, off the "
        f"ground and covered on top. The rate is our own, from one test in the far north: likely, perhaps or not is "
        f"all it can say, and of the brood it says nothing."
    )
