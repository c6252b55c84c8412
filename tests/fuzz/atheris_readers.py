"""A search for inputs that break a reader, led by which lines of the program an input reaches. Run by hand.

    pip install atheris                                     (CPython up to 3.13, Linux and macOS)
    python tests/fuzz/atheris_readers.py inventory -max_total_time=300
    python tests/fuzz/atheris_readers.py                    lists the readers

An input that takes longer than 5 seconds or more than 1 GB counts as broken like one that raises; it is left as a file
crash-*, timeout-* or oom-* in the folder one is in. More words go to libFuzzer; a folder among them keeps the corpus.
"""

from __future__ import annotations

import random
import sys
import tempfile
from pathlib import Path

import atheris

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2] / "src")]
with atheris.instrument_imports(include=["barkwright"]):
    from material import ODD, WORD, seeds, workbook
    from readers import READERS

LIMITS = ("-timeout=5", "-rss_limit_mb=1024", "-max_len=30000", "-use_value_profile=0", "-print_final_stats=1")


def mutated(data: bytes, most: int, seed: int) -> bytes:
    """Half of the time a word of the text becomes an odd one, or one of another place; else what libFuzzer does."""
    dice = random.Random(seed)
    if dice.random() < 0.5:
        return bytes(atheris.Mutate(data, most))
    text = data.decode("utf-8", "replace")
    words = list(WORD.finditer(text))
    if not words:
        return dice.choice(ODD).encode("utf-8", "replace")[:most]
    one = dice.choice(words)
    new = dice.choice(ODD) if dice.random() < 0.7 else dice.choice(words).group()
    return (text[: one.start()] + new + text[one.end() :]).encode("utf-8", "replace")[:most]


def main() -> None:
    name = sys.argv[1] if len(sys.argv) > 1 else ""
    if name not in (*READERS, "workbook"):
        sys.stderr.write(f"name one of {', '.join((*READERS, 'workbook'))}\n")
        sys.exit(2)
    folder = Path(tempfile.mkdtemp(prefix=f"seeds-{name}-"))
    known = [workbook()] if name == "workbook" else [text.encode("utf-8", "replace") for text in seeds(name)]
    for number, content in enumerate(known):
        (folder / str(number)).write_bytes(content)
    folders = [one for one in sys.argv[2:] if not one.startswith("-")] or [tempfile.mkdtemp(prefix=f"corpus-{name}-")]
    options = [one for one in sys.argv[2:] if one.startswith("-")]
    read = READERS["sheet" if name == "workbook" else name]
    mutator = {} if name == "workbook" else {"custom_mutator": mutated}
    atheris.Setup([sys.argv[0], *LIMITS, *options, *folders, str(folder)], read, **mutator)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
