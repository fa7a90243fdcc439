"""How many pieces need the saw, counted by arithmetic for many starts across at once.

A course of slots is a level strip. Within it the region is a few rectangles, one above the other, that touch or do
not. The pieces of a course are then counted like the parts of a forest: the slots that each rectangle reaches, less
the slots that two touching rectangles reach in common (and one back for an opening that stands inside one slot). Whole
slots lie under every rectangle of the strip. Courses that lie between two corners of the region are counted together,
so that the work grows with the corners, not with the courses.

Holes cut the slots that they reach; one that reaches a slot cut already is counted once too often. Sides that lean are
taken at the middle of their strip. Both are approximations, and only break ties.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from elevation.geom import EPS
from elevation.layout.laid import LaidFace
from elevation.layout.plots import Plot
from elevation.layout.spans import ZoneOutline
from elevation.layout.sweep import States
from elevation.layout.terms import Rules

Floats = NDArray[np.floating[Any]]
Rectangle = tuple[Any, Any]


def cuts_at(laid: LaidFace, n: int, outline: ZoneOutline, rules: Rules) -> int:
    """Return how many pieces of a zone, as laid out, need the saw."""
    zone = laid.zones[n]
    u, v = zone.origin
    plot = Plot(laid.face, zone.place, zone.joint, zone.lattice, outline, rules, u, v, 0.0, {}, {})
    one = np.zeros(1, np.int64)
    across, up = States(np.array([u]), one, {}, {}), States(np.array([v]), one, {}, {})
    return int(count_cuts(plot, across, one, up, 0)[0])


@dataclass(frozen=True, slots=True)
class _Course:
    """Courses that look alike: rectangles by slab, how often, and whether the strip sticks out above or below."""

    slabs: tuple[int, ...]
    courses: tuple[int, ...]
    cut_level: bool


def count_cuts(plot: Plot, xs: States, index: NDArray[np.int64], ys: States, i: int) -> Floats:
    """Return how many pieces need the saw, for start ``i`` up and every start across in ``index``."""
    pitch, (lean, rise) = plot.lattice.a[0], plot.lattice.b
    width, height = plot.rules.width, plot.rules.height
    v = float(ys.start[i])
    start = xs.start[index]
    total = np.zeros(len(index))
    slabs = [
        (
            s.low[0] + ys.shift_of(s.low[1], i),
            s.high[0] + ys.shift_of(s.high[1], i),
            [(_moved(xs, b, x, index), _moved(xs, c, z, index)) for x, b, z, c in s.runs],
        )
        for s in plot.outline.slabs
    ]
    for course in _courses([(a, b) for a, b, _ in slabs], v, rise, height):
        rows = [slabs[k][2] for k in course.slabs]
        for j, times in _phases(course.courses, lean, pitch):
            origin = start + j * lean
            pieces = np.zeros(len(index))
            for row in rows:
                for run in row:
                    pieces += _reached(run, origin, pitch, width)
            for below, above in pairwise(rows):
                for run in below:
                    for other in above:
                        both = (np.maximum(run[0], other[0]), np.minimum(run[1], other[1]))
                        pieces -= _reached(both, origin, pitch, width)
            if not course.cut_level:
                for run in _common(rows):
                    pieces -= _whole(run, origin, pitch, width)
            total += times * pieces
    return total + _enclosed(plot, start, v) + _holed(plot, start, v)


def _moved(xs: States, border: int, x: float, index: NDArray[np.int64]) -> Any:
    found = xs.shift.get(border)
    return x if found is None else x + found[index]


def _courses(slabs: list[tuple[float, float]], v: float, rise: float, height: float) -> Iterator[_Course]:
    """Yield the courses of a region, those that lie within one slab together."""
    low, high = slabs[0][0], slabs[-1][1]
    first = math.floor((low + EPS - height - v) / rise + 1e-9) + 1
    last = math.ceil((high - EPS - v) / rise - 1e-9) - 1
    special: set[int] = {first, last}
    for a, _ in (*slabs, (high, high)):
        j = math.floor((a - v) / rise)
        special |= {k for k in (j - 1, j, j + 1) if first <= k <= last}
    for j in sorted(special):
        bottom = v + j * rise
        inside = tuple(k for k, (a, b) in enumerate(slabs) if min(b, bottom + height) - max(a, bottom) > EPS)
        if inside:
            out = bottom < low - EPS or bottom + height > high + EPS
            yield _Course(inside, (j,), out)
    for k, (a, b) in enumerate(slabs):
        start = max(first, math.floor((a - v) / rise))
        end = min(last, math.floor((b - v) / rise) + 1)
        within = tuple(j for j in range(start, end + 1) if j not in special and a <= v + j * rise < b)
        if within:
            yield _Course((k,), within, False)


def _phases(courses: tuple[int, ...], lean: float, pitch: float) -> Iterator[tuple[int, int]]:
    """Yield one course of each that are shifted alike, and how many they are."""
    found: dict[int, list[int]] = {}
    for j in courses:
        found.setdefault(round(((j * lean) % pitch) * 1e5) % round(pitch * 1e5), []).append(j)
    for alike in found.values():
        yield alike[0], len(alike)


def _reached(run: Rectangle, origin: Floats, pitch: float, width: float) -> Floats:
    """Return how many slots a stretch of a course reaches into by more than the tolerance."""
    first = np.floor((run[0] + EPS - width - origin) / pitch + 1e-9) + 1
    last = np.ceil((run[1] - EPS - origin) / pitch - 1e-9) - 1
    count: Floats = np.where(np.asarray(run[1]) - run[0] > EPS, np.maximum(last - first + 1, 0), 0)
    return count


def _whole(run: Rectangle, origin: Floats, pitch: float, width: float) -> Floats:
    """Return how many slots lie within a stretch of a course."""
    first = np.ceil((run[0] - EPS - origin) / pitch)
    last = np.floor((run[1] + EPS - width - origin) / pitch)
    count: Floats = np.maximum(last - first + 1, 0)
    return count


def _common(rows: list[list[Rectangle]]) -> list[Rectangle]:
    """Return the stretches that lie in every slab of a course."""
    found = rows[0]
    for row in rows[1:]:
        found = [(np.maximum(a, c), np.minimum(b, d)) for a, b in found for c, d in row]
    return found


def _enclosed(plot: Plot, start: Floats, v: float) -> Floats:
    """Return how many openings stand inside one slot."""
    pitch, (lean, rise) = plot.lattice.a[0], plot.lattice.b
    width, height = plot.rules.width, plot.rules.height
    total = np.zeros(len(start))
    for area in shapely.get_parts(plot.outline.region).tolist():
        for ring in area.interiors:
            x0, y0, x1, y1 = ring.bounds
            j = math.floor((y0 - v) / rise)
            if y0 > v + j * rise + EPS and y1 < v + j * rise + height - EPS:
                rest = (x0 - start - j * lean) % pitch
                total += (rest > EPS) & (rest + x1 - x0 < width - EPS)
    return total


def _holed(plot: Plot, start: Floats, v: float) -> Floats:
    """Return how many slots the holes of a face reach into; see the module."""
    pitch, (lean, rise) = plot.lattice.a[0], plot.lattice.b
    total = np.zeros(len(start))
    if plot.zone.shape is not None:
        return total
    for cut in plot.face.cutouts:
        if cut.kind != "hole":
            continue
        gap = plot.face.borders[cut.shape.borders[0]].gap[0]
        xs, ys = [p[0] for p in cut.shape.ring], [p[1] for p in cut.shape.ring]
        y0, y1 = min(ys) - gap, max(ys) + gap
        for j in range(math.floor((y0 - v) / rise), math.floor((y1 - v) / rise) + 1):
            a, b = max(y0, v + j * rise), min(y1, v + j * rise + plot.rules.height)
            if b - a <= EPS:
                continue
            half = (max(xs) - min(xs)) / 2 + gap
            if cut.circle is not None:
                away = max(0.0, a - cut.circle[0][1], cut.circle[0][1] - b)
                half = math.sqrt(max(0.0, half * half - away * away))
            middle = (max(xs) + min(xs)) / 2
            total += _reached((middle - half, middle + half), start + j * lean, pitch, plot.rules.width)
    return total
