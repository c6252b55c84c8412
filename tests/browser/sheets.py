"""The sheets that are opened in a browser: a new command is a line in COMMANDS."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from click.testing import CliRunner
from hostile import site_text, tree_id

from barkwright.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"
SITES = {"yard": "yard-tree.yaml", "removal": "removal-24.yaml", "hostile": None}
COMMANDS = {"order": (), "flight": (), "tally": (), "why": ("PIECE",), "options": (), "quote": ()}
PIECES = {"yard": "T1/1", "removal": "C1/1", "hostile": f"{tree_id('spruce ' * 28)}/1"}
SHEETS = [(command, site) for command in COMMANDS for site in SITES]
ON = "2026-11-25"


@cache
def sheet(command: str, site: str, form: str = "html") -> str:
    """A sheet as its command writes it."""
    name = SITES[site]
    more = [PIECES[site] if word == "PIECE" else word for word in COMMANDS[command]]
    source = "-" if name is None else str(EXAMPLES / name)
    asked = [command, source, *more, "--on", ON, "--format", form]
    done = CliRunner().invoke(main, asked, input=site_text() if name is None else None)
    assert done.exit_code in (0, 4), done.output
    return done.stdout
