"""Commands that read no site: sources, schema, completion, man."""

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


@click.command(short_help="What a shell needs to complete commands, files and trees.")
@click.argument("shell", type=click.Choice(("bash", "zsh", "fish")), metavar="SHELL")
@click.option("-o", "--output", default="-", metavar="FILE", help="Write the result to FILE, whole or not at all.")
@click.pass_context
def completion(context: click.Context, shell: str, output: str) -> int:
    """Print the script by which SHELL completes commands, options, site files, trees and pieces.

    \b
    bash: barkwright completion bash -o ~/.barkwright.bash    and in ~/.bashrc: . ~/.barkwright.bash
    zsh:  barkwright completion zsh -o ~/.barkwright.zsh      and in ~/.zshrc:  . ~/.barkwright.zsh
    fish: barkwright completion fish -o ~/.config/fish/completions/barkwright.fish
    """
    from barkwright.cli.completing import script
    from barkwright.cli.group import COMPLETE, Barkwright

    top = context.find_root().command
    assert isinstance(top, Barkwright)
    files.write(script(shell, "barkwright", COMPLETE, top), output)
    return DONE


@click.command(short_help="The manual page.")
@click.option("-o", "--output", default="-", metavar="FILE", help="Write the result to FILE, whole or not at all.")
@click.pass_context
def man(context: click.Context, output: str) -> int:
    """Print the manual page of all commands, for man and groff.

    \b
    To read it:    barkwright man -o barkwright.1, then: man ./barkwright.1
    To install it: barkwright man -o ~/.local/share/man/man1/barkwright.1
    """
    from importlib.metadata import version

    from barkwright.cli.group import Barkwright
    from barkwright.cli.manual import manual

    top = context.find_root().command
    assert isinstance(top, Barkwright)
    files.write(manual(top, version("barkwright")), output)
    return DONE
