"""The command line: what was asked, one call, one exit code."""

from __future__ import annotations

import click


@click.group()
@click.version_option(package_name="barkwright")
def main() -> None:
    """Plan what becomes of beetle-infested spruce before the spring flight."""
