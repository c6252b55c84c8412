"""Bombs of text: inventories, journals, orders given out, local knowledge, drafts, phrases."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from itertools import pairwise

from bomb_kit import FULL, HEAD, TREE, Bomb, numbered, times
from material import seeds

ISSUED_LETTERS = 31_900_000  # just below what is read of an order that was given out


def _laughs(share: float) -> bytes:
    names = [f"l{n}" for n in range(max(3, int(60 * share)))]
    lines = ["l: &l0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"{two}: &{two} [{', '.join([f'*{one}'] * 9)}]" for one, two in pairwise(names)]
    return "\n".join(lines).encode()


def _rule(line: str) -> bytes:
    return (
        f"rules:\n- id: x\n  title: y\n  {line}\n  then: {{verdict: ruled out}}\n  grade: C\n  checked_on: 2026-11-01\n"
        + "".join(f"  {key}: b\n" for key in ("because", "source") if f"{key}:" not in line)
    ).encode()


def _entries(form: str, most: int) -> Callable[[float], bytes]:
    return lambda share: f"barkwright-journal: 1\nentries:\n{numbered(form, share, most)}".encode()


def _issued_jobs(share: float) -> bytes:
    record = json.loads(seeds("issued")[0])
    record["jobs"] = record["jobs"] * int(70_000 * share)
    return json.dumps(record).encode()


_ANSWERS = {
    "line": "out-of-reach", "building": "80 ft", "road": "out-of-reach", "neighbour": "unknown", "hazard": "lean",
    "where": "by the gate", "species": "white", "status": "standing", "girth": "girth 52 in", "height": "72 ft",
    "attacked": "2026", "found": "larvae", "looked": "base,sunny", "seen": "2026-10-20", "exit-holes": "none",
    "crown": "green", "more": "yes",
}  # fmt: skip


def _draft_trees(share: float) -> bytes:
    answers = {"place": "53.1, -122.4"}
    for n in range(1, int(200 * share) + 2):
        answers |= {f"T{n}.{key}": value for key, value in _ANSWERS.items()}
    return json.dumps({"barkwright-draft": 1, "command": "new", "units": "imperial", "answers": answers}).encode()


TEXTS: Sequence[Bomb] = (
    Bomb("aliases of aliases", "inventory", _laughs),
    Bomb("brackets that never close", "inventory", lambda s: times("[", s).encode()),
    Bomb("braces inside braces", "inventory", lambda s: times("{a: ", s).encode()),
    Bomb("dashes inside dashes", "inventory", lambda s: times("- ", s).encode()),
    Bomb("questions inside questions", "inventory", lambda s: times("? ", s).encode()),
    Bomb("brackets in text", "inventory", lambda s: ("a: [" + times("'[' ", s)).encode()),
    Bomb("quotes that do not match", "inventory", lambda s: times("a: 'b\n", s).encode()),
    Bomb("an open quote", "inventory", lambda s: ('a: "' + times("b\n ", s)).encode()),
    Bomb("one long line", "inventory", lambda s: times("x", s).encode()),
    Bomb("one long line with colons", "inventory", lambda s: times("x:", s).encode()),
    Bomb("blanks", "inventory", lambda s: ("a: x" + times(" ", s) + "\n b").encode()),
    Bomb("remarks without a tree", "inventory", lambda s: times("#\n", s).encode()),
    Bomb("64 MB in one word", "inventory", lambda s: b"x" * int(FULL * s)),
    Bomb("64 MB that are not UTF-8", "inventory", lambda s: b"x: " + b" " * int(FULL * s) + b"\xff"),
    Bomb("more than is read", "inventory", lambda s: b"a: 1\n", sparse=1 << 30),
    Bomb("a long name", "inventory", lambda s: f"{HEAD.replace('x', times('x', s))}{TREE}".encode()),
    Bomb("a long id", "inventory", lambda s: (HEAD + TREE.replace("T1", times("T", s))).encode()),
    Bomb("a long species", "inventory", lambda s: (HEAD + TREE.replace("white", times("white ", s))).encode()),
    Bomb("a long size", "inventory", lambda s: (HEAD + TREE.replace("12", times("1", s))).encode()),
    Bomb("a long size in words", "inventory", lambda s: (HEAD + TREE.replace("12", "1 " + times("a ", s))).encode()),
    Bomb("a long sum of money", "inventory", lambda s: f"{HEAD}{TREE}limits: {{budget: {times('a', s)}1}}\n".encode()),
    Bomb("a long day", "inventory", lambda s: f"{HEAD}{TREE}calendar: {{start: {times('2026-', s)}}}\n".encode()),
    Bomb("a long unknown key", "inventory", lambda s: f"{HEAD}{TREE}? {times('k', s)}\n: 1\n".encode()),
    Bomb("200,000 unknown keys", "inventory", lambda s: (HEAD + TREE + numbered("dbh{0}: 1\n", s, 199_000)).encode()),
    Bomb("the same key 400,000 times", "inventory", lambda s: numbered("a: \n", s, 199_000).encode()),
    Bomb("400,000 keys", "inventory", lambda s: numbered("k{0}:\n", s, 400_000).encode()),
    Bomb(
        "390,000 wrong words in a list",
        "inventory",
        lambda s: (HEAD + TREE.replace("}]", f", hazards: [{numbered('leen,', s, 390_000)}]}}]")).encode(),
    ),
    Bomb(
        "390,000 trees that are none", "inventory", lambda s: f"{HEAD}trees: [{numbered('1, ', s, 390_000)}]\n".encode()
    ),
    Bomb(
        "70,000 trees with faults",
        "inventory",
        lambda s: (f"{HEAD}trees:\n" + numbered("- {{id: T{0}, dbh: x}}\n", s, 70_000)).encode(),
    ),
    Bomb(
        "130,000 empty trees",
        "inventory",
        lambda s: f"{HEAD}trees:\n{numbered('- {{id: T}}' + chr(10), s, 130_000)}".encode(),
    ),
    Bomb(
        "trees without end by count",
        "inventory",
        lambda s: (
            HEAD + "trees:\n" + numbered("- {{id: T{0}, species: white, dbh: 12, count: 200}}\n", s, 40_000)
        ).encode(),
    ),
    Bomb(
        "logs without end by count",
        "inventory",
        lambda s: (
            f"{HEAD}trees:\n- id: T\n  species: white\n  status: logs\n  logs:\n"
            + numbered("  - {{butt: 12, top: 11, length: 8, count: 999999}}\n", s, 50_000)
        ).encode(),
    ),
    Bomb(
        "20,000 weather files",
        "inventory",
        lambda s: (HEAD.replace("}", f", weather: [{numbered('w{0}.csv, ', s, 200_000)}]}}") + TREE).encode(),
    ),
    Bomb(
        "a journal of 100,000 entries",
        "journal",
        _entries("- {{id: {0}, recorded: a, did: located, date: 2026-11-20}}\n", 100_000),
    ),
    Bomb(
        "a journal of 32,000 entries",
        "journal",
        _entries("- {{id: {0}, recorded: a, did: felled, date: 2026-11-20, pieces: [T1]}}\n", 32_000),
    ),
    Bomb(
        "a journal that takes itself back",
        "journal",
        _entries("- {{id: 1, recorded: a, did: undone, date: 2026-11-20, undoes: 1}}\n", 36_000),
    ),
    Bomb(
        "a journal of unknown trees",
        "journal",
        _entries("- {{id: 1{0}, recorded: a, did: felled, date: 2026-11-20, pieces: [X{0}]}}\n", 32_000),
    ),
    Bomb("a journal of wrong entries", "journal", _entries("- {{idd: {0}, methode: x, didd: y}}\n", 56_000)),
    Bomb(
        "a journal entry of 190,000 keys",
        "journal",
        lambda s: ("barkwright-journal: 1\nentries:\n- id: 1\n" + numbered("  hour{0}: 1\n", s, 190_000)).encode(),
    ),
    Bomb("a journal of 190,000 parts", "journal", lambda s: numbered("entrie{0}: 1\n", s, 190_000).encode()),
    Bomb("an issued order of brackets", "issued", lambda s: times("[", s, ISSUED_LETTERS).encode()),
    Bomb(
        "an issued order of empty lists", "issued", lambda s: ("[" + times("[],", s, ISSUED_LETTERS) + "[]]").encode()
    ),
    Bomb(
        "an issued order of 16,000,000 numbers",
        "issued",
        lambda s: ('{"jobs":[' + times("1,", s, ISSUED_LETTERS) + "1]}").encode(),
    ),
    Bomb(
        "an issued order of wrong jobs",
        "issued",
        lambda s: ('{"jobs":[' + times("{},", s, ISSUED_LETTERS) + "{}]}").encode(),
    ),
    Bomb(
        "an issued order of unknown keys",
        "issued",
        lambda s: ("{" + numbered('"k{0}":1,', s, 2_400_000) + '"x":1}').encode(),
    ),
    Bomb("an issued order of 70,000 jobs", "issued", _issued_jobs),
    Bomb(
        "an issued order with a long number",
        "issued",
        lambda s: ('{"format":' + times("1", s, ISSUED_LETTERS) + "}").encode(),
    ),
    Bomb(
        "local rates without end", "local", lambda s: ("rates:\n" + numbered("  peel{0}: {{}}\n", s, 190_000)).encode()
    ),
    Bomb(
        "local rates of 190,000 keys",
        "local",
        lambda s: ("rates:\n  peel-slipping:\n" + numbered("    lo{0}: 1\n", s, 190_000)).encode(),
    ),
    Bomb("local parts without end", "local", lambda s: numbered("rules{0}: 1\n", s, 190_000).encode()),
    Bomb("local rules that are none", "local", lambda s: ("rules: [" + numbered("1,", s, 390_000) + "]").encode()),
    Bomb(
        "local rules with unknown keys",
        "local",
        lambda s: ("rules:\n- id: x\n" + numbered("  titl{0}: 1\n", s, 190_000)).encode(),
    ),
    Bomb(
        "490 sound local rules",
        "local",
        lambda s: (
            "rules:\n"
            + numbered(
                "- {{id: r{0}, title: a, methods: [chip], when: [{{fact: piece.butt_dob_in, at_least: 14 in}}], "
                "then: {{verdict: ruled out}}, because: b, grade: C, source: c, checked_on: 2026-11-01}}\n",
                s,
                490,
            )
        ).encode(),
    ),
    Bomb(
        "a local fact of one long word",
        "local",
        lambda s: f"rules: [{{id: x, title: y, when: [{{fact: {times('piece', s)}, is: true}}], grade: C}}]".encode(),
    ),
    Bomb(
        "a local rule of 70,000 conditions",
        "local",
        lambda s: _rule(f"when: [{numbered('{{fact: piece.butt_dob_in, at_least: 14 in}},', s, 70_000)}]"),
    ),
    Bomb(
        "a local rule of 290,000 unknown ways",
        "local",
        lambda s: _rule(f"ways: [{numbered('debarkk{0},', s, 290_000)}]"),
    ),
    Bomb("a local rule of 290,000 sources", "local", lambda s: _rule(f"sources: [{numbered('hack{0},', s, 290_000)}]")),
    Bomb("a local rule of one long sentence", "local", lambda s: _rule(f"because: '{times('{piece.butt}', s)}'")),
    Bomb(
        "local regions without end", "local", lambda s: ("regions:\n" + numbered("- id: r{0}\n", s, 190_000)).encode()
    ),
    Bomb(
        "490 local rates with odd keys",
        "local",
        lambda s: (
            "rates:\n" + numbered("  peel{0}: {{" + "".join(f"lo{n}: 1, " for n in range(180)) + "x: 1}}\n", s, 490)
        ).encode(),
    ),
    Bomb(
        "390 local rules with odd keys",
        "local",
        lambda s: (
            "rules:\n" + numbered("- {{" + "".join(f"titl{n}: 1, " for n in range(199)) + "x: 1}}\n", s, 390)
        ).encode(),
    ),
    Bomb(
        "490 local rules of odd conditions",
        "local",
        lambda s: (
            "rules:\n"
            + numbered(
                "- {{id: x{0}, title: y, because: z, grade: C, basis: ours, checked_on: 2026-11-01, "
                "when: [" + "{{fact: piece.but, at_leest: 14}}," * 49 + "]}}\n",
                s,
                490,
            )
        ).encode(),
    ),
    Bomb(
        "local machine rates without end",
        "local",
        lambda s: ("machine_rates:\n" + numbered("  m{0}: {{kind: chippe}}\n", s, 90_000)).encode(),
    ),
    Bomb("a draft of 200 trees", "draft", _draft_trees),
    Bomb("a draft of 200 trees with a fault each", "draft", lambda s: _draft_trees(s).replace(b"52 in", b"9000 in")),
    Bomb("a draft of brackets", "draft", lambda s: times("[", s, 990_000).encode()),
    Bomb(
        "a draft of one long answer",
        "draft",
        lambda s: json.dumps(
            {
                "barkwright-draft": 1,
                "command": "new",
                "units": "imperial",
                "answers": {"place": "1 N" + times(" ", s, 900_000), "T1.species": times("a ", s, 90_000)},
            }
        ).encode(),
    ),
    Bomb(
        "a change in 2,000,000 letters", "try", lambda s: ("one more person with " + times("a ", s, 120_000)).encode()
    ),
)
