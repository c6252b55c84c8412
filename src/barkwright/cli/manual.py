"""The manual page: the help of every command once more, in the form that `man` reads."""

from __future__ import annotations

import inspect
from collections.abc import Iterator

import click

from barkwright.cli.errors import EXIT_CODES
from barkwright.cli.examples import EXAMPLES

FILES = (
    ("SITE.yaml", "An inventory: the place, its trees, the people and their tools. Only you write it."),
    ("SITE.journal.yaml", "What was done and seen there, kept beside it."),
)
ENVIRONMENT = (
    ("NO_COLOR", "Set to anything: no colour in messages."),
    ("SOURCE_DATE_EPOCH", "Seconds since 1970: the day that stands for today."),
    ("BARKWRIGHT_DEBUG", "Set to anything: a fault of the program shows where it arose."),
)


def manual(group: click.Group, version: str) -> str:
    """The page in roff."""
    return "\n".join(_lines(group, version)) + "\n"


def _lines(group: click.Group, version: str) -> Iterator[str]:
    yield f'.TH BARKWRIGHT 1 "" "barkwright {_plain(version)}" "User Commands"'
    yield from (".SH NAME", r"barkwright \- plan what becomes of beetle\-infested spruce before the spring flight")
    yield from (".SH SYNOPSIS", r"\fBbarkwright\fR \fICOMMAND\fR [\fIOPTION\fR]... [\fIARGUMENT\fR]...")
    yield ".SH DESCRIPTION"
    yield from _prose(group.help or "")
    yield ".SH COMMANDS"
    with click.Context(group, info_name="barkwright") as top:
        for name, command in group.commands.items():
            with click.Context(command, parent=top, info_name=name) as context:
                yield from _command(name, command, context)
    for title, entries in (("FILES", FILES), ("ENVIRONMENT", ENVIRONMENT)):
        yield f".SH {title}"
        for term, meaning in entries:
            yield from (".TP", rf"\fB{_plain(term)}\fR", _line(meaning))
    yield ".SH EXIT STATUS"
    for row in EXIT_CODES.splitlines()[2:]:
        code, _, meaning = row.strip().partition("  ")
        yield from (".TP", rf"\fB{code}\fR", _line(meaning))


def _command(name: str, command: click.Command, context: click.Context) -> Iterator[str]:
    usage = " ".join(command.collect_usage_pieces(context))
    yield f".SS {_plain(name)}"
    yield rf"\fBbarkwright {_plain(name)}\fR {_plain(usage)}"
    yield ".PP"
    yield from _prose(command.help or "")
    for parameter in command.get_params(context):
        record = parameter.get_help_record(context)
        if record is not None and isinstance(parameter, click.Option):
            yield from (".TP", rf"\fB{_plain(record[0])}\fR", _line(record[1]))
    for example in EXAMPLES.get(name, ()):
        yield from (".PP", ".nf", ".RS 4", _line(example), ".RE", ".fi")


def _prose(text: str) -> Iterator[str]:
    """Paragraphs of a help; what is not to be wrapped stays as it is."""
    for number, part in enumerate(inspect.cleandoc(text.replace("\f", "")).split("\n\n")):
        lines = part.split("\n")
        if number:
            yield ".PP"
        if lines[0].strip() == "\b":
            yield from (".nf", *map(_line, lines[1:]), ".fi")
        else:
            yield from map(_line, lines)


def _line(text: str) -> str:
    """A line of text, none of whose letters is a command."""
    plain = _plain(text)
    return rf"\&{plain}" if plain.startswith((".", "'")) else plain


def _plain(text: str) -> str:
    return (
        text.replace("\\", r"\e").replace("-", r"\-").replace("~", r"\(ti").replace("^", r"\(ha").replace("`", r"\(ga")
    )
