"""The command group: turns whatever a command raises into one message and one exit code."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Sequence
from typing import Any

import click

from barkwright.cli import voice
from barkwright.cli.errors import DONE, FAILED, FILE_FAULT, WRONG_USE, FaultyFileError, StopError, UserStopError
from barkwright.cli.examples import epilog

COMPLETE = "_BARKWRIGHT_COMPLETE"  # set by a shell that asks how a line could go on


class Barkwright(click.Group):
    """The top of the command line. Commands return their exit code; what they raise ends here."""

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        **extra: Any,
    ) -> Any:
        """Run, and end with one of the documented exit codes."""
        run = super().main
        prog_name = "barkwright"  # whatever the file is called that starts it
        if os.environ.get(COMPLETE):
            from barkwright.cli.completing import complete

            sys.exit(complete(self, prog_name, COMPLETE))
        if standalone_mode:
            gc.disable()  # the program ends with the command: there is nothing to tidy up before
            _open_closed_streams()
        code = _guarded(lambda: run(args, prog_name, "", standalone_mode=False, **extra))
        if standalone_mode:
            gc.enable()
            sys.exit(code)
        return code

    def add_command(self, cmd: click.Command, name: str | None = None) -> None:
        """Add a command with what all have: how much it says, and the examples that end its help."""
        name = name or cmd.name or ""
        cmd.epilog = cmd.epilog or epilog(name)
        cmd.params.extend(voice.loudness_options())
        super().add_command(cmd, name)

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command that was asked for."""
        try:
            code = super().invoke(ctx)
            voice.tell("done")
            return code
        except KeyboardInterrupt:
            raise StopError("stopped", FAILED) from None

    def resolve_command(self, ctx: click.Context, args: list[str]) -> Any:
        """The command; one that does not exist is answered with the nearest that does."""
        if args and not args[0].startswith("-") and self.get_command(ctx, args[0]) is None:
            raise StopError(f"there is no command {args[0]!r}", WRONG_USE, self._instead(args[0]))
        return super().resolve_command(ctx, args)

    def _instead(self, word: str) -> str:
        import difflib

        if word.casefold().endswith((".yaml", ".yml")) or os.path.isfile(word):
            return f"a command comes before the file: barkwright order {word}"
        close = difflib.get_close_matches(word.casefold(), self.list_commands_plain(), n=1)
        every = "'barkwright --help' lists the commands"
        return f"did you mean 'barkwright {close[0]}'? {every}" if close else every

    def list_commands_plain(self) -> list[str]:
        """The names of the commands, in the order in which a reader needs them."""
        return list(self.commands)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The same, for the library."""
        return self.list_commands_plain()


def _guarded(run: Callable[[], Any]) -> int:
    try:
        result = run()
        if sys.stdout is not None:
            sys.stdout.flush()
    except FaultyFileError:
        return FILE_FAULT
    except StopError as stop:
        return _say(str(stop), stop.code, stop.hint, "" if isinstance(stop, UserStopError) else "error: ")
    except click.ClickException as wrong:
        return _misused(wrong)
    except (click.Abort, KeyboardInterrupt):
        return _say("stopped", FAILED)
    except BrokenPipeError:
        # The reader has gone (`| head`): say nothing, and keep the interpreter from trying to flush again.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAILED
    except Exception as fault:
        if os.environ.get("BARKWRIGHT_DEBUG"):
            raise
        text = " ".join(f"{type(fault).__name__}: {fault}".split())
        return _say(
            f"this is a fault of the program: {text[:300]}",
            FAILED,
            "set BARKWRIGHT_DEBUG=1 to see where; the file that brought it out is worth sending in",
        )
    return result if isinstance(result, int) else DONE


def _misused(wrong: click.ClickException) -> int:
    """What the library says of a wrong use, and what to type instead."""
    if isinstance(wrong, getattr(click.exceptions, "NoArgsIsHelpError", ())):
        wrong.show()
        return wrong.exit_code
    context = getattr(wrong, "ctx", None)
    path = context.command_path if context else "barkwright"
    hint = f"'{path} --help' lists its options, with an example"
    message = wrong.format_message()
    if isinstance(wrong, click.MissingParameter) and isinstance(wrong.param, click.Argument):
        name = (wrong.param.metavar or wrong.param.name or "").strip("[]")
        message = f"{path}: {name} is missing"
        hint = _missing(path, name)
    message = message[:1].lower() + message[1:].removesuffix(".")
    return _say(message, wrong.exit_code, hint)


def _missing(path: str, name: str) -> str:
    if name == "SITE":
        return f"name an inventory: {path} SITE.yaml; 'barkwright new -o SITE.yaml' starts one"
    if name == "PIECE":
        return f"name a piece: {path} SITE.yaml T1/1; 'barkwright tally SITE.yaml' lists them"
    return f"'{path} --help' says what it may be, with an example"


def _open_closed_streams() -> None:
    """A stream that is closed is opened on nothing, so that no file takes its number and its output."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)


def _say(message: str, code: int, hint: str | None = None, kind: str = "error: ") -> int:
    from barkwright.output.names import shortened

    click.echo(voice.plain(f"barkwright: {kind}{shortened(message)}"), err=True)
    if hint:
        click.echo(voice.plain(f"    hint: {shortened(hint)}"), err=True)
    return code
