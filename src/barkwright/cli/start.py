"""Where the program begins: Ctrl-C is answered in one line even while everything else is still being loaded."""

import os
import signal


def run() -> None:
    """Load the command line, run it, and end with its exit code."""
    try:
        from barkwright.cli.main import main

        main()
    except KeyboardInterrupt:
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        try:
            os.write(2, b"barkwright: error: stopped\n")
        finally:
            os._exit(1)
    finally:
        signal.signal(signal.SIGINT, signal.SIG_IGN)
