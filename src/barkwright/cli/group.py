"""The command group: turns whatever a command raises into one message and one exit code."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Sequence
from typing import Any

import click

from barkwright.cli.errors import DONE, FAILED, FILE_FAULT, FaultyFileError, StopError


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
        if standalone_mode:
            gc.disable()  # the program ends with the command: there is nothing to tidy up before
        code = _guarded(lambda: run(args, prog_name, complete_var, standalone_mode=False, **extra))
        if standalone_mode:
            gc.enable()
            sys.exit(code)
        return code

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order in which a reader needs them."""
        return list(self.commands)


def _guarded(run: Callable[[], Any]) -> int:
    try:
        result = run()
        sys.stdout.flush()
    except FaultyFileError:
        return FILE_FAULT
    except StopError as stop:
        return _say(str(stop), stop.code, stop.hint)
    except click.ClickException as wrong:
        wrong.show()
        return wrong.exit_code
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


def _say(message: str, code: int, hint: str | None = None) -> int:
    from barkwright.output.names import printable, shortened

    click.echo(printable(f"barkwright: error: {shortened(message)}"), err=True)
    if hint:
        click.echo(f"    hint: {shortened(hint)}", err=True)
    return code
