"""The edges of a region as the terms judge them: split where the opposite edge changes.

A span is a stretch of one edge that looks, along its inward normal, at one other edge. Level edges (bottom, top) are
found by upright slabs between neighbouring corners of the region, upright ones (left, right) by level slabs. What is
judged is what *shows*: a strip that the tile of another wall will hide is taken off first. Holes are left out, and
rounded corners of fixtures are taken as square: no term looks at either.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

import shapely

from elevation.geom import EPS, Point, Region, offset_ring
from elevation.layout.laid import LaidEdge, LaidFace
from elevation.layout.regions import facing_of, solid, visible_region, zone_regions
from elevation.wall import Face, Shape

Side = Literal["bottom", "top", "left", "right"]
LEVEL: tuple[Side, ...] = ("bottom", "top")

_SAME = 1e-6  # coordinates of one corner, met from two sides
_ON = 0.02  # a border is found by the place of its edge; neighbouring edges of a real wall stand further apart


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight stretch of an edge, from ``start`` to ``end`` along it, at ``at_start`` to ``at_end``, mm."""

    start: float
    end: float
    at_start: float
    at_end: float


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of an edge that looks at one other edge; mm on the face.

    Attributes:
        edge: Name of the border, ``left``, ``n1 sill``.
        border: Its index among the face's borders.
        side: On which side of the tile it lies: a bottom has the tile above it, so does a niche's head.
        low: Where it begins, along the edge (x of a level edge, y of an upright one).
        high: Where it ends.
        near: The edge itself.
        far: The edge opposite.
        low_border: Border that it begins at; -1: none of them.
        high_border: Border that it ends at.
        far_border: Border of the edge opposite.
        is_true: Whether it stands level, or plumb, within float noise.
        is_straight: Whether it and the edge opposite do.
    """

    edge: str
    border: int
    side: Side
    low: float
    high: float
    near: tuple[Stretch, ...]
    far: tuple[Stretch, ...]
    low_border: int
    high_border: int
    far_border: int
    is_true: bool = field(init=False)
    is_straight: bool = field(init=False)

    def __post_init__(self) -> None:
        """Note once whether the edges stand true: the search asks for every course."""
        object.__setattr__(self, "is_true", _stands_true(self.near))
        object.__setattr__(self, "is_straight", self.is_true and _stands_true(self.far))

    @property
    def is_level(self) -> bool:
        """Tell whether it is a bottom or a top."""
        return self.side in LEVEL

    @property
    def place(self) -> float:
        """Height of a level edge, x of an upright one: its innermost point where it is out of true, mm."""
        values = [v for s in self.near for v in (s.at_start, s.at_end)]
        return max(values) if self.side in ("bottom", "left") else min(values)

    @property
    def far_place(self) -> float:
        """The same of the edge opposite."""
        values = [v for s in self.far for v in (s.at_start, s.at_end)]
        return min(values) if self.side in ("bottom", "left") else max(values)

    @property
    def lean(self) -> float:
        """How far the edge is out of true in a millimetre of its length, at most."""
        return max(abs(s.at_end - s.at_start) / (s.end - s.start) for s in self.near)


def _stands_true(run: tuple[Stretch, ...]) -> bool:
    return len({round(v, 6) for s in run for v in (s.at_start, s.at_end)}) == 1


@dataclass(frozen=True, slots=True)
class Slab:
    """A level strip of a region between two neighbouring corners; borders are -1 where none moves with it.

    Attributes:
        low: Its lower limit, mm, and the border there.
        high: Its upper limit, and the border there.
        runs: Left and right limit of every stretch of tile in it, each with its border.
    """

    low: tuple[float, int]
    high: tuple[float, int]
    runs: tuple[tuple[float, int, float, int], ...]


@dataclass(frozen=True, slots=True)
class ZoneOutline:
    """A region as the terms see it.

    Attributes:
        region: What shows, without holes and rounded corners.
        spans: Its judged edges, longer than a joint.
        curved: Whether some of its border is curved, so that no term judges it.
        slabs: All of the tile, what is hidden too, in level strips from below.
    """

    region: Region
    spans: tuple[Span, ...]
    curved: bool
    slabs: tuple[Slab, ...]


def zone_outlines(face: Face, edges: Sequence[LaidEdge], joints: Sequence[float]) -> tuple[ZoneOutline, ...]:
    """Return the outline of every zone of a face, in order.

    Args:
        face: The face.
        edges: Its edges, decided.
        joints: Joint of each zone, mm.

    Raises:
        JobError: The gaps leave a zone nothing.
    """
    plain = replace(face, cutouts=tuple(replace(c, rounded=(), radius=0.0) for c in face.cutouts if c.kind != "hole"))
    shown = visible_region(LaidFace(face, tuple(edges), ()))
    out = []
    for n, region in enumerate(zone_regions(plain, edges, joints)):
        seen = region if shown is None else solid(shapely.intersection(region, shown))
        # a wall that the laps hide as a whole is judged as it is built
        out.append(_outline(plain, edges, joints, n, region if seen.is_empty else seen))
    return tuple(out)


@dataclass(frozen=True, slots=True)
class _Segment:
    """A segment of the region's border, with its border (-1: curved) and its run."""

    p: Point
    q: Point
    border: int
    run: int
    side: str


def _outline(face: Face, edges: Sequence[LaidEdge], joints: Sequence[float], zone: int, region: Region) -> ZoneOutline:
    known = list(_moved_borders(face, edges, joints, zone))
    segments: list[_Segment] = []
    for area in shapely.get_parts(region).tolist():
        for line in (area.exterior, *area.interiors):
            segments.extend(_runs(list(line.coords), known, len(segments)))
    joint = joints[zone]
    spans = [
        span for axis in (0, 1) for span in _spans(face, segments, axis) if span.high - span.low > joint + 2 * EPS
    ]
    return ZoneOutline(region, tuple(spans), any(s.border < 0 for s in segments), _slabs(segments, edges))


def _moved_borders(
    face: Face, edges: Sequence[LaidEdge], joints: Sequence[float], zone: int
) -> Iterator[tuple[int, Point, Point, str]]:
    """Yield border, ends and side of every border segment, moved to where the tile ends."""
    shapes: list[tuple[Shape, float, float | None]] = [(face.outline, 1.0, None)]
    shapes.extend((c.shape, -1.0, None) for c in face.cutouts)
    own = face.zones[zone].shape
    if own is not None:
        shapes.append((own, 1.0, None))
    else:
        shapes.extend((z.shape, -1.0, joints[0]) for z in face.zones[1:] if z.shape is not None)
    curved = {border for _, _, border in face.arcs}
    for shape, inward, gap in shapes:
        distances = [
            inward * (gap if gap is not None else edges[b].offset + edges[b].border.hidden) for b in shape.borders
        ]
        n = len(shape.ring)
        for i, border in enumerate(shape.borders):
            if border in curved:
                continue
            # one side alone, moved square to itself; its neighbours only cut it to length
            alone = offset_ring(_ribbon(shape.ring[i], shape.ring[(i + 1) % n]), [distances[i], 0.0, 0.0, 0.0])
            ways = [(alone[0], alone[1])]
            line = edges[border].line
            if line is not None and gap is None:
                axis = 1 if facing_of(ways[0]) in LEVEL else 0
                p, q = ways[0]
                straight = ((p[0], line), (q[0], line)) if axis == 1 else ((line, p[1]), (line, q[1]))
                # where the tile of another wall hides a strip, what shows follows the side as found
                ways = [*ways, straight] if edges[border].border.hidden else [straight]
            for p, q in ways:
                yield (border, p, q, facing_of((p, q))) if inward > 0 else (border, q, p, facing_of((q, p)))


def _ribbon(p: Point, q: Point) -> tuple[Point, Point, Point, Point]:
    """Return a square whose first side runs from ``p`` to ``q``."""
    dx, dy = q[0] - p[0], q[1] - p[1]
    return p, q, (q[0] - dy, q[1] + dx), (p[0] - dy, p[1] + dx)


def _runs(ring: list[Point], known: Sequence[tuple[int, Point, Point, str]], first: int) -> list[_Segment]:
    """Return the segments of a ring; neighbours on the same border and side share a run."""
    found: list[_Segment] = []
    for p, q in pairwise(ring):
        border, side = _border_at(p, q, known), facing_of((p, q))
        before = found[-1] if found else None
        same = before is not None and before.border == border and (border < 0 or before.side == side)
        found.append(_Segment(p, q, border, before.run if same and before else first + len(found), side))
    last, head = found[-1], found[0]
    if len(found) > 1 and last.border == head.border and (last.border < 0 or last.side == head.side):
        run = head.run
        found = [replace(s, run=run) if s.run == last.run else s for s in found]
    return found


def _border_at(p: Point, q: Point, known: Sequence[tuple[int, Point, Point, str]]) -> int:
    """Return the border whose edge passes through the middle of a segment; -1: none."""
    mx, my, side = (p[0] + q[0]) / 2, (p[1] + q[1]) / 2, facing_of((p, q))
    best, found = (_ON, 1e9), -1
    for border, a, b, facing in known:
        if facing != side:
            continue
        dx, dy = b[0] - a[0], b[1] - a[1]
        length = (dx * dx + dy * dy) ** 0.5
        off = abs((mx - a[0]) * dy - (my - a[1]) * dx) / length
        along = ((mx - a[0]) * dx + (my - a[1]) * dy) / length
        key = (round(off, 4), max(0.0, -along, along - length))
        if off <= _ON and key < best:
            best, found = key, border
    return found


def _spans(face: Face, segments: Sequence[_Segment], axis: int) -> Iterator[Span]:
    """Yield the spans of level edges (axis 0: slabs along x) or of upright ones (axis 1)."""
    cross = [s for s in segments if abs(s.p[axis] - s.q[axis]) > _SAME]
    stops = _stops(segments, axis)
    found: dict[tuple[int, int, Side], list[list[tuple[float, float, _Segment, _Segment]]]] = {}
    wanted: tuple[Side, Side] = ("bottom", "top") if axis == 0 else ("left", "right")
    for a, b in pairwise(stops):
        middle = (a + b) / 2
        here = [s for s in cross if min(s.p[axis], s.q[axis]) < middle < max(s.p[axis], s.q[axis])]
        here.sort(key=lambda s: _at(s, middle, axis))
        for low, high in zip(here[::2], here[1::2], strict=True):
            for this, other, side in ((low, high, wanted[0]), (high, low, wanted[1])):
                # the wedge in a corner out of square, or under a steep curve, looks at a neighbour, not across:
                # nothing is judged there
                if this.border < 0 or this.side != side or _is_steep(other, axis):
                    continue
                groups = found.setdefault((this.run, other.run, side), [])
                if groups and abs(groups[-1][-1][1] - a) <= _SAME:
                    groups[-1].append((a, b, this, other))
                else:
                    groups.append([(a, b, this, other)])
    for (_, _, side), groups in found.items():
        for group in groups:
            start, end = group[0][0], group[-1][1]
            near = tuple(Stretch(a, b, _at(s, a, axis), _at(s, b, axis)) for a, b, s, _ in group)
            far = tuple(Stretch(a, b, _at(s, a, axis), _at(s, b, axis)) for a, b, _, s in group)
            ends = (
                _border_of_end(segments, start, (near[0].at_start, far[0].at_start), axis),
                _border_of_end(segments, end, (near[-1].at_end, far[-1].at_end), axis),
            )
            this, other = group[0][2], group[0][3]
            name = face.borders[this.border].name
            yield Span(name, this.border, side, start, end, near, far, *ends, other.border)


def _is_steep(segment: _Segment, axis: int) -> bool:
    """Tell whether a segment leans more than 45 degrees from the edges along an axis."""
    return abs(segment.p[1 - axis] - segment.q[1 - axis]) > abs(segment.p[axis] - segment.q[axis])


def _stops(segments: Sequence[_Segment], axis: int) -> list[float]:
    """Return the places of all corners along an axis, each once."""
    stops: list[float] = []
    for value in sorted(s.p[axis] for s in segments):
        if not stops or value - stops[-1] > _SAME:
            stops.append(value)
    return stops


def _slabs(segments: Sequence[_Segment], edges: Sequence[LaidEdge]) -> tuple[Slab, ...]:
    """Return the region in level strips, what is hidden put back; a side that leans is taken at its middle."""
    hidden = {i: e.border.hidden for i, e in enumerate(edges)}
    stops = _stops(segments, 1)
    level = {round(s.p[1], 5): s.border for s in segments if abs(s.p[1] - s.q[1]) <= _SAME and s.border >= 0}
    cross = [s for s in segments if abs(s.p[1] - s.q[1]) > _SAME]
    out = []
    for a, b in pairwise(stops):
        middle = (a + b) / 2
        here = sorted(
            ((_at(s, middle, 1), s.border) for s in cross if min(s.p[1], s.q[1]) < middle < max(s.p[1], s.q[1])),
        )
        runs = tuple(
            (x - hidden.get(b, 0.0), b, z + hidden.get(c, 0.0), c)
            for (x, b), (z, c) in zip(here[::2], here[1::2], strict=True)
        )
        out.append(Slab((a, level.get(round(a, 5), -1)), (b, level.get(round(b, 5), -1)), runs))
    return tuple(out)


def _at(segment: _Segment, value: float, axis: int) -> float:
    """Return where a segment stands at a place along the axis."""
    p, q = segment.p, segment.q
    share = (value - p[axis]) / (q[axis] - p[axis])
    return p[1 - axis] + share * (q[1 - axis] - p[1 - axis])


def _border_of_end(segments: Sequence[_Segment], place: float, between: tuple[float, float], axis: int) -> int:
    """Return the border that stands at an end of a span, between the two edges; -1: none."""
    low, high = sorted(between)
    best, found = -1.0, -1
    for s in segments:
        if abs(s.p[axis] - place) > _SAME or abs(s.q[axis] - place) > _SAME:
            continue
        ends = sorted((s.p[1 - axis], s.q[1 - axis]))
        overlap = min(high, ends[1]) - max(low, ends[0])
        if overlap > best and overlap >= -_SAME:
            best, found = overlap, s.border
    return found
