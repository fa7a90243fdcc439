"""Lay a lattice over a region: which slots are whole, and what the border leaves of the others.

Interior slots never touch the geometry engine. The border's segments are run through the rows of slots as arrays:
a slot that a segment enters is *touched* and gets clipped; of the others, the parity of border crossings to the left
of their centre tells inside from outside. Patterns whose slots are not level rectangles take the general way.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from elevation.geom import Point, Region, segments_of
from elevation.patterns import Lattice, Slot

TOUCH = 1e-4
"""A border that enters a slot by less than this, mm, does not touch it: float noise, far below the tolerance."""

Ints = NDArray[np.int64]
Floats = NDArray[np.floating[Any]]


@dataclass(frozen=True)
class Tiling:
    """What a lattice becomes in a region.

    Attributes:
        whole: Addresses ``(i, j, k)`` of whole slots; shape (n, 3).
        whole_at: Their lower left corners, mm; shape (n, 2).
        cut: Addresses of slots that the border enters and leaves something of; shape (m, 3).
        cut_at: Their lower left corners, mm; shape (m, 2).
        left: What is left of each of them, as shapely geometries; shape (m,).
    """

    whole: Ints
    whole_at: Floats
    cut: Ints
    cut_at: Floats
    left: NDArray[np.object_]


def tile_region(lattice: Lattice, origin: Point, region: Region) -> Tiling:
    """Return whole and cut slots of ``lattice``, its slot (0, 0, 0) at ``origin``, inside ``region``; all mm."""
    if region.is_empty:
        none = np.empty((0, 3), np.int64)
        return Tiling(none, np.empty((0, 2)), none, np.empty((0, 2)), np.empty(0, object))
    segments = segments_of(region)
    level = abs(lattice.a[1]) < 1e-9
    shapely.prepare(region)
    results = [
        _level_rows(lattice, origin, region, segments, k, slot)
        if level and is_level_box(slot)
        else _any_slots(lattice, origin, region, k, slot)
        for k, slot in enumerate(lattice.motif)
    ]
    if len(results) == 1:
        return results[0]
    return Tiling(
        *(
            np.concatenate([getattr(r, name) for r in results])
            for name in ("whole", "whole_at", "cut", "cut_at", "left")
        )
    )


def is_level_box(slot: Slot) -> bool:
    """Tell whether a slot is a rectangle that stands level."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = slot.ring if len(slot.ring) == 4 else ((0.0, 0.0),) * 4
    return y0 == y1 and x1 == x2 and y2 == y3 and x3 == x0 and x1 > x0 and y2 > y1


def _level_rows(lattice: Lattice, origin: Point, region: Region, segments: Floats, k: int, slot: Slot) -> Tiling:
    """Tile with one slot of the motif, whose copies stand in level rows."""
    (sx, sy), (tx, ty) = slot.ring[0], slot.ring[2]
    width, height = tx - sx, ty - sy
    pitch, (lean, rise) = lattice.a[0], lattice.b
    x_least, y_least, x_most, y_most = region.bounds
    first = int(np.floor((y_least - origin[1] - sy - height) / rise)) + 1
    last = int(np.ceil((y_most - origin[1] - sy) / rise)) - 1
    rows = max(0, last - first + 1)
    columns = int(np.ceil((x_most - x_least + width) / pitch)) + 2
    js = first + np.arange(rows)
    bottoms = origin[1] + sy + js * rise
    lean_x = origin[0] + sx + js * lean
    i_first = np.floor((x_least - lean_x - width) / pitch).astype(np.int64)
    lefts = lean_x + i_first * pitch

    touched = _touched(segments, bottoms, height, lefts, width, pitch, columns, rise)
    inside = _inside(segments, bottoms + height / 2, lefts + width / 2, pitch, columns, rise)
    r, c = np.nonzero(inside & ~touched)
    whole, whole_at = _address(r, c, i_first, js, k, lefts, bottoms, pitch)
    r, c = np.nonzero(touched)
    cut, cut_at = _address(r, c, i_first, js, k, lefts, bottoms, pitch)
    boxes = shapely.box(cut_at[:, 0], cut_at[:, 1], cut_at[:, 0] + width, cut_at[:, 1] + height)
    left = shapely.intersection(boxes, region)
    some = shapely.area(left) > 0
    return Tiling(whole, whole_at, cut[some], cut_at[some], left[some])


def _address(
    r: Ints, c: Ints, i_first: Ints, js: Ints, k: int, lefts: Floats, bottoms: Floats, pitch: float
) -> tuple[Ints, Floats]:
    address = np.empty((len(r), 3), np.int64)
    address[:, 0], address[:, 1], address[:, 2] = i_first[r] + c, js[r], k
    at = np.empty((len(r), 2))
    at[:, 0], at[:, 1] = lefts[r] + c * pitch, bottoms[r]
    return address, at


def _pairs(first: Ints, last: Ints, rows: int) -> tuple[Ints, Ints]:
    """Return (segment, row) for every row from ``first`` to ``last`` of each segment, within 0 to ``rows``."""
    first, last = np.maximum(first, 0), np.minimum(last, rows - 1)
    count = np.maximum(0, last - first + 1)
    segment = np.repeat(np.arange(len(count)), count)
    start = np.repeat(np.cumsum(count) - count, count)
    return segment, np.repeat(first, count) + np.arange(len(segment)) - start


def _touched(
    segments: Floats,
    bottoms: Floats,
    height: float,
    lefts: Floats,
    width: float,
    pitch: float,
    columns: int,
    rise: float,
) -> NDArray[np.bool_]:
    """Return which slots a border segment enters; shape (rows, columns)."""
    rows = len(bottoms)
    marks = np.zeros((rows, columns + 1), np.int32)
    if not rows:
        return marks[:, :-1] > 0
    x1, y1, x2, y2 = segments.T
    low, high = np.minimum(y1, y2), np.maximum(y1, y2)
    first = np.floor((low - bottoms[0] - height + TOUCH) / rise).astype(np.int64) + 1
    last = np.ceil((high - bottoms[0] - TOUCH) / rise).astype(np.int64) - 1
    s, r = _pairs(first, last, rows)
    # the part of each segment between the lower and the upper edge of the row's slots
    below, above = bottoms[r] + TOUCH, bottoms[r] + height - TOUCH
    dy = y2[s] - y1[s]
    with np.errstate(divide="ignore", invalid="ignore"):
        t1 = np.where(dy == 0, 0.0, np.clip((below - y1[s]) / dy, 0.0, 1.0))
        t2 = np.where(dy == 0, 1.0, np.clip((above - y1[s]) / dy, 0.0, 1.0))
    dx = x2[s] - x1[s]
    xa, xb = x1[s] + t1 * dx, x1[s] + t2 * dx
    least, most = np.minimum(xa, xb) - lefts[r], np.maximum(xa, xb) - lefts[r]
    c1 = np.floor((least - width + TOUCH) / pitch).astype(np.int64) + 1
    c2 = np.ceil((most - TOUCH) / pitch).astype(np.int64) - 1
    c1, c2 = np.maximum(c1, 0), np.minimum(c2, columns - 1)
    some = c1 <= c2
    np.add.at(marks, (r[some], c1[some]), 1)
    np.add.at(marks, (r[some], c2[some] + 1), -1)
    entered: NDArray[np.bool_] = np.cumsum(marks, axis=1)[:, :-1] > 0
    return entered


def _inside(
    segments: Floats, middles: Floats, centres: Floats, pitch: float, columns: int, rise: float
) -> NDArray[np.bool_]:
    """Return whose centre has an odd number of border crossings to its left; shape (rows, columns)."""
    rows = len(middles)
    flips = np.zeros((rows, columns + 1), np.int8)
    if not rows:
        return flips[:, :-1] > 0
    x1, y1, x2, y2 = segments.T
    low, high = np.minimum(y1, y2), np.maximum(y1, y2)
    # rows with low <= middle < high: half open, so that a shared end is counted once
    first = np.ceil((low - middles[0]) / rise).astype(np.int64) - 1
    last = np.floor((high - middles[0]) / rise).astype(np.int64) + 1
    s, r = _pairs(first, last, rows)
    meets = (low[s] <= middles[r]) & (middles[r] < high[s])
    s, r = s[meets], r[meets]
    x = x1[s] + (middles[r] - y1[s]) / (y2[s] - y1[s]) * (x2[s] - x1[s])
    c = np.clip(np.floor((x - centres[r]) / pitch).astype(np.int64) + 1, 0, columns)
    np.add.at(flips, (r, c), 1)
    odd: NDArray[np.bool_] = (np.cumsum(flips, axis=1)[:, :-1] & 1) == 1
    return odd


def _any_slots(lattice: Lattice, origin: Point, region: Region, k: int, slot: Slot) -> Tiling:
    """Tile with one slot of any shape: every copy near the region, sorted by the geometry engine."""
    ring = np.asarray(slot.ring)
    (ax, ay), (bx, by) = lattice.a, lattice.b
    x_least, y_least, x_most, y_most = region.bounds
    reach = ring.max(axis=0) - ring.min(axis=0)
    low = np.array([x_least, y_least]) - origin - ring.max(axis=0) - reach
    high = np.array([x_most, y_most]) - origin - ring.min(axis=0) + reach
    corners = np.array([[low[0], low[1]], [high[0], low[1]], [low[0], high[1]], [high[0], high[1]]])
    ij = corners @ np.linalg.inv(np.array([[ax, ay], [bx, by]]))
    (i0, j0), (i1, j1) = np.floor(ij.min(axis=0)).astype(int), np.ceil(ij.max(axis=0)).astype(int)
    i, j = (g.ravel() for g in np.meshgrid(np.arange(i0, i1 + 1), np.arange(j0, j1 + 1)))
    moves = np.column_stack([i * ax + j * bx, i * ay + j * by]) + origin
    slots = np.asarray(shapely.polygons(ring[None, :, :] + moves[:, None, :]))
    inside = shapely.covers(region, slots)
    near = shapely.intersects(region, slots) & ~inside
    address = np.column_stack([i, j, np.full(len(i), k)]).astype(np.int64)
    at = moves + ring[0]
    left = shapely.intersection(slots[near], region)
    some = shapely.area(left) > 0
    return Tiling(address[inside], at[inside], address[near][some], at[near][some], left[some])
