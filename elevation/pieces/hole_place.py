"""How a hole lies in the tile around it: which tiles it cuts, and how weak a bridge it leaves to their edges."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from elevation.geom import EPS, Point, bounds, circle_ring, parts, polygon, rings_of
from elevation.layout import LaidFace, LaidZone
from elevation.layout.regions import cut_out_area
from elevation.patterns import Lattice
from elevation.pieces.tiling import is_level_box, tile_region
from elevation.wall import CutOut

_POINTS = 1 / 4
"""A round rim that reaches over an edge by less than this share of the limit leaves two points, not a notch."""


@dataclass(frozen=True, slots=True)
class Bridge:
    """A strip of tile, too weak, between the rim of a hole and a side of a tile; mm.

    Attributes:
        gap: How wide it is; 0: the rim just reaches the side, which leaves two points.
        slot: Lower left corner of the tile's slot.
        sawn: The side is the border of the zone's tile, which no move of the layout takes elsewhere.
    """

    gap: float
    slot: Point
    sawn: bool


@dataclass(frozen=True)
class HoleInZone:
    """A hole with its gap, and the zone whose tile it cuts; mm on the face.

    Attributes:
        id: Id of the hole.
        zone: The zone.
        area: What it takes from the tile.
        least: The limit: how wide a bridge must be.
        circle: Centre and radius of ``area`` when it is round.
    """

    id: str
    zone: LaidZone
    area: Polygon
    least: float
    circle: tuple[Point, float] | None

    @cached_property
    def core(self) -> Polygon:
        """What of it a side must enter for the tile to be notched there: a round hole less its outermost rim."""
        if self.circle is None:
            return self.area
        return polygon(circle_ring(self.circle[0], self.core_radius))

    @property
    def core_radius(self) -> float:
        """Radius of the core of a round hole."""
        assert self.circle is not None
        radius = self.circle[1]
        return max(radius / 2, radius - self.least * _POINTS)

    @cached_property
    def _filled(self) -> BaseGeometry:
        """The zone's region round the hole as if the hole were not there."""
        x0, y0, x1, y1 = self.area.bounds
        wide, high = slot_extent(self.zone)
        wide, high = (max(v, self.least) + 1 for v in (wide, high))
        near = box(x0 - wide, y0 - high, x1 + wide, y1 + high)
        return self.zone.region.intersection(near).union(self.area)

    def _slots(self, origin: Point) -> Iterator[tuple[Point, Polygon]]:
        """Yield lower left corner and outline of every slot that the core enters, the layout starting at a point."""
        lattice = self.zone.lattice
        for k, (x, y) in _places(lattice, origin, self.core.bounds):
            ring = lattice.motif[k].ring
            x0, y0 = ring[0]
            slot = Polygon([(px - x0 + x, py - y0 + y) for px, py in ring])
            if shapely.intersection(slot, self.core).area > EPS * EPS:
                yield (x, y), slot

    def bridges(self, origin: Point) -> list[Bridge]:
        """Return every bridge under the limit, the weakest first, with the zone's layout starting at a point.

        Where the border of the zone's tile is too close, so it is however the joints run: what a joint would leave
        between the hole and the border is a sliver.
        """
        if self._is_clear:
            return sorted(self._plainly(origin), key=lambda b: (round(b.gap, 6), b.slot))
        found: list[Bridge] = []
        for at, slot in self._slots(origin):
            found += [Bridge(gap, at, sawn=True) for gap in self._to_border]
            edge = slot.exterior.buffer(EPS)
            for part in parts(shapely.intersection(slot, self._filled)):
                if part.intersects(self.core):
                    found += [Bridge(gap, at, sawn=False) for gap, side in self._weak(part) if edge.covers(side)]
        # a side on both the border and the edge of a slot is the border's
        border = {round(b.gap, 3) for b in found if b.sawn}
        found = [b for b in found if b.sawn or round(b.gap, 3) not in border]
        return sorted(found, key=lambda b: (round(b.gap, 6), not b.sawn, b.slot))

    @cached_property
    def _is_clear(self) -> bool:
        """Tell whether nothing but level tile lies within the limit: arithmetic on its sides then says it all."""
        x0, y0, x1, y1 = self.area.bounds
        reach = self.least + EPS
        around = box(x0 - reach, y0 - reach, x1 + reach, y1 + reach)
        return is_level(self.zone.lattice) and bool(shapely.covers(self._filled, around))

    def _plainly(self, origin: Point) -> Iterator[Bridge]:
        """Yield every weak bridge to a side of a slot, by arithmetic."""
        x0, y0, x1, y1 = self.area.bounds
        for k, (left, bottom) in _places(self.zone.lattice, origin, self.core.bounds):
            l0, b0, r0, t0 = bounds(self.zone.lattice.motif[k].ring)
            right, top = left + r0 - l0, bottom + t0 - b0
            if self.circle is None:
                if min(right, x1) - max(left, x0) > EPS / 10 and min(top, y1) - max(bottom, y0) > EPS / 10:
                    gaps = [max(side - x1, x0 - side, 0.0) for side in (left, right)]
                    gaps += [max(side - y1, y0 - side, 0.0) for side in (bottom, top)]
                    for gap in gaps:
                        if EPS < gap < self.least - EPS:
                            yield Bridge(gap, (left, bottom), sawn=False)
                continue
            (x, y), radius = self.circle
            off = max(left - x, x - right, 0.0), max(bottom - y, y - top, 0.0)
            if math.hypot(*off) >= self.core_radius - EPS / 10:
                continue
            away = [math.hypot(side - x, off[1]) for side in (left, right)]
            away += [math.hypot(off[0], side - y) for side in (bottom, top)]
            for d in away:
                if d - self.core_radius > EPS and d - radius < self.least - EPS:
                    yield Bridge(d - radius if d - radius > EPS else 0.0, (left, bottom), sawn=False)

    @cached_property
    def _to_border(self) -> tuple[float, ...]:
        """How far it is to every side of the zone's border that is too close, mm."""
        found = [gap for part in parts(self._filled) if part.intersects(self.area) for gap, _ in self._weak(part)]
        return tuple(sorted({round(gap, 4) for gap in found}))

    def _weak(self, part: Polygon) -> Iterator[tuple[float, BaseGeometry]]:
        """Yield the sides of a polygon that are too close, each with its distance, mm."""
        ring = np.array(rings_of(part)[0])
        sides = np.asarray(shapely.linestrings(np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)))
        away = np.asarray(shapely.distance(self.area, sides))
        weak = (away < self.least - EPS) & (shapely.distance(self.core, sides) > EPS)
        for n in np.nonzero(weak)[0].tolist():
            if not self._is_rim(sides[n]):
                yield float(away[n]) if away[n] > EPS else 0.0, sides[n]

    def _is_rim(self, side: BaseGeometry) -> bool:
        """Tell whether a side is a chord of the round hole itself, which stands over a border of the zone."""
        if self.circle is None:
            return False
        centre, radius = self.circle
        return all(abs(math.dist(p, centre) - radius) < EPS / 2 for p in side.coords)

    def is_in_one_tile(self, origin: Point) -> bool:
        """Tell whether it lies in one slot, the limit or more inside all its sides and off the zone's border."""
        if self._to_border:
            return False
        if is_level(self.zone.lattice):
            x0, y0, x1, y1 = self.area.bounds
            need = self.least - EPS
            for k, (left, bottom) in _places(self.zone.lattice, origin, self.area.bounds):
                l0, b0, r0, t0 = bounds(self.zone.lattice.motif[k].ring)
                right, top = left + r0 - l0, bottom + t0 - b0
                if min(x0 - left, right - x1, y0 - bottom, top - y1) >= need:
                    return True
            return False
        slots = [slot for _, slot in self._slots(origin)]
        if len(slots) != 1:
            return False
        away = shapely.distance(self.area, slots[0].exterior)
        return bool(away >= self.least - EPS) and bool(shapely.covers(slots[0], self.area))

    def fits_a_tile(self) -> bool:
        """Tell whether some slot is large enough to hold it with the limit all round."""
        x0, y0, x1, y1 = self.area.bounds
        return any(
            x1 - x0 + 2 * self.least <= right - left + EPS and y1 - y0 + 2 * self.least <= top - bottom + EPS
            for left, bottom, right, top in (bounds(slot.ring) for slot in self.zone.lattice.motif)
        )

    def beyond(self, origin: Point) -> float:
        """Return how far it reaches over the edges of the tile that holds the most of it; 0: it lies in that tile."""
        slots = [slot for _, slot in self._slots(origin)]
        if not slots:
            return 0.0
        most = max(slots, key=lambda s: round(float(shapely.intersection(s, self.area).area), 3))
        (x0, y0, x1, y1), (left, bottom, right, top) = self.area.bounds, most.bounds
        reach = max(left - x0, x1 - right, bottom - y0, y1 - top, 0.0)
        return reach if reach > EPS else 0.0


def _places(lattice: Lattice, origin: Point, limits: tuple[float, float, float, float]) -> Iterator[tuple[int, Point]]:
    """Yield motif slot and lower left corner of every slot that may overlap a box."""
    if not is_level(lattice):
        tiling = tile_region(lattice, origin, box(*limits))
        for address, at in ((tiling.whole, tiling.whole_at), (tiling.cut, tiling.cut_at)):
            yield from zip(address[:, 2].tolist(), map(tuple, at.tolist()), strict=True)
        return
    x0, y0, x1, y1 = limits
    pitch, (lean, rise) = lattice.a[0], lattice.b
    for k, slot in enumerate(lattice.motif):
        left, bottom, right, top = bounds(slot.ring)
        for j in range(math.floor((y0 - origin[1] - top) / rise), math.ceil((y1 - origin[1] - bottom) / rise) + 1):
            x, y = origin[0] + j * lean + left, origin[1] + j * rise + bottom
            if y + top - bottom > y0 and y < y1:
                first, last = math.floor((x0 - x - right + left) / pitch), math.ceil((x1 - x) / pitch)
                yield from ((k, (x + i * pitch, y)) for i in range(first, last + 1))


def is_level(lattice: Lattice) -> bool:
    """Tell whether all slots of a lattice are rectangles in level courses."""
    return abs(lattice.a[1]) < 1e-9 and all(is_level_box(slot) for slot in lattice.motif)


def slot_extent(zone: LaidZone) -> tuple[float, float]:
    """Return how far the slots of a zone reach at most, along x and y, mm."""
    boxes = [bounds(slot.ring) for slot in zone.lattice.motif]
    return max(b[2] - b[0] for b in boxes), max(b[3] - b[1] for b in boxes)


def holes_in_zones(laid: LaidFace, least: float) -> tuple[HoleInZone, ...]:
    """Return every hole of a face, once for each zone whose tile it cuts.

    Args:
        laid: The face.
        least: How wide a bridge of tile must be, mm.
    """
    found = []
    for cut in laid.face.cutouts:
        if cut.kind != "hole":
            continue
        area = cut_out_area(cut, laid.edges)
        found += [
            HoleInZone(cut.id, zone, area, least, _circle(laid, cut))
            for zone in laid.zones
            if zone.region.distance(area) <= EPS
        ]
    return tuple(found)


def _circle(laid: LaidFace, cut: CutOut) -> tuple[Point, float] | None:
    if cut.circle is None:
        return None
    centre, radius = cut.circle
    return centre, radius + laid.edges[cut.shape.borders[0]].offset
