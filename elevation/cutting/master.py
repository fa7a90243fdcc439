"""The covering problem over known contents, by highspy: one thread, fixed seed, limits that are counts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from types import ModuleType

import numpy as np

from elevation.cutting.blocks import Contents

SLACK = 1e-6
"""A solver's number may be so far off; bounds are rounded up only past it."""


def round_up(value: float) -> int:
    """Return the least whole number of tiles that a bound of ``value`` allows."""
    return ceil(value - SLACK)


def _highs() -> ModuleType:
    """Return the module that knows the solver: it is slow to load, and most jobs are proved without it."""
    from elevation.cutting import highs  # noqa: PLC0415

    return highs


def _column(contents: Contents, row: dict[int, int]) -> tuple[np.ndarray, np.ndarray]:
    counts = Counter(row[i] for i in contents)
    return np.array(sorted(counts), dtype=np.int32), np.array([counts[r] for r in sorted(counts)], dtype=np.float64)


class Master:
    """The relaxed covering problem, growing by columns; each solve starts from the last."""

    def __init__(self, demand: Sequence[int], columns: Sequence[Contents]) -> None:
        """Take how many of each item are needed, and contents that can cover all of them."""
        self._row = {i: r for r, i in enumerate(i for i, n in enumerate(demand) if n)}
        self._items = list(self._row)
        self.columns: list[Contents] = []
        self._seen: set[Contents] = set()
        self._model = _highs().empty_model()
        for i in self._items:
            self._model.addRow(float(demand[i]), _highs().INFINITE, 0, np.empty(0, np.int32), np.empty(0))
        for contents in columns:
            self.add(contents)

    def add(self, contents: Contents) -> bool:
        """Add a column; tell whether it is new."""
        if contents in self._seen:
            return False
        self._seen.add(contents)
        self.columns.append(contents)
        index, value = _column(contents, self._row)
        self._model.addCol(1.0, 0.0, _highs().INFINITE, len(index), index, value)
        return True

    def solve(self) -> tuple[float, dict[int, float]]:
        """Return the optimum and the price of each item, none below 0."""
        self._model.run()
        if self._model.getModelStatus() != _highs().OPTIMAL:
            raise RuntimeError(f"cutting: the relaxed problem ended {self._model.getModelStatus()}")
        duals = self._model.getSolution().row_dual
        prices = {i: max(0.0, float(duals[r])) for i, r in self._row.items()}
        return float(self._model.getInfo().objective_function_value), prices

    def shares(self) -> list[float]:
        """Return how often the last optimum uses each column."""
        return [float(v) for v in self._model.getSolution().col_value]


@dataclass(frozen=True, slots=True)
class Cover:
    """A choice of contents that covers the demand; the solver proved that none has fewer than ``bound``."""

    tiles: tuple[Contents, ...]
    bound: int


def best_cover(
    demand: Sequence[int], columns: Sequence[Contents], start: Sequence[Contents], target: int, nodes: int
) -> Cover:
    """Return the fewest columns that cover the demand, as far as ``nodes`` nodes of the search find them.

    Args:
        demand: How many of each item.
        columns: What may be used, each any number of times; must hold everything in ``start``.
        start: A cover that is returned unless a better one is found.
        target: A number of tiles known to be the least possible: the search stops there.
        nodes: Most nodes of the search.
    """
    row = {i: r for r, i in enumerate(i for i, n in enumerate(demand) if n)}
    highs = _highs()
    model = highs.empty_model()
    for option, limit in (("mip_max_nodes", nodes), ("objective_target", target + 0.5), ("mip_rel_gap", 0.0)):
        model.setOptionValue(option, limit)
    model.setOptionValue("mip_abs_gap", 0.999)  # the number of tiles is whole
    for i in row:
        model.addRow(float(demand[i]), highs.INFINITE, 0, np.empty(0, np.int32), np.empty(0))
    for j, contents in enumerate(columns):
        index, value = _column(contents, row)
        model.addCol(1.0, 0.0, float(max(demand)), len(index), index, value)
        model.changeColIntegrality(j, highs.INTEGER)
    # the start is compared afterwards, not handed over: HiGHS 1.16 miscounts one when presolve has removed columns
    model.run()
    bound = float(model.getInfo().mip_dual_bound)
    values = model.getSolution().col_value
    tiles = [c for j, c in enumerate(columns) for _ in range(round(values[j]))] if len(values) else list(start)
    if len(tiles) > len(start) or not _covers(tiles, demand):
        tiles = list(start)
    return Cover(tuple(tiles), max(0, round_up(bound)) if bound > -highs.INFINITE else 0)


def _covers(tiles: Sequence[Contents], demand: Sequence[int]) -> bool:
    have = Counter(i for c in tiles for i in c)
    return all(have[i] >= n for i, n in enumerate(demand))
