"""Points, rings and polygons: one tolerance, one normal form, offsets side by side.

All lengths are millimetres, x to the right, y up. A ring is closed without repeating its first point; outer rings
run counter-clockwise, holes clockwise, and every ring starts at its lowest, then leftmost point, so that two runs
and two builds of the geometry engine store the same numbers.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

EPS = 0.05
"""What is thinner than this, in mm, is not there."""

Point = tuple[float, float]
Ring = tuple[Point, ...]
Region = Polygon | MultiPolygon

SAGITTA = 0.005
"""How far a chord may stand off its arc, mm: ten times finer than what is there at all."""


def signed_area(ring: Sequence[Point]) -> float:
    """Return the area in mm², positive when the ring runs counter-clockwise."""
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True)) / 2


def bounds(ring: Sequence[Point]) -> tuple[float, float, float, float]:
    """Return least x, least y, most x, most y of a ring."""
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def clean_ring(points: Iterable[Sequence[float]], *, hole: bool = False) -> Ring:
    """Return a ring in normal form: no repeated or needless points, direction and first point fixed."""
    ring = [(float(p[0]), float(p[1])) for p in points]
    # repeated points go first: at one of them the line test has no direction to go by
    ring = [p for i, p in enumerate(ring) if i == 0 or math.dist(p, ring[i - 1]) >= 1e-6]
    while len(ring) > 1 and math.dist(ring[0], ring[-1]) < 1e-6:
        ring.pop()
    while len(fewer := _without_needless(ring)) < len(ring):
        ring = fewer
    if (signed_area(ring) < 0) != hole:
        ring.reverse()
    start = min(range(len(ring)), key=lambda i: (round(ring[i][1], 6), round(ring[i][0], 6)))
    return tuple(ring[start:] + ring[:start])


def _without_needless(ring: list[Point]) -> list[Point]:
    """Drop points that stand on the line between their neighbours, or on a neighbour."""
    kept: list[Point] = []
    for i, p in enumerate(ring):
        q = kept[-1] if kept else ring[i - 1]
        r = ring[(i + 1) % len(ring)]
        ax, ay, bx, by = p[0] - q[0], p[1] - q[1], r[0] - p[0], r[1] - p[1]
        la, lb = math.hypot(ax, ay), math.hypot(bx, by)
        if la < 1e-6:
            continue
        if abs(ax * by - ay * bx) > 1e-7 * la * max(lb, 1e-9) or ax * bx + ay * by < 0:
            kept.append(p)
    return kept if len(kept) >= 3 else ring


def polygon(ring: Ring, holes: Iterable[Ring] = ()) -> Polygon:
    """Return the shapely polygon of a ring and its holes."""
    inner = list(holes)
    if inner:
        return Polygon(ring, inner)
    made: Polygon = shapely.polygons(ring)  # as the class does it, in two thirds of the time
    return made


def box_ring(x: float, y: float, width: float, height: float) -> Ring:
    """Return a rectangle by its lower left corner."""
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def parts(region: BaseGeometry) -> list[Polygon]:
    """Return the polygons of a geometry that are there at all, lowest and leftmost first."""
    found = [g for g in shapely.get_parts(region).tolist() if isinstance(g, Polygon) and is_there(g)]
    return sorted(found, key=lambda g: (round(g.bounds[1], 3), round(g.bounds[0], 3), round(g.bounds[3], 3)))


def is_there(area: Polygon) -> bool:
    """Tell whether a polygon is anywhere thicker than the tolerance."""
    if area.is_empty or area.area <= 0:
        return False
    # a strip of thickness t has area = t * perimeter / 2, about; far above that nothing needs eroding
    if area.area > EPS * area.length:
        return True
    return not bool(shapely.is_empty(shapely.buffer(area, -EPS / 2, join_style="mitre")))


def rings_of(area: Polygon) -> tuple[Ring, tuple[Ring, ...]]:
    """Return outer ring and holes in normal form."""
    if shapely.get_num_interior_rings(area) == 0:
        return clean_ring(shapely.get_coordinates(area).tolist()), ()
    outer = clean_ring(shapely.get_coordinates(area.exterior).tolist())
    holes = sorted(clean_ring(shapely.get_coordinates(h).tolist(), hole=True) for h in area.interiors)
    return outer, tuple(holes)


def arc_points(centre: Point, radius: float, start: float, sweep: float) -> list[Point]:
    """Return points on an arc, both ends included; angles in radians, counter-clockwise when ``sweep`` > 0."""
    most = 2 * math.acos(max(0.0, 1 - SAGITTA / radius)) if radius > SAGITTA else math.pi / 2
    count = max(2, math.ceil(abs(sweep) / most))
    return [
        (
            centre[0] + radius * math.cos(start + sweep * k / count),
            centre[1] + radius * math.sin(start + sweep * k / count),
        )
        for k in range(count + 1)
    ]


def circle_ring(centre: Point, radius: float) -> Ring:
    """Return a circle as a ring of chords within ``SAGITTA`` of it."""
    return tuple(arc_points(centre, radius, 0.0, 2 * math.pi)[:-1])


def arc_between(p: Point, q: Point, radius: float) -> tuple[Point, list[Point]]:
    """Return centre and points of the lesser arc from ``p`` to ``q``, bulging to the right of the way for radius > 0.

    On an outline that runs counter-clockwise that bulges outward; a negative radius bulges inward.

    Raises:
        ValueError: The points are further apart than the diameter.
    """
    chord = math.dist(p, q)
    if chord > 2 * abs(radius) * (1 + 1e-9) or chord == 0:
        raise ValueError("the arc's radius is less than half the distance between its ends")
    half = chord / 2
    rise = math.sqrt(max(0.0, radius * radius - half * half))
    ux, uy = (q[0] - p[0]) / chord, (q[1] - p[1]) / chord
    side = 1.0 if radius > 0 else -1.0
    centre = ((p[0] + q[0]) / 2 - side * uy * rise, (p[1] + q[1]) / 2 + side * ux * rise)
    start = math.atan2(p[1] - centre[1], p[0] - centre[0])
    sweep = side * 2 * math.asin(min(1.0, half / abs(radius)))
    points = arc_points(centre, abs(radius), start, sweep)
    points[0], points[-1] = p, q
    return centre, points


_MITRE_LIMIT = 12.0  # a corner of less than about 10 degrees is no corner: see offset_ring


def offset_ring(ring: Ring, distances: Sequence[float]) -> Ring:
    """Return a ring whose sides are moved inward, each by its own distance (negative: outward).

    Side ``i`` runs from point ``i`` to point ``i + 1``. Corners stay sharp (mitred); where two neighbouring sides lie
    in one line, or run into each other without a corner, and move differently, the step stands at their common point.
    A ring that folds over is returned as it comes: the caller tests ``polygon(...).is_valid`` and the direction.
    """
    n = len(ring)
    moved: list[tuple[Point, Point]] = []
    for i in range(n):
        (x1, y1), (x2, y2) = ring[i], ring[(i + 1) % n]
        length = math.hypot(x2 - x1, y2 - y1)
        nx, ny = -(y2 - y1) / length, (x2 - x1) / length
        d = distances[i]
        moved.append(((x1 + nx * d, y1 + ny * d), (x2 + nx * d, y2 + ny * d)))
    out: list[Point] = []
    for i in range(n):
        (a1, a2), (b1, b2) = moved[i - 1], moved[i]
        crossing = line_crossing(a1, a2, b1, b2)
        reach = _MITRE_LIMIT * max(abs(distances[i - 1]), abs(distances[i])) + EPS
        if crossing is not None and math.dist(crossing, ring[i]) <= reach:
            out.append(crossing)
        else:
            out.append(a2)
            if math.dist(a2, b1) > 1e-9:
                out.append(b1)
    return tuple(out)


def from_segment(p: Point, a: Point, b: Point) -> float:
    """Return the distance of a point from the straight line between two others, mm."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    along = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)
    t = min(1.0, max(0.0, along))
    return math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy)


def line_crossing(a1: Point, a2: Point, b1: Point, b2: Point) -> Point | None:
    """Return where two endless lines cross; ``None`` when they are parallel (to about 1e-9)."""
    ax, ay, bx, by = a2[0] - a1[0], a2[1] - a1[1], b2[0] - b1[0], b2[1] - b1[1]
    cross = ax * by - ay * bx
    if abs(cross) <= 1e-9 * math.hypot(ax, ay) * math.hypot(bx, by):
        return None
    t = ((b1[0] - a1[0]) * by - (b1[1] - a1[1]) * bx) / cross
    return a1[0] + t * ax, a1[1] + t * ay


def segments_of(region: Region) -> np.ndarray:
    """Return every border segment of a region as rows ``x1, y1, x2, y2``; shape (n, 4), mm."""
    rows: list[np.ndarray] = []
    for area in shapely.get_parts(region).tolist():
        for line in (area.exterior, *area.interiors):
            xy = shapely.get_coordinates(line)
            rows.append(np.hstack([xy[:-1], xy[1:]]))
    return np.vstack(rows) if rows else np.empty((0, 4))


def mirror_ring(ring: Ring, about: float, *, hole: bool = False) -> Ring:
    """Return the ring mirrored left to right about the upright line ``x = about``."""
    return clean_ring(((2 * about - x, y) for x, y in ring), hole=hole)
