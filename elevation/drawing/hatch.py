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
    shapes = np.array([shapely.Polygon(rings[0], rings[1:]) for rings in areas], dtype=object)
    if len(shapes) == 0:
        return Segments((), pen)
    inner = shapely.buffer(shapes, -inset, join_style="mitre")
    narrow = shapely.is_empty(inner)
    if inset > NARROW_INSET and narrow.any():
        inner[narrow] = shapely.buffer(shapes[narrow], -NARROW_INSET, join_style="mitre")
    if clear:
        inner = shapely.difference(inner, shapely.union_all(shapely.box(*np.asarray(clear, dtype=float).T)))
    inner = inner[~shapely.is_empty(inner)]
    found = [row for angle in angles for row in _lines(inner, spacing, angle)]
    return Segments(tuple(found), pen)


def cross_hatch(
    areas: Sequence[Sequence[Ring]], *, spacing: float = CROSS_SPACING, inset: float = INSET, pen: str = "hatch"
) -> Segments:
    """Return hatch lines both ways, for what is cut away."""
    return hatch(areas, spacing=spacing, angles=(45.0, 135.0), inset=inset, pen=pen)


def _lines(shapes: np.ndarray, spacing: float, angle: float) -> list[tuple[float, float, float, float]]:
    if len(shapes) == 0:
        return []
    turn = math.radians(angle)
    along, across = np.array([math.cos(turn), math.sin(turn)]), np.array([-math.sin(turn), math.cos(turn)])
    points, owner = shapely.get_coordinates(shapes, return_index=True)
    starts = np.flatnonzero(np.diff(owner, prepend=-1))
    offsets, runs = points @ across, points @ along
    first = np.ceil(np.minimum.reduceat(offsets, starts) / spacing).astype(int)
    last = np.floor(np.maximum.reduceat(offsets, starts) / spacing).astype(int)
    counts = np.maximum(last - first + 1, 0)
    which = np.repeat(np.arange(len(shapes)), counts)
    rank = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    levels = (np.repeat(first, counts) + rank)[:, None] * spacing * across
    begin = levels + (np.minimum.reduceat(runs, starts) - 1)[which, None] * along
    end = levels + (np.maximum.reduceat(runs, starts) + 1)[which, None] * along
    rays = shapely.linestrings(np.stack([begin, end], axis=1))
    pieces = shapely.get_parts(shapely.intersection(rays, shapes[which]))
    # a ray that only touches a corner leaves a point
    is_line = shapely.get_type_id(pieces) == shapely.GeometryType.LINESTRING
    pieces = pieces[is_line & (shapely.length(pieces) >= SHORTEST)]
    if len(pieces) == 0:
        return []
    ends = np.hstack(
        [shapely.get_coordinates(shapely.get_point(pieces, 0)), shapely.get_coordinates(shapely.get_point(pieces, -1))]
    )
    return [(a, b, c, d) for a, b, c, d in ends.round(4).tolist()]
