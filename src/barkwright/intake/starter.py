"""An inventory to begin with: what has to be known, asked line by line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from barkwright.record import dataclass

EDITOR = (  # an editor that knows YAML takes the schema from the file of that name beside the inventory
    "# yaml-language-server: $schema=barkwright.schema.json",
    "# For help in an editor, once in this folder: barkwright schema inventory -o barkwright.schema.json",
)
_CREW = """\
# Hands. One entry per kind; skills: saw, felling, climbing, aerial-lift, line-clearance, machine.
# crew:
#   - {name: two of us, people: 2, hours_per_day: 6, days: [sat, sun], skills: [saw], unpaid: true}
#   - {name: hired crew, people: 3, hours_per_day: 8, skills: [saw, felling, machine], rate: 45}

# Machines and tools that are yours or can be rented.
# equipment:
#   - {kind: chain-saw, owned: true}
#   - {kind: drawknife, owned: true}
#   - {kind: chipper, capacity: 9 in, working_capacity: 7 in, rent_per_day: 310, delivery: 90}

# When work starts, and days without work.
# calendar: {start: 2026-11-28, off: [{from: 2026-12-24, to: 2027-01-02}]}

# Money and room. Wishes: chip, debark, score, burn, bury, split, haul, leave.
# limits: {budget: 1500, chips_site_takes: 6 yd3, firewood_cords_per_week: 0.1}
# wishes: {avoid: [burn], prefer: [split]}"""

_TREES = """\
trees:
  # Copy this entry for every tree, log pile and stump.
  - id: T1
    where:                           # where it stands
    species:                         # white, engelmann, sitka, lutz, black, red, blue, norway
    status: standing                 # standing, windthrown, felled, logs, stump
    dbh:                             # across at 4.5 ft (1.37 m) above the ground; or girth: around it there
    height:                          # delete the line if you do not know it
    attacked: unknown                # the year the beetles bored in; never for a tree that was not attacked
    # attack: mass                   # mass, strip, pitched-out
    # found:                         # cut three small windows into the bark and look
    #   insect: spruce-beetle        # spruce-beetle, engraver, other, not-sure
    #   stages: [larvae]             # larvae (white, legless), pupae, adults (dark, hard), none
    #   looked: [base, sunny, shaded]
    #   exit_holes: none             # none, some, many
    #   crown: green                 # green, yellow-green, dropping, bare
    #   seen: 2026-10-20
    # From the stem to the nearest one: a distance, or out-of-reach of the whole tree; not-checked stops the felling.
    near: {line: not-checked, building: not-checked, road: not-checked, neighbour: not-checked}"""


@dataclass(frozen=True, slots=True)
class Start:
    """What an inventory begins with; what is None is left to be filled in."""

    name: str | None = None
    latitude: float | None = None  # degrees, north positive
    longitude: float | None = None  # degrees, west negative
    units: Literal["imperial", "metric"] = "imperial"
    elevation: float | None = None  # ft, or m when metric


def starter_text(start: Start) -> str:
    """An inventory in YAML with a question for every fact; `check` names the lines that are still empty."""
    return (
        "\n".join(
            [*head_lines(start, "Fill in what is empty, then: barkwright check FILE"), "", _TREES, "", *means_lines()]
        )
        + "\n"
    )


def head_lines(start: Start, about: str) -> Sequence[str]:
    """The first lines of an inventory: version and site."""
    high = "m" if start.units == "metric" else "ft"
    across, along = ("centimetres", "metres") if start.units == "metric" else ("inches", "feet")
    return (
        *EDITOR,
        f"# {about}",
        f"# A bare number is {across} for diameters and {along} for heights, lengths and distances;",
        "# or write the unit: 42 cm, 3 m, 16.5 in, 12 ft 6 in. Leave out what is not known: the order asks for it.",
        "barkwright: 1",
        "site:",
        f"  name: {_said(start.name)}".rstrip(),
        f"  units: {start.units}",
        f"  latitude: {_said(start.latitude):<20} # decimal degrees, north is positive",
        f"  longitude: {_said(start.longitude):<19} # decimal degrees, west is negative",
        *(
            [f"  elevation: {start.elevation:g}"]
            if start.elevation is not None
            else [f"  # elevation: 2350              # {high}"]
        ),
        "  # region: interior-plateau     # whose flight calendar holds; the nearest is taken and named",
        f"  # nearest_live_spruce: 60      # {high}, from where the wood will be worked; or none",
        "  # slope_percent: 8",
        "  # machine_access: true         # can a trailer or a small machine get to the wood?",
        "  # ground: {diggable: true, services_located: false}",
        "  # burning: {permit: unknown, windows: [{from: 2026-10-15, to: 2027-03-31}]}   # held, not-needed, refused",
        "  # destinations: [{kind: mill, miles: 14, takes: [logs], processes_by: 2027-04-30}]",
    )


def means_lines() -> Sequence[str]:
    """The last lines: hands, machines, days, money and wishes, as comments to be filled in."""
    return _CREW.split("\n")


def _said(value: str | float | None) -> str:
    if value is None:
        return ""
    return f"{value:g}" if isinstance(value, float) else "'" + value.replace("'", "''") + "'"
