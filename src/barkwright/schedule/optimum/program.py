"""Linear programs, some of whose columns are whole numbers, and the one solver that solves them.

The solver runs on one thread, ends on a gap or a number of nodes and never on a clock: the same program gives the same
answer everywhere. Its words never reach the terminal.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import field
from typing import TYPE_CHECKING, Any

from barkwright.record import dataclass
from barkwright.schedule.settings import SETTINGS

if TYPE_CHECKING:
    pass

INFINITE = float("inf")


class SolverError(Exception):
    """The solver gave no answer that can be used."""


@dataclass(slots=True)
class Answer:
    """What the solver found."""

    values: list[float]
    bound: float  # no answer can be below it
    proven: bool  # ended by its gap, not by its limit of nodes
    duals: list[float]  # by row; empty where columns are whole


@dataclass(slots=True)
class Program:
    """Columns and rows, built one by one."""

    upper: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    low: list[float] = field(default_factory=list)  # by row
    high: list[float] = field(default_factory=list)
    places: list[tuple[int, int]] = field(default_factory=list)  # row and column of each entry
    entries: list[float] = field(default_factory=list)

    def column(self, upper: float, whole: bool, entries: Sequence[tuple[int, float]] = ()) -> int:
        """A column from 0 to `upper`, and its entries by row. Returns its number."""
        number = len(self.upper)
        self.upper.append(upper)
        self.whole.append(whole)
        for row, entry in entries:
            self.places.append((row, number))
            self.entries.append(entry)
        return number

    def row(self, low: float, high: float, entries: Sequence[tuple[int, float]] = ()) -> int:
        """A row between two values, and its entries by column. Returns its number."""
        number = len(self.low)
        self.low.append(low)
        self.high.append(high)
        for column, entry in entries:
            self.places.append((number, column))
            self.entries.append(entry)
        return number


class Solver:
    """One program in the solver; costs change and rows are added from one solution to the next."""

    def __init__(self, program: Program) -> None:
        import highspy
        import numpy as np

        self._np, self._highs = np, highspy
        self.columns = len(program.upper)
        self.rows = len(program.low)
        with _silent():
            self._solver = highspy.Highs()  # type: ignore[no-untyped-call]
            for name, value in (
                ("output_flag", False),
                ("threads", 1),
                ("random_seed", 1),
                ("mip_rel_gap", SETTINGS["solver_gap"]),
                ("mip_abs_gap", SETTINGS["solver_gap_absolute"]),
            ):
                self._solver.setOptionValue(name, value)
        self._integral = any(program.whole)
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = self.columns, self.rows
        lp.col_cost_ = np.zeros(self.columns)
        lp.col_lower_ = np.zeros(self.columns)
        lp.col_upper_ = np.array(program.upper, dtype=float)
        lp.row_lower_ = np.array(program.low, dtype=float)
        lp.row_upper_ = np.array(program.high, dtype=float)
        lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        places = np.array(program.places, dtype=np.int32).reshape(-1, 2)
        order = np.lexsort((places[:, 0], places[:, 1]))
        lp.a_matrix_.start_ = np.searchsorted(places[order, 1], np.arange(self.columns + 1)).astype(np.int32)
        lp.a_matrix_.index_ = places[order, 0]
        lp.a_matrix_.value_ = np.array(program.entries, dtype=float)[order]
        if self._integral:
            kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
            lp.integrality_ = [kinds[each] for each in program.whole]
        self._check(self._solver.passModel(lp), "pass the model to")

    def nodes(self, most: int) -> None:
        """End a search after so many nodes."""
        self._solver.setOptionValue("mip_max_nodes", most)

    def cap(self, costs: Sequence[float], at_most: float) -> None:
        """From now on this sum is at most so much."""
        np = self._np
        places = np.nonzero(np.array(costs))[0].astype(np.int32)
        self._check(
            self._solver.addRow(-INFINITE, at_most, len(places), places, np.array(costs)[places]), "add a row to"
        )
        self.rows += 1

    def solve(self, costs: Sequence[float], start: Sequence[float] | None = None) -> Answer:
        """Minimise a sum. Raises SolverError when there is no answer."""
        np, highs = self._np, self._highs
        every = np.arange(self.columns, dtype=np.int32)
        self._check(self._solver.changeColsCost(self.columns, every, np.array(costs, dtype=float)), "set costs in")
        if start is not None and self._integral:
            known = highs.HighsSolution()
            known.col_value = list(start)
            self._solver.setSolution(known)
        with _silent():
            self._check(self._solver.run(), "run")
        status = self._solver.getModelStatus()
        info = self._solver.getInfo()
        ended = (highs.HighsModelStatus.kOptimal, highs.HighsModelStatus.kSolutionLimit)
        if status not in ended or info.primal_solution_status != 2:
            raise SolverError(f"the solver ended with {self._solver.modelStatusToString(status).lower()}")
        found = self._solver.getSolution()
        bound = info.mip_dual_bound if self._integral else info.objective_function_value
        return Answer(
            [float(value) for value in found.col_value],
            float(bound),
            status == highs.HighsModelStatus.kOptimal,
            [] if self._integral else [float(value) for value in found.row_dual],
        )

    def _check(self, status: Any, doing: str) -> None:
        if status == self._highs.HighsStatus.kError:
            raise SolverError(f"could not {doing} the solver")


def solver_name() -> str:
    """Name and version of the solver, as the order names it."""
    from importlib.metadata import version

    return f"HiGHS {version('highspy')}"


@contextmanager
def _silent() -> Iterator[None]:
    """Nothing that the library prints reaches the terminal."""
    try:
        if sys.stdout is not None:
            sys.stdout.flush()
        kept = os.dup(1)
    except OSError:  # there is no standard output to keep clean
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
