"""The command line: what was asked, one call, one exit code."""

from __future__ import annotations

import click

from barkwright.cli.done import done
from barkwright.cli.errors import EXIT_CODES
from barkwright.cli.group import Barkwright
from barkwright.cli.new import new
from barkwright.cli.plans import check, flight, order, tally, why
from barkwright.cli.quoting import quote
from barkwright.cli.reference import completion, man, schema, sources
from barkwright.cli.sheets import options
from barkwright.cli.tree import tree


@click.group(
    cls=Barkwright,
    epilog=EXIT_CODES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(package_name="barkwright", prog_name="barkwright", message="%(prog)s %(version)s")
def main() -> None:
    """Plan what becomes of beetle-infested spruce before the spring flight.

    Which log to chip, peel, burn, bury, split or haul, by when, with what, and why.
    """


for _command in (
    order, options, quote, tree, tally, flight, why, done, check, new, sources, schema, completion, man,
):  # fmt: skip
    main.add_command(_command)
