"""Hatching as explicit lines, cut to what they fill: every reader and printer draws them alike.

The lines of all areas lie on one lattice through the paper's origin, so that hatches of neighbours line up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely

from elevation.drawing.marks import Ring, Segments
from elevation.drawing.pens import HATCH_SPACING

INSET = 0.6
"""Clear distance between an outline's middle and its hatch, mm."""
NARROW_INSET = 0.35
"""The same in strips too narrow for the usual one, mm."""
CROSS_SPACING = 1.2
"""Distance between the lines of a cross hatch, mm."""
SHORTEST = 0.3
"""Shorter lines are specks, mm."""
Row = tuple[float, float, float, float]


def hatch(
    areas: Sequence[Sequence[Ring]],
    *,
    spacing: float = HATCH_SPACING,
    angles: Sequence[float] = (45.0,),
    inset: float = INSET,
    pen: str = "hatch",
    clear: Sequence[tuple[float, float, float, float]] = (),
) -> Segments:
    """Return the hatch lines of many areas at once.

    Args:
        areas: Each an outer ring and its holes, mm of paper.
        spacing: From line to line, mm.
        angles: Direction of the lines, degrees counter-clockwise from level; two make a cross hatch.
        inset: How far the lines stay off the outlines, mm.
        pen: A name in ``pens.PENS``.
        clear: Boxes kept free, for labels: least x, least y, greatest x, greatest y.
    """
    others = areas if clear else [rings for rings in areas if not _is_box(rings)]
    boxes = [] if clear else [rings[0] for rings in areas if _is_box(rings)]
    inner = _inner(others, inset, clear)
    found = [
        row for angle in angles for row in (*_in_boxes(boxes, inset, spacing, angle), *_lines(inner, spacing, angle))
    ]
    return Segments(tuple(found), pen)


def _is_box(rings: Sequence[Ring]) -> bool:
    """Tell whether an area is a rectangle with level and upright sides: most cuts are, and need no geometry engine."""
    if len(rings) != 1 or len(rings[0]) != 4:
        return False
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = rings[0]
    return (ay == by and bx == cx and cy == dy and dx == ax) or (ax == bx and by == cy and cx == dx and dy == ay)


def _in_boxes(rings: Sequence[Ring], inset: float, spacing: float, angle: float) -> list[Row]:
    """Return the lines of rectangles: each line of the lattice clipped by their four sides."""
    if not rings:
        return []
    corners = np.array(rings)
    low, high = corners.min(axis=1), corners.max(axis=1)
    narrow = (high - low).min(axis=1) <= 2 * inset + 1e-9  # nothing, or noise, would be left
    off = np.where(narrow, min(inset, NARROW_INSET), inset)[:, None]
    low, high = low + off, high - off
    there = (high > low).all(axis=1)
    low, high = low[there], high[there]
    along, across = _axes(angle)
    ends = np.stack([low, np.column_stack([high[:, 0], low[:, 1]]), high, np.column_stack([low[:, 0], high[:, 1]])], 1)
    offsets = ends @ across
    which, levels = _levels(offsets.min(axis=1), offsets.max(axis=1), spacing)
    base = levels[:, None] * across
    with np.errstate(divide="ignore", invalid="ignore"):
        one, two = (low[which] - base) / along, (high[which] - base) / along
    # a line along a side is bounded by the other two alone
    flat = np.abs(along) < 1e-12
    one[:, flat], two[:, flat] = -np.inf, np.inf
    first, last = np.minimum(one, two).max(axis=1), np.maximum(one, two).min(axis=1)
    long = last - first >= SHORTEST
    begin = base[long] + first[long, None] * along
    end = base[long] + last[long, None] * along
    return _rows(np.hstack([begin, end]))


def _inner(
    areas: Sequence[Sequence[Ring]], inset: float, clear: Sequence[tuple[float, float, float, float]]
) -> np.ndarray:
    """Return the areas less a strip along their outlines, and less the boxes kept free."""
    shapes = np.array([shapely.Polygon(rings[0], rings[1:]) for rings in areas], dtype=object)
    if len(shapes) == 0:
        return shapes
    inner = shapely.buffer(shapes, -inset, join_style="mitre")
    narrow = shapely.is_empty(inner)
    if inset > NARROW_INSET and narrow.any():
        inner[narrow] = shapely.buffer(shapes[narrow], -NARROW_INSET, join_style="mitre")
    if clear:
        inner = shapely.difference(inner, shapely.union_all(shapely.box(*np.asarray(clear, dtype=float).T)))
    kept: np.ndarray = inner[~shapely.is_empty(inner)]
    return kept


def cross_hatch(
    areas: Sequence[Sequence[Ring]], *, spacing: float = CROSS_SPACING, inset: float = INSET, pen: str = "hatch"
) -> Segments:
    """Return hatch lines both ways, for what is cut away."""
    return hatch(areas, spacing=spacing, angles=(45.0, 135.0), inset=inset, pen=pen)


def _lines(shapes: np.ndarray, spacing: float, angle: float) -> list[Row]:
    if len(shapes) == 0:
        return []
    along, across = _axes(angle)
    points, owner = shapely.get_coordinates(shapes, return_index=True)
    starts = np.flatnonzero(np.diff(owner, prepend=-1))
    offsets, runs = points @ across, points @ along
    which, levels = _levels(np.minimum.reduceat(offsets, starts), np.maximum.reduceat(offsets, starts), spacing)
    base = levels[:, None] * across
    begin = base + (np.minimum.reduceat(runs, starts) - 1)[which, None] * along
    end = base + (np.maximum.reduceat(runs, starts) + 1)[which, None] * along
    rays = shapely.linestrings(np.stack([begin, end], axis=1))
    pieces = shapely.get_parts(shapely.intersection(rays, shapes[which]))
    # a ray that only touches a corner leaves a point
    is_line = shapely.get_type_id(pieces) == shapely.GeometryType.LINESTRING
    pieces = pieces[is_line & (shapely.length(pieces) >= SHORTEST)]
    if len(pieces) == 0:
        return []
    first, last = shapely.get_point(pieces, 0), shapely.get_point(pieces, -1)
    return _rows(np.hstack([shapely.get_coordinates(first), shapely.get_coordinates(last)]))


def _axes(angle: float) -> tuple[np.ndarray, np.ndarray]:
    """Return the directions along and across the lines."""
    turn = math.radians(angle)
    return np.array([math.cos(turn), math.sin(turn)]), np.array([-math.sin(turn), math.cos(turn)])


def _levels(least: np.ndarray, most: np.ndarray, spacing: float) -> tuple[np.ndarray, np.ndarray]:
    """Return, for every line of the lattice that meets a shape, which shape and how far across the line lies, mm."""
    first, last = np.ceil(least / spacing).astype(int), np.floor(most / spacing).astype(int)
    counts = np.maximum(last - first + 1, 0)
    which = np.repeat(np.arange(len(counts)), counts)
    rank = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    return which, (np.repeat(first, counts) + rank) * spacing


def _rows(ends: np.ndarray) -> list[Row]:
    return [(a, b, c, d) for a, b, c, d in ends.round(4).tolist()]
