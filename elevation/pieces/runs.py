"""Edges as built: how long the tile runs along each side, and what is there: soft joint, trim or bare edge."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely
from shapely.geometry import LinearRing, LineString
from shapely.geometry.base import BaseGeometry

from elevation.geom import EPS, Point, circle_ring
from elevation.layout import LaidEdge, LaidFace
from elevation.layout.regions import facing_of, rounded_corners
from elevation.wall.face import EdgeKind


@dataclass(frozen=True, slots=True)
class EdgeRun:
    """One side along which tile ends; mm on the face.

    Attributes:
        face: Id of the face.
        of: Id of the feature or zone it belongs to; empty for the face itself.
        side: Name of the side.
        kind: Soft joint, trim or bare edge.
        meets: What the tile meets there; ``None``: not said.
        trim: Id of the trim.
        length: Length of tile edge along it.
        gap: Width of the soft joint as drawn, least and most.
        line: Where the tile's edge runs, one polyline for each unbroken stretch.
    """

    face: str
    of: str
    side: str
    kind: EdgeKind
    meets: str | None
    trim: str | None
    length: float
    gap: tuple[float, float]
    line: tuple[tuple[Point, ...], ...]

    @property
    def name(self) -> str:
        """``B left``, ``B n1 sill``."""
        return " ".join(part for part in (self.face, self.of, self.side) if part)


def edge_runs(laid: tuple[LaidFace, ...]) -> tuple[EdgeRun, ...]:
    """Return every side along which tile ends, face by face, in the order of the face's borders."""
    return tuple(run for face in laid for run in _runs_of(face))


def _runs_of(face: LaidFace) -> list[EdgeRun]:
    borders = shapely.union_all([z.region.boundary for z in face.zones])
    runs = []
    for i, edge in enumerate(face.edges):
        # the tile's edge lies on the moved side; a hair of width forgives the chords of an arc
        on = shapely.intersection(borders, moved_side(face, i).buffer(EPS / 5, cap_style="flat"))
        stretches = _stretches(on)
        length = sum(LineString(s).length for s in stretches)
        if length <= EPS:
            continue
        b = edge.border
        gap = _gap_along(edge, stretches)
        runs.append(EdgeRun(face.face.id, b.of, b.side, b.kind, b.meets, b.trim, length, gap, stretches))
    return runs


def _gap_along(edge: LaidEdge, stretches: tuple[tuple[Point, ...], ...]) -> tuple[float, float]:
    """Return the least and most width of a joint where tile runs along it: beside a tub a side goes on behind it."""
    if edge.line is None:
        return edge.gap
    axis = 0 if facing_of(edge.border.line) in ("bottom", "top") else 1
    places = [p[axis] for stretch in stretches for p in stretch]
    places += [p[axis] for p in edge.border.line if min(places) < p[axis] < max(places)]
    gaps = [edge.gap_at(place) for place in places]
    return min(gaps), max(gaps)


def moved_side(face: LaidFace, i: int) -> BaseGeometry:
    """Return where the tile ends along a border: the side moved by its gap; rounded corners go with the top."""
    edge = face.edges[i]
    line = edge.border.line
    cut = next((c for c in face.face.cutouts if i in c.shape.borders), None)
    if cut is not None and cut.circle is not None:
        return LinearRing(circle_ring(cut.circle[0], cut.circle[1] + edge.offset))
    reach = max(abs(e.offset) for e in face.edges) + EPS
    (x1, y1), (x2, y2) = line[0], line[-1]
    if edge.line is not None:
        level = facing_of(line) in ("bottom", "top")
        low, high = (min(x1, x2), max(x1, x2)) if level else (min(y1, y2), max(y1, y2))
        ends = [(v, edge.line) if level else (edge.line, v) for v in (low - reach, high + reach)]
        return LineString(ends)
    moved = shapely.offset_curve(
        LineString(_longer(line, reach)),
        edge.offset * (-1 if cut is not None else 1),
        join_style="mitre",
        mitre_limit=20,
    )
    if cut is not None and cut.rounded and edge.border.side == "top":
        arcs = [LinearRing(circle_ring(c, r)) for c, r in rounded_corners(cut, face.edges)]
        return shapely.union_all([moved, *arcs])
    return moved


def _longer(line: tuple[Point, ...], by: float) -> list[Point]:
    """Return the line with both ends drawn out, since a mitred corner reaches past the end of its side."""

    def past(a: Point, b: Point) -> Point:
        length = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
        return b[0] + (b[0] - a[0]) / length * by, b[1] + (b[1] - a[1]) / length * by

    return [past(line[1], line[0]), *line[1:-1], past(line[-2], line[-1])]


def _stretches(found: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    """Return the unbroken lines of what was found, without the hooks where a neighbouring side enters its width."""
    lines = [g for g in shapely.get_parts(found).tolist() if isinstance(g, LineString)]
    merged = shapely.line_merge(shapely.union_all(lines)) if lines else None
    if merged is None:
        return ()
    out = []
    for line in shapely.get_parts(merged).tolist():
        points = [(float(x), float(y)) for x, y in line.coords]
        while len(points) > 2 and math.dist(points[0], points[1]) <= EPS / 2:
            points.pop(0)
        while len(points) > 2 and math.dist(points[-1], points[-2]) <= EPS / 2:
            points.pop()
        if math.dist(points[0], points[-1]) > EPS / 2 or len(points) > 2:
            out.append(tuple(points))
    return tuple(sorted(out))
