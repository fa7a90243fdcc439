"""Where the tile of a face ends, side by side: the stretches that trim stands along, each with its neighbours."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from elevation.geom import EPS, Point, Ring, parts, rings_of
from elevation.layout import LaidFace
from elevation.layout.regions import face_region
from elevation.pieces.runs import moved_side

_ON = EPS / 5  # the tile's edge lies on the moved side; this much forgives the chords of an arc


class Stretch:
    """An unbroken part of the tile's edge along one side; the tile lies to the left of the way along it.

    Attributes:
        border: Index of the side among the face's borders; ``None``: the tile ends there for another reason.
        points: Corners of the tile's edge, mm on the face.
        before: What the ring comes from; ``None`` where the stretch is the whole ring.
        after: What it goes on to.
    """

    def __init__(self, border: int | None, points: Sequence[Point]) -> None:
        """Take the side and the points in the direction of the ring."""
        self.border = border
        self.points = tuple(points)
        self.before: Stretch | None = None
        self.after: Stretch | None = None


def stretches(laid: LaidFace) -> list[Stretch]:
    """Return every stretch of a face along which trim may stand.

    Zones do not break what runs along the wall's own sides, since its trim goes on past their joints; the sides of a
    zone are those of the zone's own tile. A face without trim has none.
    """
    borders = [e.border for e in laid.edges]
    if not any(b.kind == "trim" for b in borders):
        return []
    own = {z.place.id: [i for i, b in enumerate(borders) if b.of == z.place.id] for z in laid.zones[1:]}
    zoned = {i for some in own.values() for i in some}
    found: list[Stretch] = []
    if any(b.kind == "trim" for i, b in enumerate(borders) if i not in zoned):
        sides = [i for i in range(len(borders)) if i not in zoned]
        found += _of_region(laid, face_region(laid.face, laid.edges), sides)
    for zone in laid.zones[1:]:
        if any(borders[i].kind == "trim" for i in own[zone.place.id]):
            found += _of_region(laid, zone.region, own[zone.place.id])
    return found


def _of_region(laid: LaidFace, region: BaseGeometry, sides: Sequence[int]) -> Iterator[Stretch]:
    moved = {i: moved_side(laid, i) for i in sides}
    ends = _ends_in_line(laid, sides)
    for area in parts(region):
        outer, holes = rings_of(area)
        for ring in (outer, *holes):
            yield from _of_ring(_with_points(ring, ends), moved)


def _of_ring(ring: Ring, moved: dict[int, BaseGeometry]) -> Iterator[Stretch]:
    """Yield the stretches of a ring, linked with one another."""
    labels = _labels(ring, moved)
    first = next((i for i in range(len(ring)) if labels[i] != labels[i - 1]), 0)
    order = [(first + k) % len(ring) for k in range(len(ring))]
    found = []
    for label, group in groupby(order, key=lambda i: labels[i]):
        segments = list(group)
        points = [ring[segments[0]], *(ring[(i + 1) % len(ring)] for i in segments)]
        found.append(Stretch(label, points))
    if len(found) > 1:
        for n, stretch in enumerate(found):
            stretch.before, stretch.after = found[n - 1], found[(n + 1) % len(found)]
    yield from found


def _labels(ring: Ring, moved: dict[int, BaseGeometry]) -> list[int | None]:
    """Return for each segment of a ring the side that it lies on."""
    a = np.array(ring)
    b = np.roll(a, -1, axis=0)
    probes = shapely.points(np.concatenate([a + (b - a) * t for t in (0.0, 0.5, 1.0)]))
    away = np.array([shapely.distance(probes, line).reshape(3, -1).max(axis=0) for line in moved.values()])
    sides = list(moved)
    best = away.argmin(axis=0).tolist()
    return [sides[k] if away[k, n] <= _ON else None for n, k in enumerate(best)]


def _ends_in_line(laid: LaidFace, sides: Iterable[int]) -> list[Point]:
    """Return where one side goes on in the line of another with the same gap: no corner of the tile tells them apart.

    The points lie on the edge of the tile.
    """
    wanted = set(sides)
    found: list[Point] = []
    shapes = [laid.face.outline, *(c.shape for c in laid.face.cutouts), *(z.shape for z in laid.face.zones if z.shape)]
    for shape in shapes:
        n = len(shape.ring)
        for k, p in enumerate(shape.ring):
            i, j = shape.borders[k - 1], shape.borders[k]
            if i == j or not {i, j} <= wanted or laid.edges[i].line is not None or laid.edges[j].line is not None:
                continue
            (x0, y0), (x1, y1) = shape.ring[k - 1], shape.ring[(k + 1) % n]
            ax, ay, bx, by = p[0] - x0, p[1] - y0, x1 - p[0], y1 - p[1]
            if abs(ax * by - ay * bx) > 1e-7 * math.hypot(ax, ay) * math.hypot(bx, by) or ax * bx + ay * by < 0:
                continue
            gap = laid.edges[i].offset * (-1 if laid.face.tile_is_outside(i) else 1)
            long = math.hypot(ax, ay)
            found.append((p[0] - ay / long * gap, p[1] + ax / long * gap))
    return found


def _with_points(ring: Ring, extra: Sequence[Point]) -> Ring:
    """Return a ring with those points put in that lie on it."""
    out: list[Point] = []
    for k, p in enumerate(ring):
        q = ring[(k + 1) % len(ring)]
        long = math.dist(p, q)
        on = sorted(
            (math.dist(p, e), e)
            for e in extra
            if EPS < math.dist(p, e) < long - EPS and abs(math.dist(p, e) + math.dist(e, q) - long) < 1e-6 * long
        )
        out += [p, *(e for _, e in on)]
    return tuple(out)
