"""Commands that read no site: sources, schema."""

from __future__ import annotations

from typing import Any

import click

from barkwright.cli import files
from barkwright.cli.errors import DONE, WRONG_USE, StopError
from barkwright.cli.options import PLAIN, gather, shared
from barkwright.cli.site import Product, deliver


@click.command(short_help="The publications that the program rests on.")
@shared(units=False, formats=PLAIN)
def sources(**options: Any) -> int:
    """Print every publication with its key, how well it is known, and what rests on it."""
    from barkwright.output.sources import sources_result, sources_text

    asked = gather(**options)
    return deliver(asked, Product("sources", None, sources_result, text=sources_text), (), None)


@click.command(short_help="JSON Schemas of the inventory and of the JSON output.")
@click.argument("name", required=False, metavar="[NAME]")
@click.option("-o", "--output", default="-", metavar="FILE", help="Write the result to FILE, whole or not at all.")
def schema(name: str | None, output: str) -> int:
    """Print the JSON Schema NAME, or all of them.

    NAME: inventory, local, order, options, tree, quote, tally, flight, why, check or sources.
    """
    from barkwright.output.schema import NAMES, schema_text

    if name is not None and name not in NAMES:
        raise StopError(f"there is no schema {name!r}", WRONG_USE, f"choose one of {', '.join(NAMES)}")
    files.write(schema_text(name), output)
    return DONE
