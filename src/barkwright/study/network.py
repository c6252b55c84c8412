"""The run of a plan: tasks in their order, by draw, on clocks that count only the hours in which somebody works.

A loop over the tasks, each step for all draws at once. A network without a calendar runs on one clock that never stops.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from barkwright.record import dataclass
from barkwright.study.dice import times

if TYPE_CHECKING:
    import numpy as np

    from barkwright.study.clocks import Clocks
    from barkwright.study.dice import Bits, Numbers

    Places = np.ndarray[Any, np.dtype[np.int64]]

OUTSIDE = -1  # the clock of work by somebody who is not in a crew: its ends are days, see `Clocks`


@dataclass(frozen=True, slots=True)
class Node:
    """One task of the run. Hours on a clock are hours of one person of that crew."""

    low: float  # person-hours, or any unit on a clock that never stops
    likely: float
    high: float
    preds: tuple[int, ...] = ()  # places of tasks that stand before it
    clock: int = 0
    pace: float = 1.0  # hours on the clock per person-hour of the task, at least
    load: float = 0.0  # hours of the whole crew per person-hour; 0: hands for it are always there
    gate: int = 0  # day before which it does not begin
    wait: int = 0  # days after that on which what it waits for ends
    machines: tuple[tuple[str, float], ...] = ()  # kind, hours on the clock per person-hour
    days: int = 1  # that work from outside takes, from its gate on


Ended = Callable[[int, "Numbers"], None]


class Run:
    """One pass through the tasks for some draws. `ended` hears of each task's end, on the clock of its crew."""

    def __init__(self, nodes: Sequence[Node], clocks: Clocks, pace: Numbers | float = 1.0) -> None:
        self.nodes = nodes
        self.clocks = clocks
        self.pace = pace
        self.ends: dict[int, Numbers] = {}
        self.busy: dict[int, Numbers | float] = {}  # by clock: when the crew has done all that came before
        self.machines: dict[tuple[int, str], Numbers | float] = {}
        self.last_use = last_uses(nodes)

    def through(self, throws: Bits, ended: Ended) -> None:
        """Run every task; `throws` has a row for each."""
        for place, node in enumerate(self.nodes):
            end = self._outside(node) if node.clock == OUTSIDE else self._task(node, throws[place])
            ended(place, end)
            self.ends[place] = end
            for pred in (*node.preds, place):
                if self.last_use[pred] <= place:
                    self.ends.pop(pred, None)

    def _task(self, node: Node, throws: Bits) -> Numbers:
        import numpy as np

        most = np.maximum
        hours = times(node.low, node.likely, node.high, throws) * self.pace
        gate = self.clocks.opens(node.clock, node.gate) if node.gate > 0 else None
        start: Any = 0.0 if gate is None else gate
        for pred in node.preds:
            start = most(start, self._after(pred, node))
        for kind, _ in node.machines:
            start = most(start, self.machines.get((node.clock, kind), 0.0))
        end: Numbers = start + hours * node.pace
        for kind, rate in node.machines:
            self.machines[node.clock, kind] = start + hours * rate
        if node.load > 0.0:
            free = self.busy.get(node.clock, 0.0)
            busy = (free if gate is None else most(free, gate)) + hours * node.load
            self.busy[node.clock] = busy
            end = most(end, busy)
        return end

    def _after(self, pred: int, node: Node) -> Numbers:
        """When a task may begin that waits for another, on its own clock."""
        before, end = self.nodes[pred], self.ends[pred]
        if before.clock == node.clock and not node.wait:
            return end
        if node.wait or before.clock == OUTSIDE:
            return self.clocks.opens_on(node.clock, self._day(before, end) + (node.wait or 1))
        return self.clocks.moved(before.clock, node.clock, end)

    def _outside(self, node: Node) -> Numbers:
        """The day on which work from outside ends: as agreed, or later by what it has to wait for."""
        import numpy as np

        first: Any = np.full(self.clocks.draws, float(node.gate))
        for pred in node.preds:
            first = np.maximum(first, self._day(self.nodes[pred], self.ends[pred]) + node.wait)
        found: Numbers = first + (node.days - 1)
        return found

    def _day(self, node: Node, end: Numbers) -> Places:
        """The day on which a task ends."""
        return end.astype("int64") if node.clock == OUTSIDE else self.clocks.day_of(node.clock, end)


def last_uses(nodes: Sequence[Node]) -> list[int]:
    """For each task the place of the last one that waits for it, or its own."""
    found = list(range(len(nodes)))
    for place, node in enumerate(nodes):
        for pred in node.preds:
            found[pred] = max(found[pred], place)
    return found


def network_ends(nodes: Sequence[Node], draws: int, seed: int) -> Numbers:
    """The end of the last task of a network without a calendar, by draw."""
    import numpy as np

    from barkwright.study.clocks import Clocks
    from barkwright.study.dice import Dice

    latest = np.zeros(draws)

    def ended(_: int, end: Numbers) -> None:
        np.maximum(latest, end, out=latest)

    Run(nodes, Clocks.endless(draws)).through(Dice(seed, len(nodes)).throw(draws), ended)
    return latest
