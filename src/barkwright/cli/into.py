"""Trees of a sheet into an inventory: as it was it is kept beside it, the new file takes its place whole."""

from __future__ import annotations

import os

import click

from barkwright.cli import files, voice
from barkwright.cli.errors import DONE, FAILED, WRONG_USE, StopError
from barkwright.cli.options import Shared
from barkwright.cli.site import refuse
from barkwright.intake.fieldsheet import Filled

MOST_KEPT = 99  # copies of earlier states beside an inventory


def read_target(name: str, asked: Shared) -> tuple[str, bytes]:
    """The text and the bytes of the inventory that trees are added to."""
    from barkwright.yamldoc import decode

    if name == "-":
        raise StopError("--into needs the name of an inventory, not -", WRONG_USE, "name the file: --into SITE.yaml")
    content, shown = files.read_bytes(name)
    text, found = decode(content, shown)
    if text is None:
        raise refuse(found, asked, "new", "")
    return text, content


def add_into(name: str, text: str, content: bytes, made: Filled, source: str, asked: Shared) -> int:
    """Add the trees, or end the command with the file untouched."""
    from barkwright.intake.adding import added
    from barkwright.intake.entries import left_out_lines

    result = added(text, name, made.rows, source, asked.on)
    if result.text is None:
        click.echo("nothing was added: the inventory would have errors that it has not now", err=True)
        raise refuse(result.found, asked, "new", text)
    for line in left_out_lines(result.left):
        voice.say(f"left out: {line}")
    if result.same:
        listed = ", ".join(result.same[:10]) + (f" and {len(result.same) - 10} more" if len(result.same) > 10 else "")
        voice.say(f"in the inventory already, measured the same: {listed}")
    if not result.new:
        voice.say(f"nothing to add: {name!r} is as it was")
        return DONE
    new = result.text.encode("utf-8")
    count = f"{len(result.new)} tree{'s' * (len(result.new) != 1)}"
    if asked.output != "-":
        if os.path.exists(asked.output):
            raise StopError(f"{asked.output!r} is there already", WRONG_USE, "choose another name; nothing was written")
        files.write(new, asked.output)
        voice.say(f"{count} added in {asked.output!r}; {name!r} is as it was")
        return DONE
    kept = _keep(name, content)
    if files.read_bytes(name)[0] != content:
        raise StopError(f"{name!r} was changed by somebody else meanwhile", FAILED, "run the command again")
    files.write(new, name, own=True)
    voice.say(f"{count} added to {name!r}; as it was before, it is kept in {kept!r}")
    return DONE


def _keep(name: str, content: bytes) -> str:
    """A copy of the file as it was, under a name that is free; one that is the same already will do."""
    for number in range(1, MOST_KEPT + 1):
        path = f"{name}.bak" if number == 1 else f"{name}.bak{number}"
        if not os.path.lexists(path):
            files.write(content, path)
            return path
        if os.path.isfile(path) and os.path.getsize(path) == len(content) and files.read_bytes(path)[0] == content:
            return path
    raise StopError(f"there are {MOST_KEPT} copies of {name!r} already", FAILED, "move the old ones away")
