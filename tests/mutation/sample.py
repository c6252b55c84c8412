"""Mutation testing of the rooms that reckon, on a random sample: does any test notice a small fault?

python tests/mutation/sample.py map --calls calls.jsonl        which test calls which function: the rooms' tests, once
python tests/mutation/sample.py run --calls calls.jsonl --found found.jsonl --seed 6 --number 160
python tests/mutation/sample.py run --again ...                those that survived, after tests were added and mapped
python tests/mutation/sample.py whole --found found.jsonl      those against whole folders of tests (long)
python tests/mutation/sample.py score --found found.jsonl

Each fault is put into a copy of the checkout. Of the tests that call the function with the fault the quickest are run,
up to `--effort` seconds of processor time. Faults that no test can notice stand in looked_at.txt with the reason. A run
that is broken off goes on where it was.
"""

import argparse
import json
import math
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from functools import cache
from pathlib import Path

from mutants import Mutant, mutants_in, mutated

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("stem", "brood", "treatment", "schedule")
FIRST = (*(f"tests/{room}" for room in ROOMS), "tests/published")
SECOND = ("tests/journal", "tests/quote", "tests/output", "tests/study", "tests/snapshots", "tests/ground")
WORDS = ("tried", "killed", "timeout", "survived", "equivalent")
LOOKED_AT = Path(__file__).with_name("looked_at.txt")


class Checkout:
    """A throw-away copy of the checkout, in which one module at a time is changed."""

    def __init__(self, folder: Path) -> None:
        self.root = folder / "checkout"
        left = shutil.ignore_patterns(".git", "__pycache__", ".*_cache", ".hypothesis")
        shutil.copytree(ROOT, self.root, ignore=left)

    def pytest(self, *options: str, seconds: float) -> tuple[str, str]:
        """Run tests: survived (all pass), killed, or timeout (of processor time), with the end of what pytest said."""
        command = [sys.executable, "-m", "pytest", "-q", "-n", "0", "-p", "picking", "-p", "no:cacheprovider", *options]
        paths = f"{self.root / 'src'}:{Path(__file__).parent}"
        env = {"PATH": "/usr/bin:/bin", "PYTHONPATH": paths, "HOME": str(self.root.parent), "OMP_NUM_THREADS": "1"}
        limit = math.ceil(seconds)
        said = self.root.parent / "said.txt"
        with said.open("w", encoding="utf-8") as file:
            done = subprocess.run(
                command,
                cwd=self.root,
                env=env,
                stdout=file,
                stderr=subprocess.STDOUT,
                check=False,
                preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 5)),
            )
        end = "\n".join(said.read_text(encoding="utf-8").splitlines()[-4:])
        if "file or directory not found" in end:
            raise SystemExit(end)
        if done.returncode < 0:
            return "timeout", end
        return ("survived" if done.returncode in (0, 5) else "killed"), end

    def put(self, mutant: Mutant) -> str | None:
        """Change the module; gives back what it was, None where the change is no Python."""
        file = self.root / "src" / "barkwright" / mutant.path
        was = file.read_text(encoding="utf-8")
        text = mutated(was, mutant)
        if text is None:
            return None
        self.write(mutant, text)
        return was

    def write(self, mutant: Mutant, text: str) -> None:
        """Write a module, and forget what was compiled of it."""
        file = self.root / "src" / "barkwright" / mutant.path
        for compiled in file.parent.glob(f"__pycache__/{file.stem}.*.pyc"):
            compiled.unlink()
        file.write_text(text, encoding="utf-8")


def note_calls(asked: argparse.Namespace) -> None:
    """Run the tests of the rooms once and note which functions each calls."""
    with tempfile.TemporaryDirectory() as folder:
        folders = asked.tests or FIRST
        print(*Checkout(Path(folder)).pytest("--note-calls", str(asked.calls.resolve()), *folders, seconds=3600))  # noqa: T201


def tests_of(calls: Path) -> list[dict]:
    """What was noted of each test that passed; what the setup of a file's first test calls counts for all its tests."""
    return _tests_of(calls, calls.stat().st_mtime)


@cache
def _tests_of(calls: Path, _changed: float) -> list[dict]:
    lines = [json.loads(line) for line in calls.read_text(encoding="utf-8").splitlines()]
    lines = list({line["test"]: line for line in lines}.values())
    of_file = defaultdict(set)
    for line in lines:
        of_file[line["test"].split("::")[0]].update(line["setup"])
    for line in lines:
        line["calls"] = {*line["calls"], *of_file[line["test"].split("::")[0]]}
    for file in of_file:  # tests of a file share what is made once for all, so each counts as the mean
        mine = [line for line in lines if line["test"].startswith(f"{file}::")]
        mean = sum(line["seconds"] for line in mine) / len(mine)
        for line in mine:
            line["seconds"] = mean
    return [line for line in lines if line["passed"]]


def picked(tests: list[dict], mutant: Mutant, effort: float) -> tuple[list[str], float]:
    """The tests to run on a mutant, the room's own and the quickest first, and the seconds that they take."""
    here = f"{mutant.path}:{mutant.first_line}"
    own = f"tests/{mutant.room}/"
    concerned = [test for test in tests if here in test["calls"]]
    if mutant.first_line is None:
        concerned = [test for test in tests if any(call.startswith(f"{mutant.path}:") for call in test["calls"])]
    concerned.sort(key=lambda test: (test["seconds"] > 1, not test["test"].startswith(own), test["seconds"]))
    names, seconds = [], 0.0
    for test in concerned:
        if names and seconds + test["seconds"] > effort:
            break
        names.append(test["test"])
        seconds += test["seconds"]
    return names, seconds


def sample(asked: argparse.Namespace) -> list[Mutant]:
    """A random sample, each room by its share of all mutants, in random order."""
    everything = list(mutants_in(ROOT, ROOMS))
    if asked.only:
        return [mutant for mutant in everything if any(word in mutant.name for word in asked.only)]
    by_room = {room: [mutant for mutant in everything if mutant.room == room] for room in ROOMS}
    draw = random.Random(asked.seed)
    drawn = []
    for room, mutants in by_room.items():
        number = round(asked.number * len(mutants) / len(everything))
        print(f"{room}: {number} of {len(mutants)} mutants")  # noqa: T201
        drawn += draw.sample(mutants, number)
    draw.shuffle(drawn)
    return drawn


def run(asked: argparse.Namespace) -> None:
    """Try the sample, a line for each mutant; those that the file has already are not tried again."""
    known = {line["name"]: line["outcome"] for line in found_in(asked.found)}
    left = {name for name, outcome in known.items() if outcome == "survived"} - set(looked_at())
    wanted = [one for one in sample(asked) if one.name not in known or asked.only]
    if asked.again:  # by name: the code, and with it the sample, may have changed since
        wanted = [one for one in mutants_in(ROOT, ROOMS) if one.name in left]
    wanted = [one for one in wanted if one.path.startswith(tuple(asked.rooms))]
    with tempfile.TemporaryDirectory() as folder:
        checkout = Checkout(Path(folder))
        checkout.pytest("--collect-only", *FIRST, seconds=600)  # compiles all of it
        for mutant in wanted:
            _try(checkout, mutant, tests_of(asked.calls), asked)


def _try(checkout: Checkout, mutant: Mutant, tests: list[dict], asked: argparse.Namespace) -> None:
    began = time.time()
    names, seconds = picked(tests, mutant, asked.effort)
    end = "no test calls it"
    outcome = "survived"
    was = checkout.put(mutant)
    if was is None:
        return
    if names:
        pick = checkout.root / "pick.json"
        pick.write_text(json.dumps(names), encoding="utf-8")
        files = list(dict.fromkeys(name.split("::")[0] for name in names))
        outcome, end = checkout.pytest("-x", "--tb=line", "--pick", str(pick), *files, seconds=30 + 4 * seconds)
    checkout.write(mutant, was)
    line = {"name": mutant.name, "room": mutant.room, "line": mutant.line, "operator": mutant.operator}
    line |= {"outcome": outcome, "tests": len(names), "wall": round(time.time() - began, 1), "end": end}
    with asked.found.open("a", encoding="utf-8") as file:
        print(json.dumps(line), file=file)
    print(f"{outcome:8} {mutant.path}:{mutant.line} {mutant.operator}: {mutant.name}", flush=True)  # noqa: T201


def whole(asked: argparse.Namespace) -> None:
    """Try the survivors that are not explained against whole folders of tests."""
    looked = looked_at()
    left = [
        line["name"] for line in found_in(asked.found) if line["outcome"] == "survived" and line["name"] not in looked
    ]
    by_name = {mutant.name: mutant for mutant in mutants_in(ROOT, ROOMS)}
    with tempfile.TemporaryDirectory() as folder:
        checkout = Checkout(Path(folder))
        for mutant in (by_name[name] for name in left):
            began = time.time()
            was = checkout.put(mutant)
            folders = asked.tests or (f"tests/{mutant.room}", "tests/published", *SECOND)
            outcome, end = checkout.pytest("-x", "--tb=line", *folders, seconds=1800)
            checkout.write(mutant, was or "")
            line = {"name": mutant.name, "room": mutant.room, "line": mutant.line, "operator": mutant.operator}
            line |= {"outcome": outcome, "tests": "whole", "wall": round(time.time() - began, 1), "end": end}
            with asked.found.open("a", encoding="utf-8") as file:
                print(json.dumps(line), file=file)
            print(f"{outcome:8} {mutant.name}\n{end}", flush=True)  # noqa: T201


def found_in(path: Path) -> list[dict]:
    """What was found, the last line of each mutant."""
    if not path.exists():
        return []
    lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    return list({line["name"]: line for line in lines}.values())


def looked_at() -> dict[str, str]:
    """Mutants that no test has to notice, by name, with the reason."""
    lines = [line for line in LOOKED_AT.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    pairs = zip(lines[::2], (line.strip() for line in lines[1::2]), strict=True)
    return {name: why for name, why in pairs if not why.startswith("open:")}


def score(asked: argparse.Namespace) -> None:
    """Killed of those that can be killed, by room and in all, with the interval of Wilson for 95 %."""
    looked = looked_at()
    lines = found_in(asked.found)
    print("room      " + "".join(f"{word:>11}" for word in WORDS) + "  score (95 %)")  # noqa: T201
    for room in (*ROOMS, "all"):
        mine = [line for line in lines if room in (line["room"], "all")]
        count = Counter(
            "equal" if line["outcome"] == "survived" and line["name"] in looked else line["outcome"] for line in mine
        )
        dead, number = count["killed"] + count["timeout"], len(mine) - count["equal"]
        low, high = (round(100 * share) for share in wilson(dead, number))
        row = (count[word] for word in ("killed", "timeout", "survived", "equal"))
        numbers = "".join(f"{one:>11}" for one in (len(mine), *row))
        print(f"{room:10}{numbers}  {100 * dead / max(number, 1):.0f} % ({low} to {high} %)")  # noqa: T201


def wilson(hits: int, number: int) -> tuple[float, float]:
    """The interval that holds the true share with 95 % confidence."""
    if not number:
        return 0.0, 1.0
    share, z2 = hits / number, 1.96**2
    middle = share + z2 / (2 * number)
    half = 1.96 * math.sqrt(share * (1 - share) / number + z2 / (4 * number**2))
    return (middle - half) / (1 + z2 / number), (middle + half) / (1 + z2 / number)


def main() -> None:
    """Read what is asked and do it."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("what", choices=("map", "run", "whole", "score"))
    parser.add_argument("--calls", type=Path, default=Path("calls.jsonl"))
    parser.add_argument("--found", type=Path, default=Path("found.jsonl"))
    parser.add_argument("--seed", type=int, default=6)
    parser.add_argument("--number", type=int, default=160)
    parser.add_argument("--effort", type=float, default=25.0, help="seconds of tests for a mutant [processor time]")
    parser.add_argument("--again", action="store_true", help="those that survived and are not explained once more")
    parser.add_argument("--only", nargs="*", help="mutants whose name holds one of these words, again")
    parser.add_argument("--rooms", nargs="*", default=ROOMS, help="only these rooms or modules of the sample")
    parser.add_argument("--tests", nargs="*", help="folders or files of tests, instead of the usual")
    asked = parser.parse_args()
    {"map": note_calls, "run": run, "whole": whole, "score": score}[asked.what](asked)


if __name__ == "__main__":
    main()
