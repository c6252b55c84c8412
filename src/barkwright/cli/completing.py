"""How a shell completes a line: commands and options by the library, site files and ids by what lies there.

Quick and without a word, whatever state the files are in: a shell that waits or prints is worse than none.
"""

from __future__ import annotations

import os
import re
from typing import Any

import click

SUFFIXES = (".yaml", ".yml")
JOURNAL = ".journal.yaml"  # stands beside a site and is none
MOST_BYTES = 2_000_000  # of a site that is looked into while somebody waits for a word; ours
MANY = 60  # trees: from here on pieces are offered once their tree is typed; ours
ID = re.compile(r"(?:^|[{,\s-])id:\s*(\"[^\"\n]*\"|'[^'\n]*'|[^\s,}#]+)")


def complete(group: click.Group, name: str, variable: str) -> int:
    """Answer the shell; the exit code."""
    from click import shell_completion

    shell, _, wants = os.environ.get(variable, "").partition("_")
    kind = shell_completion.get_completion_class(shell)
    if kind is None or wants not in ("source", "complete"):
        return 1
    try:
        maker = kind(group, {}, name, variable)
        text = script(shell, name, variable, group) if wants == "source" else _answers(maker, shell)
        if text:
            click.echo(text)
    except Exception:
        return 1
    return 0


def script(shell: str, name: str, variable: str, group: click.Group) -> str:
    """What a shell has to read once. The library would ask the shell for its version first, by starting it."""
    from click import shell_completion

    kind = shell_completion.get_completion_class(shell)
    assert kind is not None, shell
    return shell_completion.ShellComplete.source(kind(group, {}, name, variable))


def _answers(maker: Any, shell: str) -> str:
    args, typed = maker.get_completion_args()
    found = maker.get_completions(args, typed)
    if shell == "bash":
        for item in found:
            if item.type == "plain":
                item.value = re.sub(r"([^\w@%+=:,./~-])", r"\\\1", item.value)
    return "\n".join(maker.format_completion(item) for item in found)


def site_files(_: click.Context, __: click.Parameter, typed: str) -> list[Any]:
    """Inventories and folders that begin as typed."""
    from click.shell_completion import CompletionItem

    folder, start = os.path.split(typed)
    try:
        with os.scandir(folder or ".") as entries:
            names = sorted((entry.name, entry.is_dir()) for entry in entries if entry.name.startswith(start))
    except (OSError, ValueError):
        return []
    shown = [(name, is_folder) for name, is_folder in names if start.startswith(".") or not name.startswith(".")]
    return [
        CompletionItem(os.path.join(folder, name) + ("/" if is_folder else ""))
        for name, is_folder in shown
        if name.isprintable() and (is_folder or (name.endswith(SUFFIXES) and not name.endswith(JOURNAL)))
    ]


def ids(context: click.Context, _: click.Parameter, typed: str) -> list[str]:
    """Trees and pieces of the site that the line names, as far as they can be told quickly."""
    try:
        text = _text(str(context.params.get("site") or ""))
        trees = list(dict.fromkeys(found.strip("\"'") for found in ID.findall(text)))
        tree, slash, _part = typed.rpartition("/")
        asked = [tree] if slash else [one for one in trees if one.startswith(typed)]
        pieces = _pieces(text, asked) if slash or len(trees) < MANY else []
    except Exception:  # of a line that is half typed and a file that is half written, anything may be wrong
        return []
    return [one for one in (*trees, *pieces) if one.startswith(typed) and one.isprintable()]


def _text(name: str) -> str:
    if not name or name == "-" or os.stat(name).st_size > MOST_BYTES or not os.path.isfile(name):
        return ""
    with open(name, encoding="utf-8", errors="replace") as stream:
        return stream.read()


def _pieces(text: str, trees: list[str]) -> list[str]:
    """The pieces of some trees; none where the file has faults."""
    from datetime import date

    from barkwright.inventory.reading import read_inventory
    from barkwright.plan import plan_tally

    on = date(2026, 11, 27)  # pieces do not hang on the day; a fixed one leaves the clock alone
    inventory, _ = read_inventory(text, "", on, None)
    if inventory is None:
        return []
    few = inventory.model_copy(update={"trees": tuple(tree for tree in inventory.trees if tree.id in trees)})
    return [piece.id for stem in plan_tally(few, on).stems for piece in stem.pieces]
