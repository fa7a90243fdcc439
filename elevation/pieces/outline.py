"""The outline of a cut piece as a saw reads it: which sides are factory, what each cut faces, where corners are."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import shapely
from shapely.geometry import LineString

from elevation.geom import EPS, Point, Ring, bounds, from_segment
from elevation.job.models import Job
from elevation.pieces.piece import Circle, Piece
from elevation.pieces.runs import EdgeRun
from elevation.rounding import Way

Side = Literal["left", "right", "bottom", "top"]
OPPOSITE: dict[Side, Side] = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}


@dataclass(frozen=True, slots=True)
class Station:
    """A distance from a reference side at which a corner of the piece stands.

    Attributes:
        mm: The distance.
        label: What it is.
        way: Which way it is rounded.
        joint: Least width of the joint that the cut faces, mm.
        most: Limit of rounding: the edge of a cover plate.
        full: The far side is factory: the tile's own size.
        sawn: A straight cut stands there; otherwise it only follows from others, as where an arc ends.
        side: On which side of a sketch it is drawn.
        at: Where across or up it is taken, mm from the lower left corner.
        read: On a rake: the same read from the line in the middle of the joint beside the piece, mm; it is what gets
            rounded, so that neighbours along the rake match to the last digit. ``None``: nothing but ``mm``.
        slanted: A taper ends there; no cut stands square to the distance.
    """

    mm: float
    label: str
    way: Way = "nearest"
    joint: float = 0.0
    most: float | None = None
    full: bool = False
    sawn: bool = True
    side: Side = "bottom"
    at: float = 0.0
    read: float | None = None
    slanted: bool = False


@dataclass(frozen=True, slots=True)
class ArcOn:
    """An arc or round hole: centre from the reference sides and radius, mm."""

    x: float
    y: float
    radius: float
    tile_outside: bool
    of: str
    hole: bool


@dataclass(frozen=True, slots=True)
class CutSide:
    """A straight stretch of the outline that is cut.

    Attributes:
        p: From here.
        q: To here; the tile lies to the left of the way.
        run: What it faces; ``None``: a grout joint.
        joint: Least width of the joint there, mm.
    """

    p: Point
    q: Point
    run: EdgeRun | None
    joint: float


@dataclass(frozen=True, slots=True)
class Outline:
    """What ``trace`` found.

    Attributes:
        ref_x: The upright side that distances across are measured from.
        ref_y: The level side that distances up are measured from.
        factory: Sides that are factory over the whole length of the piece, or the most of it.
        across: Stations along x, the overall width first.
        up: Stations along y, the overall height first.
        rounds: Arcs and round holes.
        cuts: Straight cuts.
    """

    ref_x: Side
    ref_y: Side
    factory: tuple[Side, ...]
    across: tuple[Station, ...]
    up: tuple[Station, ...]
    rounds: tuple[ArcOn, ...]
    cuts: tuple[CutSide, ...]


class Surroundings:
    """The edges of a face and the joint of a zone: finds what a stretch of outline faces."""

    def __init__(self, runs: Sequence[EdgeRun], joint: float, job: Job) -> None:
        """Take the edges of the face and the zone's grout joint, mm."""
        self._runs = [run for run in runs for _ in run.line]
        self._lines = np.array([LineString(line) for run in runs for line in run.line], dtype=object)
        self.joint, self._job = joint, job

    def facing(self, p: Point, q: Point) -> tuple[EdgeRun | None, float]:
        """Return the edge along a stretch, and the least width of the joint there."""
        if len(self._lines):
            away = shapely.distance(self._lines, shapely.points((p[0] + q[0]) / 2, (p[1] + q[1]) / 2))
            k = int(np.argmin(away))
            if away[k] <= EPS:
                run = self._runs[k]
                if run.kind == "trim" and run.trim is not None:
                    return run, self._job.trim[run.trim].joint
                return run, run.gap[0]
        return None, self.joint


def trace(piece: Piece, near: Surroundings, job: Job) -> Outline:
    """Return the outline of a cut piece as stations and arcs.

    Args:
        piece: The piece.
        near: What stands around it.
        job: For its trims and holes.
    """
    x0, y0, x1, y1 = bounds(piece.outer)
    kept = _kept(piece)
    ref_x: Side = "right" if kept["right"] > kept["left"] + EPS else "left"
    ref_y: Side = "top" if kept["top"] > kept["bottom"] + EPS else "bottom"
    square = _kept(piece, sawn=True)
    # sawn at both ends: from the square cut a rule reads both lengths of a taper, from the slanted one neither
    if max(kept["left"], kept["right"]) <= EPS and square["right"] > square["left"] + EPS:
        ref_x = "right"
    if max(kept["bottom"], kept["top"]) <= EPS and square["top"] > square["bottom"] + EPS:
        ref_y = "top"
    factory: tuple[Side, ...] = tuple(s for s in OPPOSITE if kept[s] > EPS)
    straight, arcs = _sides(piece, near)
    hole_arcs = {(c.of, c.centre): c for c in piece.circles if any(_on(h[0], c) for h in piece.holes)}
    rounds = []
    for circle in dict.fromkeys((*arcs, *hole_arcs.values())):
        # the tile lies outside the circle when the piece's own middle of the arc's chord side does
        inside = _tile_inside(piece, circle)
        cx = circle.centre[0] - x0 if ref_x == "left" else x1 - circle.centre[0]
        cy = circle.centre[1] - y0 if ref_y == "bottom" else y1 - circle.centre[1]
        is_hole = any(circle.of == h.id for w in job.wall for h in w.hole if w.id == piece.face)
        rounds.append(ArcOn(cx, cy, circle.radius, not inside, circle.of, is_hole))
    find = _Stations(piece, straight, ref_x, ref_y, job, (x0, y0, x1, y1), near.joint)
    return Outline(
        ref_x, ref_y, factory, find.stations("x", kept), find.stations("y", kept), tuple(rounds),
        tuple(straight),
    )  # fmt: skip


def _kept(piece: Piece, *, sawn: bool = False) -> dict[Side, float]:
    """Return how much of each factory side is left, mm; with ``sawn`` how much of each side is square, cut or not."""
    x0, y0, x1, y1 = bounds(piece.outer)
    slot = bounds(piece.slot)
    level = len(piece.slot) == 4 and all(abs(x - slot[0]) < EPS or abs(x - slot[2]) < EPS for x, _ in piece.slot)
    kept: dict[Side, float] = {"left": 0.0, "right": 0.0, "bottom": 0.0, "top": 0.0}
    for p, q in _pairs(piece.outer):
        upright, flat = abs(p[0] - q[0]) <= EPS, abs(p[1] - q[1]) <= EPS
        length = math.dist(p, q)
        for side, at, index in (("left", x0, 0), ("right", x1, 2), ("bottom", y0, 1), ("top", y1, 3)):
            axis = 0 if side in ("left", "right") else 1
            if (upright if axis == 0 else flat) and not (upright and flat) and abs(p[axis] - at) <= EPS:
                name: Side = side  # type: ignore[assignment]
                if sawn or (level and abs(p[axis] - slot[index]) <= EPS):
                    kept[name] += length
    return kept


def _pairs(ring: Ring) -> list[tuple[Point, Point]]:
    return list(zip(ring, (*ring[1:], ring[0]), strict=True))


def _on(point: Point, circle: Circle) -> bool:
    return abs(math.dist(point, circle.centre) - circle.radius) < EPS


def _sides(piece: Piece, near: Surroundings) -> tuple[list[CutSide], list[Circle]]:
    """Return straight cuts of the outline and its holes, and the circles it follows."""
    slot = _pairs(piece.slot)
    straight: list[CutSide] = []
    arcs: list[Circle] = []
    for ring in (piece.outer, *piece.holes):
        for p, q in _pairs(ring):
            middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
            circle = next((c for c in piece.circles if _on(p, c) and _on(q, c) and _on(middle, c)), None)
            if circle is not None:
                arcs.append(circle)
                continue
            run, joint = near.facing(p, q)
            factory = ring is piece.outer and all(
                any(from_segment(v, *side) <= EPS for side in slot) for v in (p, middle, q)
            )
            if not factory:
                straight.append(CutSide(p, q, run, joint))
    return straight, arcs


def _tile_inside(piece: Piece, circle: Circle) -> bool:
    """Tell whether the tile lies on the inner side of a circle, next to an arc of its outline."""
    for ring in (piece.outer, *piece.holes):
        for p, q in _pairs(ring):
            if _on(p, circle) and _on(q, circle) and math.dist(p, q) > 1e-6:
                # outer rings run counter-clockwise and holes clockwise: tile is always on the left of the way
                left = (p[1] - q[1], q[0] - p[0])
                middle = ((p[0] + q[0]) / 2 - circle.centre[0], (p[1] + q[1]) / 2 - circle.centre[1])
                return left[0] * middle[0] + left[1] * middle[1] < 0
    return False


class _Stations:
    """Collects the distances at which corners stand, and names them."""

    def __init__(
        self, piece: Piece, straight: Sequence[CutSide], ref_x: Side, ref_y: Side, job: Job,
        box: tuple[float, float, float, float], joint: float,
    ) -> None:  # fmt: skip
        self.joint = joint
        self.piece, self.straight, self.job, self.box = piece, straight, job, box
        self.ref: dict[str, Side] = {"x": ref_x, "y": ref_y}

    def from_ref(self, value: float, axis: str) -> float:
        """Return the distance of a coordinate from the reference side."""
        low, high = (self.box[0], self.box[2]) if axis == "x" else (self.box[1], self.box[3])
        return value - low if self.ref[axis] in ("left", "bottom") else high - value

    def stations(self, axis: str, kept: dict[Side, float]) -> tuple[Station, ...]:
        """Return the stations along an axis, the overall size first, then from near to far."""
        k = 0 if axis == "x" else 1
        size = self.box[k + 2] - self.box[k]
        far = OPPOSITE[self.ref[axis]]
        across: Side = "bottom" if axis == "x" else "right"
        found: dict[int, Station] = {}
        for cut in self.straight:
            dx, dy = cut.q[0] - cut.p[0], cut.q[1] - cut.p[1]
            along = abs(dy if axis == "y" else dx)
            across_it = abs(dx if axis == "y" else dy)
            if along > EPS and across_it <= EPS:
                continue  # runs along the axis: it sets no distance on it
            for end in (cut.p, cut.q):
                if along > EPS and self._on_factory(end, axis):
                    continue
                self._add(found, end, axis, cut, slanted=along > EPS)
        whole = kept[far] > EPS and kept[self.ref[axis]] > EPS
        word = "width" if axis == "x" else "height"
        top = next((s for s in found.values() if abs(s.mm - size) <= EPS), None)
        rest = [s for s in sorted(found.values(), key=lambda s: s.mm) if EPS < s.mm < size - EPS]
        overall = Station(size, word, side=across, full=whole, sawn=False)
        if not whole and top is not None:
            overall = replace(top, mm=size, label=word, side=top.side if self.piece.kind == "tapered" else across)
        if kept[self.ref[axis]] <= EPS and not whole:
            # cut on both sides: what faces either decides, the stricter wins
            base = next((s for s in found.values() if abs(s.mm) <= EPS), None)
            if base is not None and base.way != "nearest":
                overall = replace(overall, way="down", joint=base.joint if overall.way == "nearest" else overall.joint)
        return (overall, *self._named(axis, overall, rest))

    def _on_factory(self, end: Point, axis: str) -> bool:
        """Tell whether a slanted cut's end stands in a corner of the slot: no number is needed for it."""
        k = 0 if axis == "x" else 1
        slot = bounds(self.piece.slot)
        low, high = slot[k], slot[k + 2]
        # on the far or near factory side of this axis the distance is the tile's own size, or nothing
        return abs(end[k] - low) <= EPS / 10 or abs(end[k] - high) <= EPS / 10

    def _add(self, found: dict[int, Station], end: Point, axis: str, cut: CutSide, *, slanted: bool) -> None:
        k = 0 if axis == "x" else 1
        mm = self.from_ref(end[k], axis)
        left = (cut.p[1] - cut.q[1], cut.q[0] - cut.p[0])[k]  # towards the tile
        if self.ref[axis] in ("right", "top"):
            left = -left
        way: Way = "nearest" if cut.run is None else ("down" if left < 0 else "up")
        at = end[1 - k] - self.box[1 - k]
        side = self._side(cut, end, axis, slanted=slanted)
        read = self._mid_joint(cut, end, axis, mm) if slanted else None
        limit = self._cover_limit(cut, axis)
        new = Station(mm, "", way, cut.joint, limit, side=side, at=at, read=read, slanted=slanted)
        key = next((i for i, s in found.items() if abs(s.mm - mm) <= EPS / 10), len(found))
        old = found.get(key)
        # a cut square to the distance decides over a taper that only ends there; then what must not be too large
        rank = {"nearest": 0, "up": 1, "down": 2}
        if old is None or (not slanted, rank[way]) > (not old.slanted, rank[old.way]):
            found[key] = new

    def _mid_joint(self, cut: CutSide, end: Point, axis: str, mm: float) -> float | None:
        """Return a distance read from the rake half a joint beyond the factory side that it ends at.

        On a slope so steep that half a joint moves it by more than the tolerance, neighbours differ indeed: ``None``.
        """
        k = 0 if axis == "x" else 1
        slot = bounds(self.piece.slot)
        run, rise = cut.q[1 - k] - cut.p[1 - k], cut.q[k] - cut.p[k]
        out = next((s for s, at in ((-1, slot[1 - k]), (1, slot[3 - k])) if abs(end[1 - k] - at) <= EPS / 10), 0)
        if out == 0 or abs(run) <= EPS:
            return None
        moved = rise / run * out * self.joint / 2
        if abs(moved) > EPS:
            return None
        return mm + moved * (1 if self.ref[axis] in ("left", "bottom") else -1)

    def _side(self, cut: CutSide, end: Point, axis: str, *, slanted: bool) -> Side:
        """Return where on a sketch a distance is drawn: on the side of the piece that the cut comes nearest to."""
        k = 0 if axis == "x" else 1
        low, high = self.box[1 - k], self.box[3 - k]
        ends = [end] if slanted else [cut.p, cut.q]
        to_low = min(e[1 - k] - low for e in ends)
        to_high = min(high - e[1 - k] for e in ends)
        near_low = to_low <= to_high + EPS
        if axis == "x":
            return "bottom" if near_low else "top"
        return "left" if near_low and to_low < to_high - EPS else "right"

    def _cover_limit(self, cut: CutSide, axis: str) -> float | None:
        """Return how far the edge of a hole may be moved before it shows beside its plate; from the reference."""
        if cut.run is None:
            return None
        for wall in self.job.wall:
            for hole in wall.hole:
                if wall.id != self.piece.face or hole.id != cut.run.of or hole.cover is None:
                    continue
                half = hole.cover / 2 if isinstance(hole.cover, float) else hole.cover[0 if axis == "x" else 1] / 2
                if isinstance(hole.cover, float) and hole.width is not None and hole.height is not None:
                    other = (hole.height if axis == "x" else hole.width) / 2 + hole.gap
                    half = math.sqrt(max(0.0, half * half - other * other))
                middle, k = (hole.x, 0) if axis == "x" else (hole.y, 1)
                edge = middle + half if cut.p[k] > middle else middle - half
                return self.from_ref(edge, axis)
        return None

    def _named(self, axis: str, overall: Station, rest: list[Station]) -> list[Station]:
        """Give the stations of an axis their names, by the kind of the piece."""
        word = overall.label
        kind = self.piece.kind
        if kind == "tapered" and len(rest) == 1 and len(self.piece.outer) == 4:
            side = rest[0].side
            return [replace(rest[0], label=f"{side} {word}")]
        if kind == "L" and len(rest) == 1:
            return [replace(rest[0], label=f"leg {word}")]
        if kind == "notched" and rest:
            many = len(rest) > 1
            names = [f"notch {n} from {self.ref[axis]}" if many else f"{word} at notch" for n in ("near", "far")]
            return [replace(s, label=names[min(i, 1)]) for i, s in enumerate(rest)]
        if kind == "holed" and len(rest) == 2:
            return [replace(s, label=f"hole {n} edge from {self.ref[axis]}")
                    for s, n in zip(rest, ("near", "far"), strict=True)]  # fmt: skip
        return [replace(s, label=f"cut {i} from {self.ref[axis]}") for i, s in enumerate(rest, 1)]
