"""The least move of a zone's layout that puts one hole well in the tile and brings no other hole of it in danger.

The state of a hole changes only where a side of a tile passes certain distances from it: the limit outside its rim,
and the rim itself. Those moves are few, are told exactly by arithmetic, and repeat with the module; the least of them
that leaves all holes well is the least move. A pattern whose tiles do not stand level is tried step by step instead.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from elevation.geom import EPS, bounds
from elevation.layout import LaidZone
from elevation.patterns import Lattice, Slot
from elevation.pieces.hole_place import HoleInZone, is_level, slot_extent

Good = Callable[[HoleInZone, tuple[float, float]], bool]
"""Tells whether a hole lies well when its zone's layout starts at a point."""


@dataclass(frozen=True, slots=True)
class Shift:
    """A move of the layout, mm: to the right and up are positive."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Shifts:
    """The least moves that put a hole well.

    Attributes:
        one: Along one axis, the lesser first; one of the two, both or none.
        both: Along both at once, where neither axis alone will do.
    """

    one: tuple[Shift, ...] = ()
    both: Shift | None = None


def has_no_bridge(hole: HoleInZone, origin: tuple[float, float]) -> bool:
    """Tell whether no bridge of a hole is too weak."""
    return not hole.bridges(origin)


def is_inside(hole: HoleInZone, origin: tuple[float, float]) -> bool:
    """Tell whether a hole lies in one tile, well inside."""
    return hole.is_in_one_tile(origin)


def least_shifts(hole: HoleInZone, others: Sequence[HoleInZone], step: float, good: Good = has_no_bridge) -> Shifts:
    """Return the least moves of the layout of a hole's zone that put it well.

    Args:
        hole: The hole.
        others: Other holes in the same zone: one without a weak bridge must not get one.
        step: What sheets round to, mm: moves are rounded away from nothing to it, or finer where that misses.
        good: What well means.
    """
    zone = hole.zone
    sound = [h for h in others if h.id != hole.id and has_no_bridge(h, zone.origin)]

    def will_do(x: float, y: float) -> bool:
        origin = zone.origin[0] + x, zone.origin[1] + y
        return good(hole, origin) and all(has_no_bridge(h, origin) for h in sound)

    along = [[0.0, *_sorted(_moves(zone, [hole, *sound], axis, step))] for axis in (0, 1)]
    found = []
    for axis in (0, 1):
        for d in along[axis][1:]:
            move = (d, 0.0) if axis == 0 else (0.0, d)
            if will_do(*move):
                found.append(_said(move, step, will_do))
                break
    if found:
        return Shifts(tuple(sorted(found, key=lambda s: (round(abs(s.x + s.y), 6), s.y != 0))))
    # a move across and the same less a module come to the same place: the lesser will do
    pitch = abs(zone.lattice.a[0])
    across = [x for x in along[0][1:] if abs(x) <= pitch / 2 + EPS]
    pairs = sorted(((abs(x) + abs(y), x, y) for x in across for y in along[1][1:]), key=lambda p: _rank(p[0]))
    best = next(((x, y) for _, x, y in pairs if will_do(x, y)), None)
    return Shifts() if best is None else Shifts(both=_said(best, step, will_do))


def _rank(value: float) -> float:
    return round(value, 6)


def _sorted(moves: Iterator[float]) -> list[float]:
    """Return moves by size, each once, nothing left out but no move at all."""
    unlike = {round(d, 6): d for d in moves if abs(d) > EPS}
    return sorted(unlike.values(), key=lambda d: (_rank(abs(d)), d))


def _said(move: tuple[float, float], step: float, will_do: Callable[[float, float], bool]) -> Shift:
    """Return a move as it is said: rounded away from nothing, finer where that misses or is twice as far."""
    for parts in (1, 2, 4):
        grain = step / parts
        x, y = (math.copysign(math.ceil(abs(d) / grain - 1e-6) * grain, d) if d else 0.0 for d in move)
        if abs(x) + abs(y) < 2 * (abs(move[0]) + abs(move[1])) - 1e-9 and will_do(x, y):
            return Shift(x, y)
    return Shift(*move)


def _moves(zone: LaidZone, holes: Sequence[HoleInZone], axis: int, step: float) -> Iterator[float]:
    """Yield every move along an axis at which the state of a hole may change, up to a module either way."""
    lattice = zone.lattice
    if not is_level(lattice):
        reach = abs(lattice.a[0]) if axis == 0 else abs(lattice.b[1])
        count = int(reach / step)
        yield from (n * step for n in range(-count, count + 1))
        return
    for hole in holes:
        for slot in lattice.motif:
            yield from _across(zone, lattice, slot, hole) if axis == 0 else _up(zone, lattice, slot, hole)


def _rows_near(zone: LaidZone, lattice: Lattice, hole: HoleInZone) -> range:
    """Return the rows of the lattice that may come to a hole when it is moved up or down by a course."""
    _, y0, _, y1 = hole.area.bounds
    rise, reach = lattice.b[1], slot_extent(zone)[1] + hole.least
    first = math.floor((y0 - reach - zone.origin[1]) / rise) - 2
    return range(first, math.ceil((y1 + reach - zone.origin[1]) / rise) + 3)


def _across(zone: LaidZone, lattice: Lattice, slot: Slot, hole: HoleInZone) -> Iterator[float]:
    left, bottom, right, top = bounds(slot.ring)
    pitch = lattice.a[0]
    for j in _rows_near(zone, lattice, hole):
        y = zone.origin[1] + j * lattice.b[1]
        stops = list(_stops(hole, 0, (y + bottom, y + top)))
        x = zone.origin[0] + j * lattice.b[0]
        for side in (x + left, x + right):
            for stop in stops:
                d = (stop - side) % pitch
                yield from (d, d - pitch)


def _up(zone: LaidZone, lattice: Lattice, slot: Slot, hole: HoleInZone) -> Iterator[float]:
    left, bottom, right, top = bounds(slot.ring)
    pitch, rise = lattice.a[0], lattice.b[1]
    x0, _, x1, _ = hole.area.bounds
    for j in _rows_near(zone, lattice, hole):
        x = zone.origin[0] + j * lattice.b[0]
        sides = [
            x + side + i * pitch
            for side in (left, right)
            for i in range(
                math.floor((x0 - hole.least - x - side) / pitch), math.ceil((x1 + hole.least - x - side) / pitch) + 1
            )
        ]
        y = zone.origin[1] + j * rise
        for stop in _stops(hole, 1, sides):
            yield from (d for side in (y + bottom, y + top) if abs(d := stop - side) <= rise)


def _stops(hole: HoleInZone, axis: int, sides: Sequence[float]) -> Iterator[float]:
    """Yield where a side across an axis changes the state of a hole; ``sides`` are sides along it, mm.

    A side of a tile may stop short of the middle of a round hole: the distance then goes to the end of the side.
    """
    if hole.circle is None:
        low, high = hole.area.bounds[axis], hole.area.bounds[axis + 2]
        yield from (low - hole.least, low, high, high + hole.least)
        return
    centre, radius = hole.circle
    for off in (0.0, *(abs(s - centre[1 - axis]) for s in sides)):
        for reach in (radius + hole.least, hole.core_radius):
            if off < reach:
                half = math.sqrt(reach * reach - off * off)
                yield from (centre[axis] - half, centre[axis] + half)
