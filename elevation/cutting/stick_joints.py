"""Runs longer than a stick: where their joints stand, on joints of the tile where that can be.

A run is made of as few lengths as its tile joints allow. Of the ways to place its joints one is taken that needs the
fewest sticks; of those the one without a short end, then the one with the longest first length (common practice).
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from elevation.cutting.sticks import StickPlan, check_stock, cut_sticks, fewest_parts, whole_sticks
from elevation.geom import EPS
from elevation.units import Mm

SHORT = 300.0
"""A length of less than about a foot at the end of a long run is taken only where it cannot be helped, mm."""
MOST_WAYS = 400
"""So many ways to part one run are looked at; a way with a longer first length comes first."""
MOST_TRIED = 300
"""So many choices of a way for every run are cut out to see how many sticks they take."""

Joints = tuple[Mm, ...]


@dataclass(frozen=True, slots=True)
class LongRun:
    """A run that is longer than a stick.

    Attributes:
        run: Its id.
        joints: How far from its start each of its joints stands, mm.
        on_tile: They stand on joints of the tile.
    """

    run: str
    joints: Joints
    on_tile: bool


def cut_on_joints(
    runs: Sequence[tuple[str, Mm]], stations: Mapping[str, Sequence[Mm]], stock: Mm, kerf: Mm
) -> tuple[StickPlan, tuple[LongRun, ...]]:
    """Return how runs are cut from the fewest sticks, and where the joints of the long ones stand.

    Args:
        runs: Id and length of each, mm.
        stations: By run, how far from its start each joint of the tile along it stands, mm.
        stock: Length of a stick as sold, mm.
        kerf: Width of the saw's cut, mm.

    Returns:
        The plan; its bound holds for every way to place so few joints on joints of the tile.

    Raises:
        ValueError: A length or the stick is not more than 0.
    """
    check_stock(stock)
    ways: dict[str, list[Joints]] = {}
    off: set[str] = set()
    all_seen = True
    for run, length in runs:
        if fewest_parts(length, stock) < 2:
            continue
        found, complete = _ways(length, sorted(stations.get(run, ())), stock)
        all_seen = all_seen and complete
        if not found:
            off.add(run)
        ways[run] = found or [whole_sticks(length, stock)]
    least = _material(runs, ways, stock, kerf)
    plans: list[tuple[StickPlan, dict[str, Joints]]] = []
    for joints in _choices(ways):
        if len(plans) == MOST_TRIED:
            all_seen = False
            break
        plans.append((cut_sticks(runs, stock, kerf, joints), joints))
        if plans[-1][0].sticks <= least:
            all_seen = False
            break
    plan, joints = min(plans, key=lambda p: p[0].sticks)
    if all_seen:
        least = max(least, min(p.lower_bound for p, _ in plans))
    plan = replace(plan, lower_bound=least, proved=plan.sticks == least)
    return plan, tuple(LongRun(run, joints[run], run not in off) for run in ways)


def _material(runs: Sequence[tuple[str, Mm]], ways: Mapping[str, Sequence[Joints]], stock: Mm, kerf: Mm) -> int:
    """Return a bound for every way: all lengths with a kerf for each, in sticks that are a kerf longer."""
    need = sum(length + (len(ways[run][0]) + 1 if run in ways else 1) * (kerf - EPS) for run, length in runs)
    return math.ceil(need / (stock + kerf) - 1e-9)


def _ways(length: Mm, stations: Sequence[Mm], stock: Mm) -> tuple[list[Joints], bool]:
    """Return the ways to part a run at so few of its stations, the best first, and whether these are all."""
    places = [s for s in stations if EPS < s < length - EPS]
    ends = [*places, length]
    # how many lengths the rest from each place takes; the last place that a stick reaches is always as good as any
    need: dict[Mm, float] = {length: 0}
    for at in [*reversed(places), 0.0]:
        need[at] = min((1 + need[e] for e in ends if at < e <= at + stock + EPS), default=math.inf)
    if math.isinf(need[0.0]):
        return [], True
    found: list[Joints] = []
    for way in _walk(0.0, int(need[0.0]), ends, need, stock):
        if len(found) == MOST_WAYS:
            return sorted(found, key=lambda w: _rank(w, length)), False
        found.append(way)
    return sorted(found, key=lambda w: _rank(w, length)), True


def _walk(at: Mm, left: int, ends: Sequence[Mm], need: Mapping[Mm, float], stock: Mm) -> Iterator[Joints]:
    """Yield the joints of every way to go on from a place with so many lengths; the longest next length first."""
    if left == 1:
        yield ()
        return
    for end in reversed(ends):
        if at < end <= at + stock + EPS and need[end] <= left - 1 and end != ends[-1]:
            for rest in _walk(end, left - 1, ends, need, stock):
                yield (end, *rest)


def _rank(joints: Joints, length: Mm) -> tuple[bool, Joints]:
    ends = [0.0, *joints, length]
    shortest = min(b - a for a, b in pairwise(ends))
    return shortest < SHORT, tuple(-j for j in joints)


def _choices(ways: Mapping[str, Sequence[Joints]]) -> Iterator[dict[str, Joints]]:
    """Yield one way for every run, the best ways first."""
    names = list(ways)
    first = (0,) * len(names)
    waiting, seen = [(0, first)], {first}
    while waiting:
        _, place = heapq.heappop(waiting)
        yield {name: ways[name][k] for name, k in zip(names, place, strict=True)}
        for n, k in enumerate(place):
            step = (*place[:n], k + 1, *place[n + 1 :])
            if k + 1 < len(ways[names[n]]) and step not in seen:
                seen.add(step)
                heapq.heappush(waiting, (sum(step), step))
