"""Rule: nothing of the tiled area is left bare."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import ClassVar

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import Polygon

from elevation.checks.base import Rule, Source
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.geom import EPS, parts, polygon
from elevation.layout import LaidZone
from elevation.pieces import Piece
from elevation.plan import Plan

_NOISE = (0.0, 0.01, -0.01)


class Uncovered(Rule):
    """What no piece covers is nowhere wider than the joint.

    This is a check of the program's own work: where it speaks, the cut sheet is wrong and nothing may be cut from it.
    """

    id: ClassVar[str] = "uncovered"
    level: ClassVar[Level] = "stop"
    source: ClassVar[Source] = Source("this program, check of its own result")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each zone with a bare place."""
        for laid in plan.faces:
            for zone in laid.zones:
                pieces = [p for p in plan.pieces_of(laid.face.id) if p.zone == zone.place.id]
                left = [*bare_at_border(zone, [plan.shapes[p.id] for p in pieces]), *missing_inside(zone, pieces)]
                if left:
                    x, y = left[0].representative_point().coords[0]
                    yield self.found(
                        laid.face.id,
                        f"zone {zone.place.id}: {len(left)} places are covered by no tile, the first at "
                        f"x {text(plan, x)}, y {text(plan, y)}. Do not cut from this set, and "
                        "report it with the job file",
                    )


def _reach(zone: LaidZone) -> float:
    """Return how far from the border the slots that it touches may reach, mm: over two modules either way."""
    return 2.5 * max(max(map(abs, zone.lattice.a)), max(map(abs, zone.lattice.b)))


def bare_at_border(zone: LaidZone, shapes: list[Polygon]) -> list[Polygon]:
    """Return what no piece covers within reach of the border and is wider than the joint."""
    band = zone.region.boundary.buffer(_reach(zone), join_style="mitre")
    tree = shapely.STRtree(shapes)
    near = [shapes[i] for i in tree.query(band, predicate="intersects").tolist()]
    bare = zone.region.intersection(band).difference(shapely.union_all(near))
    # mitred: at a crossing of joints the gap is wider than a joint from corner to corner, rightly
    left = parts(shapely.buffer(bare, -(zone.joint + EPS) / 2, join_style="mitre"))
    # a border that cuts off one of the four tiles at a crossing leaves no bare place inside any slot
    return [p for p in left if any(parts(bare.intersection(s)) for s in slots_near(zone, p))]


def missing_inside(zone: LaidZone, pieces: list[Piece]) -> list[Polygon]:
    """Return the slots out of reach of the border that have no whole tile."""
    inner = zone.region.buffer(-_reach(zone) / 2, join_style="mitre")
    if inner.is_empty:
        return []
    there = {(round(p.slot[0][0], 2), round(p.slot[0][1], 2)) for p in pieces if p.is_whole}
    (ax, ay), (bx, by) = zone.lattice.a, zone.lattice.b
    x0, y0, x1, y1 = inner.bounds
    corners = [(x - zone.origin[0], y - zone.origin[1]) for x in (x0, x1) for y in (y0, y1)]
    cross = ax * by - ay * bx
    i = [(x * by - y * bx) / cross for x, y in corners]
    j = [(ax * y - ay * x) / cross for x, y in corners]
    ii, jj = np.meshgrid(np.arange(int(min(i)) - 1, int(max(i)) + 2), np.arange(int(min(j)) - 1, int(max(j)) + 2))
    moves = np.column_stack([(ii * ax + jj * bx).ravel(), (ii * ay + jj * by).ravel()]) + zone.origin
    shapely.prepare(inner)
    missing = []
    for slot in zone.lattice.motif:
        shape = polygon(slot.ring)
        middle = shape.centroid
        for move in moves[shapely.contains_xy(inner, moves[:, 0] + middle.x, moves[:, 1] + middle.y)].tolist():
            corner = (round(slot.ring[0][0] + move[0], 2), round(slot.ring[0][1] + move[1], 2))
            # a hundredth of a millimetre of noise may fall either way in rounding
            if corner not in there and not any(
                (round(corner[0] + dx, 2), round(corner[1] + dy, 2)) in there for dx in _NOISE for dy in _NOISE
            ):
                missing.append(affinity.translate(shape, *move))
    return missing


def slots_near(zone: LaidZone, place: Polygon) -> Iterator[Polygon]:
    """Yield the slots of a zone that come within a joint of a place."""
    (ax, ay), (bx, by) = zone.lattice.a, zone.lattice.b
    reach = place.buffer(zone.joint, join_style="mitre")
    for slot in zone.lattice.motif:
        shape = affinity.translate(polygon(slot.ring), *zone.origin)
        (x0, y0, x1, y1), (u0, v0, u1, v1) = reach.bounds, shape.bounds
        steps = [
            ((dx * by - dy * bx) / (ax * by - ay * bx), (ax * dy - ay * dx) / (ax * by - ay * bx))
            for dx in (x0 - u1, x1 - u0)
            for dy in (y0 - v1, y1 - v0)
        ]
        for i in range(math.floor(min(s[0] for s in steps)), math.ceil(max(s[0] for s in steps)) + 1):
            for j in range(math.floor(min(s[1] for s in steps)), math.ceil(max(s[1] for s in steps)) + 1):
                moved = affinity.translate(shape, i * ax + j * bx, i * ay + j * by)
                if moved.intersects(reach):
                    yield moved
