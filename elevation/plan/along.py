"""The pieces as shapes, and which of them end at an edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon

from elevation.geom import EPS, polygon
from elevation.pieces import EdgeRun, Piece

_LEAST = 10 * EPS
"""A piece that shares less of an edge than this, mm, only touches it with a corner."""


def shapes_of(pieces: Sequence[Piece]) -> list[Polygon]:
    """Return the outline of every piece, in order; pieces without holes are made many at a time."""
    shapes: list[Polygon | None] = [None] * len(pieces)
    by_corners = sorted((len(p.outer), i) for i, p in enumerate(pieces) if not p.holes)
    for _, group in groupby(by_corners, key=lambda pair: pair[0]):
        places = [i for _, i in group]
        rings = np.array([pieces[i].outer for i in places])
        made = np.asarray(shapely.polygons(rings), dtype=object)
        for i, shape in zip(places, made.tolist(), strict=True):
            shapes[i] = shape
    return [s if s is not None else polygon(p.outer, p.holes) for s, p in zip(shapes, pieces, strict=True)]


class ShapeTree:
    """The pieces of a face, quick to ask which of them end at an edge."""

    def __init__(self, pieces: Sequence[Piece], shapes: Mapping[str, Polygon]) -> None:
        self.pieces = pieces
        self.shapes = [shapes[p.id] for p in pieces]
        self.tree = shapely.STRtree(self.shapes)

    def along(self, run: EdgeRun) -> tuple[Piece, ...]:
        """Return those pieces that have a side on an edge, in the order given."""
        band = shapely.union_all([LineString(line) for line in run.line]).buffer(EPS, cap_style="flat")
        near = sorted(self.tree.query(band, predicate="intersects").tolist())
        return tuple(self.pieces[i] for i in near if self.shapes[i].boundary.intersection(band).length > _LEAST)
