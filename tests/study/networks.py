"""Published networks of tasks as the simulator takes them, and an independent run of them in plain Python."""

from __future__ import annotations

import random

from barkwright.study.network import Node

TAYLOR_PATH = {"1": (5, 8, 17), "3": (3, 5, 7), "5": (4, 6, 8), "7": (3, 4, 5)}
TAYLOR_PREDS = {"3": "1", "5": "3", "7": "5"}
PORTA_VAC = {
    "A": (4, 5, 12), "B": (1, 1.5, 5), "C": (2, 3, 4), "D": (3, 4, 11), "E": (2, 3, 4), "F": (1.5, 2, 2.5),
    "G": (1.5, 3, 4.5), "H": (2.5, 3.5, 7.5), "I": (1.5, 2, 2.5), "J": (1, 2, 3),
}  # fmt: skip
PORTA_VAC_PREDS = {"C": "A", "D": "A", "E": "A", "F": "C", "G": "D", "H": "BE", "I": "H", "J": "FGI"}
FOURTEEN = {
    "A": (5, 5, 7), "B": (1, 2, 5), "C": (5, 5, 5), "D": (4, 8, 13), "E": (1, 10, 17), "F": (1, 5, 7), "G": (2, 6, 9),
    "H": (4, 4, 6), "I": (2, 7, 10), "J": (2, 4, 7), "K": (6, 10, 13), "L": (2, 6, 6), "M": (2, 2, 3), "N": (7, 7, 12),
}  # fmt: skip
FOURTEEN_PREDS = {
    "C": "A", "D": "A", "E": "BC", "F": "D", "G": "D", "H": "EF", "I": "GH", "J": "I", "K": "I", "L": "J", "M": "K",
    "N": "LM",
}  # fmt: skip
HOUSE = [(3, 4, 6), (1, 1, 2), (3, 5, 6), (1, 1, 2), (2, 3, 4), (2, 3, 4), (2, 3, 5)]  # rows in series, GAO-16-89G

Times = dict[str, tuple[float, float, float]]


def nodes(times: Times, preds: dict[str, str]) -> list[Node]:
    """A network without a calendar."""
    places = {name: place for place, name in enumerate(times)}
    return [
        Node(low, likely, high, tuple(places[pred] for pred in preds.get(name, "")))
        for name, (low, likely, high) in times.items()
    ]


def run_plainly(times: Times, preds: dict[str, str], draws: int, seed: int) -> list[float]:
    """The ends of a network by the standard library's beta numbers, one draw after the other."""
    dice = random.Random(seed)
    found = []
    for _ in range(draws):
        ends: dict[str, float] = {}
        for name, (low, likely, high) in times.items():
            took = low
            if high > low:
                first, second = (1 + 4 * part / (high - low) for part in (likely - low, high - likely))
                took += (high - low) * dice.betavariate(first, second)
            ends[name] = took + max((ends[pred] for pred in preds.get(name, "")), default=0.0)
        found.append(max(ends.values()))
    return found
