"""Runs of trim cut from the fewest sticks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from elevation.cutting.blocks import Cutter, Item, Sheet, places
from elevation.cutting.solve import fewest
from elevation.geom import EPS
from elevation.units import Mm

_UNITS = 1000


@dataclass(frozen=True, slots=True)
class Length:
    """One length cut from a stick, mm.

    Attributes:
        run: Id of the run.
        part: Which part of the run, from 1; a run shorter than a stick has one.
        start: Where it begins on the stick.
        length: How long it is.
    """

    run: str
    part: int
    start: Mm
    length: Mm


@dataclass(frozen=True, slots=True)
class StickCut:
    """One stick, its number from 1 and what is cut from it, from its left end."""

    stick_no: int
    lengths: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class StickPlan:
    """Runs of one trim cut from the fewest sticks.

    Attributes:
        sticks: Sticks needed.
        lower_bound: No way of cutting needs fewer.
        proved: Both are equal.
        plan: What comes from each stick.
        joints: Runs longer than a stick, with how many joints each must have.
        total: Length of all runs, mm.
        waste: What of the sticks is in no run, kerfs included, mm.
    """

    sticks: int
    lower_bound: int
    proved: bool
    plan: tuple[StickCut, ...]
    joints: tuple[tuple[str, int], ...]
    total: Mm
    waste: Mm


def cut_sticks(runs: Iterable[tuple[str, Mm]], stock: Mm, kerf: Mm) -> StickPlan:
    """Return how to cut the runs from the fewest sticks.

    A run no longer than a stick stays in one length. A longer one is made of whole sticks and one rest, so it has the
    fewest joints.

    Args:
        runs: Id and length of each, mm.
        stock: Length of a stick as sold, mm.
        kerf: Width of the saw's cut, mm.

    Raises:
        ValueError: A length or the stick is not more than 0.
    """
    if stock <= 0:
        raise ValueError(f"a stick of {stock:g} mm cannot be cut")
    full = round(stock * _UNITS)
    sheet = Sheet(full, 1, round(kerf * _UNITS), False, False)
    whole: list[tuple[str, int]] = []
    joints: list[tuple[str, int]] = []
    sizes: dict[int, list[tuple[str, int]]] = {}
    total = 0.0
    for run, length in runs:
        if length <= 0:
            raise ValueError(f"run {run} is {length:g} mm long; a run is longer than 0")
        total += length
        count, rest = divmod(round(length * _UNITS), full)
        if count and rest <= EPS * _UNITS:
            rest = 0
        elif full - rest <= EPS * _UNITS:
            count, rest = count + 1, 0
        whole += [(run, part) for part in range(1, count + 1)]
        if rest:
            sizes.setdefault(rest, []).append((run, count + 1))
        if count + bool(rest) > 1:
            joints.append((run, count + bool(rest) - 1))
    items = [Item(rest, 1, 0) for rest in sorted(sizes, reverse=True)]
    cutter = Cutter(sheet, items)
    cutting = fewest(cutter, [len(sizes[i.w]) for i in items])
    rows: list[tuple[Length, ...]] = [(Length(run, part, 0.0, stock),) for run, part in whole]
    for contents in cutting.tiles:
        laid = sorted(places(cutter.layout(contents), sheet), key=lambda p: p.x)
        row: list[Length] = []
        for place in laid:
            run, part = sizes[place.w].pop(0)
            row.append(Length(run, part, place.x / _UNITS, place.w / _UNITS))
        rows.append(tuple(row))
    bound = len(whole) + cutting.bound
    plan = tuple(StickCut(n, row) for n, row in enumerate(rows, 1))
    return StickPlan(len(plan), bound, len(plan) == bound, plan, tuple(joints), total, len(plan) * stock - total)
