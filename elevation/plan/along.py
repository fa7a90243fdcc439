"""Which pieces end at an edge."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import LineString, Polygon

from elevation.geom import EPS
from elevation.pieces import EdgeRun, Piece

_LEAST = 10 * EPS
"""A piece that shares less of an edge than this, mm, only touches it with a corner."""


def pieces_along(run: EdgeRun, pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Return those of the pieces of a face that have a side on an edge, in the order given."""
    if not pieces:
        return ()
    band = shapely.union_all([LineString(line) for line in run.line]).buffer(EPS, cap_style="flat")
    shapely.prepare(band)
    shapes = [Polygon(p.outer, p.holes) for p in pieces]
    near = shapely.intersects(band, shapes)
    return tuple(
        p
        for p, shape, close in zip(pieces, shapes, near, strict=True)
        if close and shape.boundary.intersection(band).length > _LEAST
    )
