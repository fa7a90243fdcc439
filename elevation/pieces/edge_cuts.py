"""The cuts of all edges measured on the pieces: clip, then lay the tape behind every edge.

The search makes the same records by arithmetic (``layout.edge_cuts``); this is the plain way, which is slow and sees
polygons only. Tests hold the two equal, and finalists are measured with it.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import shapely
from shapely.geometry import Polygon

from elevation.geom import EPS, Point, is_there, parts
from elevation.layout.spans import Span, ZoneOutline
from elevation.layout.terms import EdgeCut
from elevation.patterns import Lattice
from elevation.pieces.tiling import TOUCH, tile_region


def measured_edge_cuts(outline: ZoneOutline, lattice: Lattice, origin: Point) -> tuple[EdgeCut, ...]:
    """Return the cut of every judged edge, measured on the clipped pieces.

    Args:
        outline: The region and its judged edges.
        lattice: The slots.
        origin: Lower left corner of slot (0, 0, 0), mm.
    """
    tiling = tile_region(lattice, origin, outline.region)
    rows: list[int] = []
    pieces: list[Polygon] = []
    inner: list[tuple[float, float, float, float]] = []
    for address, at, left in zip(tiling.cut.tolist(), tiling.cut_at.tolist(), tiling.left.tolist(), strict=True):
        ring = lattice.motif[address[2]].ring
        xs, ys = [x - ring[0][0] + at[0] for x, _ in ring], [y - ring[0][1] + at[1] for _, y in ring]
        box = min(xs) + EPS, min(ys) + EPS, max(xs) - EPS, max(ys) - EPS
        for part in parts(left) if box[2] > box[0] and box[3] > box[1] else ():
            rows.append(address[1])
            pieces.append(part)
            inner.append(box)
    slots = shapely.box(*np.array(inner).T) if inner else np.array([])
    return tuple(_measure(span, slots, rows, pieces) for span in outline.spans)


def _measure(span: Span, slots: Any, rows: list[int], pieces: list[Polygon]) -> EdgeCut:
    """Return the cut of one edge; ``slots``: of every piece its slot, less the tolerance all round."""
    axis = 0 if span.is_level else 1
    sizes: list[float] = []
    courses: set[int] = set()
    line = _line(span)
    for n in np.flatnonzero(shapely.intersects(line, slots)).tolist():
        piece = pieces[n]
        x0, y0, x1, y1 = piece.bounds
        low, high = max(span.low, (x0, y0)[axis]), min(span.high, (x1, y1)[axis])
        if high - low <= EPS:
            continue
        # a hair inside, so that a corner of the piece on the end of the span leaves no spike
        low, high = low + TOUCH, high - TOUCH
        strip = shapely.box(low, y0, high, y1) if axis == 0 else shapely.box(x0, low, x1, high)
        for part in parts(shapely.intersection(piece, strip)):
            # the region has only one side of the edge
            if is_there(part) and shapely.distance(part, line) <= 1e-6:
                sizes.append(_least(part, axis))
                courses.add(rows[n])
    across = min(
        abs(f - n)
        for near, far in zip(span.near, span.far, strict=True)
        for n, f in ((near.at_start, far.at_start), (near.at_end, far.at_end))
    )
    return EdgeCut(span.edge, span.side, min(sizes, default=None), len(courses), across)


def _line(span: Span) -> shapely.LineString:
    points = [(s.start, s.at_start) for s in span.near] + [(span.near[-1].end, span.near[-1].at_end)]
    return shapely.LineString(points if span.is_level else [(y, x) for x, y in points])


def _least(part: Polygon, axis: int) -> float:
    """Return the least extent of a convex part square to an edge along ``axis``: it is found at a corner."""
    stops = sorted({p[axis] for p in part.exterior.coords})
    low, high = stops[0] + TOUCH / 10, stops[-1] - TOUCH / 10
    bounds = part.bounds
    a, b = bounds[1 - axis] - 1, bounds[3 - axis] + 1
    places = [min(max(at, low), high) for at in stops]
    rays = [((at, a), (at, b)) if axis == 0 else ((a, at), (b, at)) for at in places]
    return float(shapely.length(shapely.intersection(part, shapely.linestrings(rays))).min())
