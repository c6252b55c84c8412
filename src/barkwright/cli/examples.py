"""The examples that end each help. All of them work in the repository, on the files of examples/: a test runs them."""

from __future__ import annotations

EXAMPLES: dict[str, tuple[str, ...]] = {
    "order": (
        "barkwright order examples/yard-tree.yaml --on 2026-11-25",
        "barkwright order examples/yard-tree.yaml --on 2026-11-25 --format html -o yard-tree.html",
        'barkwright order examples/yard-tree.yaml --on 2026-11-25 --try "rent chipper 18 in at 450 a day"',
        "barkwright order examples/yard-tree.yaml --on 2026-12-01 --since 2026-11-25",
    ),
    "options": ("barkwright options examples/yard-tree.yaml T1 --on 2026-11-25",),
    "quote": ("barkwright quote examples/quote-three-trees.yaml --on 2026-11-25",),
    "tree": ("barkwright tree --species white --dbh 16.5 --attacked 2026 --lat 53.1 --lon -122.4 --own drawknife",),
    "tally": ("barkwright tally examples/removal-24.yaml --format csv -o removal-24.csv",),
    "flight": (
        "barkwright flight examples/lake-lot-weather.yaml --on 2026-11-25",
        "barkwright flight examples/yard-tree.yaml --after --on 2027-08-01",
    ),
    "why": ("barkwright why examples/yard-tree.yaml T1/1 --on 2026-11-25",),
    "done": ("barkwright done examples/yard-tree.yaml T1 --felled --date 2026-11-26 --on 2026-11-27",),
    "check": (
        "barkwright check examples/yard-tree.yaml --on 2026-11-25",
        "barkwright check examples/kestrel-flats/site.yaml --rules --on 2026-11-25",
    ),
    "new": (
        "barkwright new --name 'Heron Lake, lot 7' --lat 53.98 --lon -123.02 -o heron.yaml",
        "barkwright new --sheet --format html -o sheet.html",
        "barkwright new --from examples/walk.csv --lat 53.98 --lon -123.02 -o walk.yaml",
        "barkwright new --from examples/walk.csv --into examples/yard-tree.yaml -o both.yaml",
    ),
    "sources": ("barkwright sources",),
    "schema": ("barkwright schema inventory -o barkwright.schema.json",),
    "completion": ("barkwright completion bash -o barkwright.bash",),
    "man": ("barkwright man -o barkwright.1",),
}


def epilog(command: str) -> str | None:
    """The examples of a command as the end of its help; None where it has none."""
    lines = EXAMPLES.get(command, ())
    if not lines:
        return None
    return "\b\n" + "\n".join([f"Example{'s' if len(lines) > 1 else ''}:", *(f"  {line}" for line in lines)])
