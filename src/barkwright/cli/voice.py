"""What is said beside the result, on standard error: how much of it was asked for, and how it is made safe."""

from __future__ import annotations

import time
from typing import Any

import click

from barkwright.cli.errors import WRONG_USE, StopError

LOUDNESS = "barkwright.loudness"  # of one run: -1 errors alone, 0 as usual, 1 every stage as well
STARTED = time.perf_counter()


def quiet() -> bool:
    """Were only errors asked for?"""
    return _loudness() < 0


def verbose() -> bool:
    """Was every stage asked for?"""
    return _loudness() > 0


def say(text: str, **style: Any) -> None:
    """One line that is neither result nor error; with --quiet it is not said."""
    if not quiet():
        click.secho(plain(text), err=True, **style)


def tell(text: str) -> None:
    """One line for who wants to watch, with the seconds since the start; said with --verbose alone."""
    if verbose():
        click.echo(f"{time.perf_counter() - STARTED:8.2f} s  {plain(text)}", err=True)


def plain(text: str) -> str:
    """The text on one line and without what could steer a terminal."""
    from barkwright.output.names import printable

    return printable(text.replace("\n", "\\n"))


def _loudness() -> int:
    context = click.get_current_context(silent=True)
    return 0 if context is None else int(context.meta.get(LOUDNESS, 0))


def _louder(by: int) -> Any:
    def turn(context: click.Context, _: click.Parameter, asked: bool) -> None:
        if not asked:
            return
        if context.meta.get(LOUDNESS, by) != by:
            raise StopError("--quiet and --verbose do not go together", WRONG_USE, "leave one of them out")
        context.meta[LOUDNESS] = by

    return turn


def loudness_options() -> list[click.Option]:
    """-q and -v, for every command. They change nothing of the result."""
    return [
        click.Option(
            ("-q", "--quiet"), is_flag=True, expose_value=False, callback=_louder(-1),
            help="Say nothing but errors; the result is the same.",
        ),
        click.Option(
            ("-v", "--verbose"), is_flag=True, expose_value=False, callback=_louder(1),
            help="Say what is read and done, with the seconds, on standard error.",
        ),
    ]  # fmt: skip
