"""Inputs made to take long or to fill the memory: each for one reader, at any size up to what is taken in at all."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from bomb_kit import HEAD, TREE, Bomb
from bombs_of_tables import TABLES
from bombs_of_text import TEXTS

SECONDS, MEGABYTES = 5, 1_000  # what one refusal may take
BOMBS = (*TEXTS, *TABLES)
COMMANDS: Mapping[str, tuple[str, tuple[str, ...]]] = {  # the file's name, and the command that reads it
    "inventory": ("site.yaml", ("check", "site.yaml")),
    "journal": ("site.journal.yaml", ("tally", "site.yaml")),
    "issued": ("site.issued.json", ("order", "site.yaml")),
    "local": ("local.yaml", ("check", "site.yaml")),
    "weather": ("daily.csv", ("flight", "site.yaml", "--weather", "daily.csv")),
    "sheet": ("trees", ("new", "--from", "trees", "--lat", "53", "--lon", "-122", "--yes", "-o", "made.yaml")),
}


@dataclass(frozen=True)
class Measured:
    """What came of a bomb: exit code, seconds of the processor, most memory at once, and the first line said."""

    code: int
    seconds: float
    megabytes: float
    said: str


def set_off(bomb: Bomb, folder: Path, share: float = 1.0) -> Measured:
    """Give it to the program, in a process of its own that is ended where it takes far more than it may."""
    name, words = COMMANDS.get(bomb.reader, (bomb.reader, ()))
    local = "local: [local.yaml]\n" if bomb.reader == "local" else ""
    (folder / "site.yaml").write_text(HEAD + TREE + local, encoding="utf-8")
    with (folder / name).open("wb") as file:
        file.write(bomb.content(share))
        if bomb.sparse:
            file.truncate(bomb.sparse)
    start = (
        "from barkwright.cli.start import run; run()"
        if words
        else _READ.format(str(Path(__file__).parent), bomb.reader, name)
    )
    line = [sys.executable, "-c", f"{_LIMITS}; {start}", *words, *(("--on", "2026-11-27") if words else ())]
    process = subprocess.Popen(
        line, cwd=folder, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )
    assert process.stderr is not None
    said = process.stderr.read().decode("utf-8", "replace")
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    process.stderr.close()
    most = folder / "most"  # of the program alone: what the kernel tells of a child counts in whoever started it
    kilobytes = float(most.read_text()) if most.exists() else used.ru_maxrss
    spent = used.ru_utime + used.ru_stime
    return Measured(process.returncode, spent, kilobytes / 1024, said.partition("\n")[0])


_LIMITS = "; ".join(  # ends what has run away; what is allowed is asserted
    (
        "import atexit, resource as r",
        "r.setrlimit(r.RLIMIT_CPU, (40, 45))",
        "r.setrlimit(r.RLIMIT_DATA, (4 << 30, 4 << 30))",
        "most = lambda: open('/proc/self/status').read().partition('VmHWM:')[2].split()[0]",
        "atexit.register(lambda: open('most', 'w').write(most()))",
    )
)
_READ = "import sys; sys.path.insert(0, {!r}); from readers import READERS; READERS[{!r}](open({!r}, 'rb').read())"
