"""Runs of trim cut from the fewest sticks."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from elevation.cutting.blocks import Cutter, Item, Sheet, places, turned
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


@dataclass(frozen=True, slots=True)
class Part:
    """A length that is wanted in one: the whole of a run, or a part of it between two joints.

    Attributes:
        run: Id of the run.
        part: Which part of it, from 1.
        length: Its length, mm.
        ends: Ends of the stick that it must keep, as bits: ``LEFT``, ``RIGHT``.
        alone: It takes a stick of its own, and what is left of that is not used.
    """

    run: str
    part: int
    length: Mm
    ends: int = 0
    alone: bool = False


def cut_sticks(
    runs: Iterable[tuple[str, Mm]], stock: Mm, kerf: Mm, joints: Mapping[str, Sequence[Mm]] | None = None
) -> StickPlan:
    """Return how to cut the runs from the fewest sticks.

    A run no longer than a stick stays in one length. A longer one is parted at its joints; where none are given it is
    made of whole sticks and one rest, so it has the fewest.

    Args:
        runs: Id and length of each, mm.
        stock: Length of a stick as sold, mm.
        kerf: Width of the saw's cut, mm.
        joints: For runs that are longer than a stick, how far from its start each joint stands, mm, in order.

    Raises:
        ValueError: A length or the stick is not more than 0.
    """
    check_stock(stock)
    parts: list[Part] = []
    for run, length in runs:
        if length <= 0:
            raise ValueError(f"run {run} is {length:g} mm long; a run is longer than 0")
        at = joints[run] if joints is not None and run in joints else whole_sticks(length, stock)
        ends = [0.0, *at, length]
        parts += [Part(run, n, high - low) for n, (low, high) in enumerate(pairwise(ends), 1)]
    return cut_parts(parts, stock, kerf)


def check_stock(stock: Mm) -> None:
    """Refuse a stick of no length.

    Raises:
        ValueError: It is not more than 0.
    """
    if stock <= 0:
        raise ValueError(f"a stick of {stock:g} mm cannot be cut")


def fewest_parts(length: Mm, stock: Mm) -> int:
    """Return how many sticks a run is made of at least; a rest of a hair is none."""
    return max(1, math.ceil((length - EPS) / stock))


def whole_sticks(length: Mm, stock: Mm) -> tuple[Mm, ...]:
    """Return the joints of a run that is made of whole sticks and one rest."""
    return tuple(stock * n for n in range(1, fewest_parts(length, stock)))


def cut_parts(parts: Sequence[Part], stock: Mm, kerf: Mm, *, turns: bool = False) -> StickPlan:
    """Return how to cut parts from the fewest sticks.

    Args:
        parts: What is wanted, none longer than a stick by more than a hair.
        stock: Length of a stick as sold, mm.
        kerf: Width of the saw's cut, mm.
        turns: A part may be cut with its ends the other way round: the stick has no direction.
    """
    full = round(stock * _UNITS)
    sheet = Sheet(full, 1, round(kerf * _UNITS), turns, False)
    rows: list[tuple[Length, ...]] = []
    sizes: dict[tuple[int, int], list[Part]] = {}
    for part in parts:
        units = round(part.length * _UNITS)
        if part.alone or full - units <= EPS * _UNITS:
            rows.append((Length(part.run, part.part, 0.0, min(part.length, stock)),))
        elif units > 0:
            ends = min(part.ends, turned(part.ends, 180)) if turns else part.ends
            sizes.setdefault((units, ends), []).append(part)
    items = [Item(units, 1, ends) for units, ends in sorted(sizes, reverse=True)]
    cutter = Cutter(sheet, items)
    cutting = fewest(cutter, [len(sizes[i.w, i.sides]) for i in items])
    bound = len(rows) + cutting.bound
    for contents in cutting.tiles:
        laid = sorted(places(cutter.layout(contents), sheet), key=lambda p: p.x)
        row: list[Length] = []
        for place in laid:
            item = items[place.item]
            part = sizes[item.w, item.sides].pop(0)
            row.append(Length(part.run, part.part, place.x / _UNITS, place.w / _UNITS))
        rows.append(tuple(row))
    total = sum(p.length for p in parts)
    counts = Counter(p.run for p in parts)
    joints = tuple((run, n - 1) for run, n in counts.items() if n > 1)
    plan = tuple(StickCut(n, row) for n, row in enumerate(rows, 1))
    return StickPlan(len(plan), bound, len(plan) == bound, plan, joints, total, len(plan) * stock - total)
