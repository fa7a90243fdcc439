"""What kind of piece a polygon is, and which of its slot's factory edges it keeps: from geometry alone."""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon

from elevation.geom import EPS, Ring, bounds, parts, polygon
from elevation.pieces.piece import Circle, Kind


def without_spurs(area: Polygon) -> list[Polygon]:
    """Return a polygon less what sticks out of it thinner than the tolerance: in parts, where only a hair held them.

    A border that falls on a slot's edge, up to the noise of floats, leaves such a spur: a line out and back again.
    """
    if len(area.exterior.coords) <= 5 and not area.interiors:
        return [area]
    core = shapely.buffer(area, -EPS / 2, join_style="mitre", mitre_limit=20)
    opened = shapely.buffer(core, EPS / 2, join_style="mitre", mitre_limit=20)
    return [area] if shapely.hausdorff_distance(area, opened) <= EPS else parts(opened)


def factory_edges(outer: Ring, slot: Ring) -> tuple[str, ...]:
    """Return the sides of the slot of which the piece keeps at least a part: left, right, bottom, top.

    Slots that are not level rectangles name their sides by number, counter-clockwise from the first corner.
    """
    x0, y0, x1, y1 = bounds(slot)
    if outer == slot and len(slot) == 4:
        return ("left", "right", "bottom", "top") if slot[0] == (x0, y0) and slot[2] == (x1, y1) else tuple("1234")
    level = len(slot) == 4 and all(abs(x - x0) < EPS or abs(x - x1) < EPS for x, _ in slot)
    kept: set[str] = set()
    pairs = list(zip(outer, (*outer[1:], outer[0]), strict=True))
    if level:
        for (px, py), (qx, qy) in pairs:
            if abs(py - qy) > EPS and abs(px - qx) <= EPS:
                kept |= {name for name, x in (("left", x0), ("right", x1)) if max(abs(px - x), abs(qx - x)) <= EPS}
            if abs(px - qx) > EPS and abs(py - qy) <= EPS:
                kept |= {name for name, y in (("bottom", y0), ("top", y1)) if max(abs(py - y), abs(qy - y)) <= EPS}
        return tuple(n for n in ("left", "right", "bottom", "top") if n in kept)
    sides = list(zip(slot, (*slot[1:], slot[0]), strict=True))
    for p, q in pairs:
        for n, (a, b) in enumerate(sides, 1):
            if math.dist(p, q) > EPS and max(_distance(p, a, b), _distance(q, a, b)) <= EPS:
                kept.add(str(n))
    return tuple(sorted(kept))


def _distance(p: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    """Return the distance of a point from the endless line through two others."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return abs((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / math.hypot(dx, dy)


def circles_of(outer: Ring, holes: Sequence[Ring], circles: Sequence[Circle]) -> tuple[Circle, ...]:
    """Return those circles that the outline or a hole follows over two chords or more."""
    return tuple(c for c in circles if any(_follows(ring, c) for ring in (outer, *holes)))


def _follows(ring: Ring, circle: Circle) -> bool:
    on = [abs(math.dist(p, circle.centre) - circle.radius) < EPS / 2 for p in ring]
    return any(on[i - 2] and on[i - 1] and on[i] for i in range(len(on)))


def fills(outer: Ring, holes: Sequence[Ring], slot: Ring) -> bool:
    """Tell whether a piece is the whole of its slot: a loss thinner than the tolerance is no cut."""
    if holes or max(abs(a - b) for a, b in zip(bounds(outer), bounds(slot), strict=True)) > EPS:
        return False
    return not parts(polygon(slot).difference(polygon(outer)))


def kind_of(outer: Ring, holes: Sequence[Ring], slot: Ring, circles: Sequence[Circle]) -> Kind:
    """Return the kind of a piece; see ``Piece.kind``."""
    if holes:
        return "holed"
    if fills(outer, holes, slot):
        return "whole"
    x0, y0, x1, y1 = bounds(outer)
    corners = [(min(x - x0, x1 - x), min(y - y0, y1 - y)) for x, y in outer]
    rectangle = len(outer) == 4 and all(dx <= 1e-6 and dy <= 1e-6 for dx, dy in corners)
    if any(_follows(outer, c) for c in circles):
        return "curved"
    if rectangle:
        return "straight"
    area = polygon(outer)
    if not parts(area.convex_hull.difference(area)):
        return "tapered"
    square = all(
        abs(p[0] - q[0]) <= EPS or abs(p[1] - q[1]) <= EPS for p, q in zip(outer, (*outer[1:], outer[0]), strict=True)
    )
    lost_parts = parts(polygon(((x0, y0), (x1, y0), (x1, y1), (x0, y1))).difference(area))
    if not square or len(lost_parts) != 1:
        return "other"
    a0, b0, a1, b1 = lost_parts[0].bounds
    at_left, at_right = a0 - x0 <= EPS, x1 - a1 <= EPS
    at_bottom, at_top = b0 - y0 <= EPS, y1 - b1 <= EPS
    if at_left + at_right == 1 and at_bottom + at_top == 1 and len(outer) == 6:
        return "L"
    if at_left + at_right + at_bottom + at_top == 1:
        return "notched"
    return "other"
