"""The cuts of all edges for one start, by arithmetic: no piece is made.

A level edge cuts one course; which, and where, follows from its height above a course line, modulo the course. An
upright edge cuts every course that it meets, each shifted by the pattern. The search makes the same numbers for many
starts at once; this is the plain form, one start at a time, which also serves walls that are out of true.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from elevation.geom import EPS, Point
from elevation.layout.spans import Span, Stretch, ZoneOutline
from elevation.layout.terms import EdgeCut
from elevation.patterns import Lattice


def edge_cuts(outline: ZoneOutline, lattice: Lattice, origin: Point) -> tuple[EdgeCut, ...]:
    """Return the cut of every judged edge of a region.

    Args:
        outline: The region, its edges decided for this start.
        lattice: One level slot a cell.
        origin: Lower left corner of slot (0, 0, 0), mm.
    """
    ring = lattice.motif[0].ring
    width, height = ring[2][0] - ring[0][0], ring[2][1] - ring[0][1]
    pitch, (lean, rise) = lattice.a[0], lattice.b
    out = []
    for span in outline.spans:
        across = across_of(span, 0, 0)
        sizes: list[float] = []
        courses: set[int] = set()
        if span.is_level:
            forward = span.side == "bottom"
            for j, size in _sizes(span.near, forward, origin[1], rise, height):
                if span.is_straight:
                    sizes.append(min(size, across))
                    courses.add(j)
                    continue
                for low, high in _columns(span, origin[0] + j * lean, pitch, width):
                    near = tuple(_clipped(span.near, low, high))
                    for k, here in _sizes(near, forward, origin[1], rise, height):
                        if k == j:
                            sizes.append(min(here, _gap(span, low, high)))
                            courses.add(j)
        else:
            for j in courses_met(span.low, span.high, origin[1], rise, height):
                bottom = origin[1] + j * rise
                near = tuple(_clipped(span.near, bottom, bottom + height))
                limit = across if span.is_straight else _gap(span, bottom, bottom + height)
                for _, size in _sizes(near, span.side == "left", origin[0] + j * lean, pitch, width):
                    sizes.append(min(size, limit))
                    courses.add(j)
        out.append(EdgeCut(span.edge, span.side, min(sizes, default=None), len(courses), across))
    return tuple(out)


def across_of(span: Span, near_shift: float, far_shift: float) -> float:
    """Return the distance to the edge opposite, at its least, mm."""
    if span.is_straight:
        return abs(span.far_place + far_shift - span.place - near_shift)
    return _gap(span, span.low, span.high)


def _gap(span: Span, low: float, high: float) -> float:
    """Return the distance to the edge opposite between two places along a span, at its least, mm."""
    return min(
        abs(f - n)
        for near, far in zip(_clipped(span.near, low, high), _clipped(span.far, low, high), strict=True)
        for n, f in ((near.at_start, far.at_start), (near.at_end, far.at_end))
    )


def courses_met(low: float, high: float, v: float, rise: float, height: float) -> range:
    """Return the courses that an upright edge meets by more than the tolerance.

    Args:
        low: Lower end of the edge, mm.
        high: Upper end.
        v: Lower edge of course 0.
        rise: From course to course.
        height: Height of a slot.
    """
    first = math.floor((low + EPS - height - v) / rise + 1e-9) + 1
    last = math.ceil((high - EPS - v) / rise - 1e-9) - 1
    return range(first, last + 1)


def _clipped(run: tuple[Stretch, ...], low: float, high: float) -> Iterator[Stretch]:
    """Yield the part of a run of stretches between two places along it."""
    for s in run:
        a, b = max(s.start, low), min(s.end, high)
        if b - a > 1e-9:
            slope = (s.at_end - s.at_start) / (s.end - s.start)
            yield Stretch(a, b, s.at_start + slope * (a - s.start), s.at_start + slope * (b - s.start))


def _columns(span: Span, start: float, pitch: float, width: float) -> Iterator[tuple[float, float]]:
    """Yield the stretches of a level edge that have tile behind them in a course, not a joint."""
    for k in range(math.floor((span.low - start) / pitch), math.floor((span.high - start) / pitch) + 1):
        low, high = max(span.low, start + k * pitch), min(span.high, start + k * pitch + width)
        if high - low > EPS:
            yield low, high


def _sizes(
    near: tuple[Stretch, ...], forward: bool, start: float, module: float, tile: float
) -> Iterator[tuple[int, float]]:
    """Yield every slot that an edge cuts, in one course or column of them, and the least length of tile behind it.

    ``forward``: the tile lies towards plus. An edge out of true that leaves a slot at its far side leaves a piece that
    tapers to nothing: 0.
    """
    values = [v for s in near for v in (s.at_start, s.at_end)]
    if not values:
        return
    if not forward:
        # mirrored: a slot that ends at x begins at -x
        values, start = [-v for v in values], -start - tile
    outer, inner = min(values) - start, max(values) - start
    for k in range(math.floor(outer / module), math.floor(inner / module) + 1):
        if inner - k * module > EPS and outer - k * module < tile - EPS:
            yield (k if forward else -k), max(0.0, tile - (inner - k * module))
