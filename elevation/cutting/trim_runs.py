"""Every run of trim as it is built: the strip that it covers, its exact length, how its two ends are cut, its tag.

Trim stands beside the tile's edge, a joint away: inside a wall's border, outside the clear opening of a niche.

Tags count the runs of a wall, side by side, over all trims: ``B-T2`` is the second run on wall B. A tag changes only
on a wall whose runs change. No piece of tile is called so: in its number a digit follows the dash.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

import shapely
from shapely.geometry import LinearRing, LineString
from shapely.geometry import Point as ShapelyPoint

from elevation.cutting.trim_edges import Stretch, stretches
from elevation.cutting.trim_ends import EndCut, Strip, TrimCorner, along, corner_of, end_of, line_length, way
from elevation.geom import EPS, Point, Ring
from elevation.job.models import Job
from elevation.layout import LaidFace
from elevation.pieces import Piece
from elevation.units import Mm

_TRUE = 5.0
"""A run that turns by no more than this, in degrees, is a straight one beside a side out of true."""


@dataclass(frozen=True, slots=True)
class TrimRun:
    """One unbroken run of trim; it is read from the left, or from below.

    Attributes:
        id: Side it stands at, ``B n1 sill``; a second stretch of the same side gets ``/2``.
        face: Id of the face.
        length: Length over all, long point to long point, mm; of a bent run, over its longer edge.
        trim: Id of the trim.
        tag: What the sheets call it, ``B-T2``.
        of: Id of what its side belongs to; empty for the wall itself.
        side: Name of the side.
        upright: It runs up rather than level: its ends are bottom and top, else left and right.
        tile: Where the tile ends along it, mm on the face.
        near: Its edge towards the tile.
        far: Its edge away from the tile.
        outer: Which of the two is its outer edge.
        tile_left: The tile lies to the left of the way along it.
        ends: How its start and its end are cut.
        tiles: Ids of the pieces of tile that end at it.
        tile_joints: Where the joints between them meet it: how far from its start, mm.
    """

    id: str
    face: str
    length: Mm
    trim: str
    tag: str
    of: str
    side: str
    upright: bool
    tile: tuple[Point, ...]
    near: tuple[Point, ...]
    far: tuple[Point, ...]
    outer: Literal["near", "far"]
    tile_left: bool
    ends: tuple[EndCut, EndCut]
    tiles: tuple[str, ...] = ()
    tile_joints: tuple[Mm, ...] = ()

    @property
    def ring(self) -> Ring:
        """The strip that it covers."""
        return (*self.near, *reversed(self.far))

    @property
    def outer_line(self) -> tuple[Point, ...]:
        """Its outer edge."""
        return self.near if self.outer == "near" else self.far

    @property
    def end_names(self) -> tuple[str, str]:
        """What its start and its end are called."""
        return ("bottom", "top") if self.upright else ("left", "right")

    @property
    def is_bent(self) -> bool:
        """Whether it has a kink, be it only that of a side out of true."""
        return len(self.tile) > 2

    @property
    def is_curved(self) -> bool:
        """Whether it turns by more than a side that is out of true."""
        first = way(self.tile[0], self.tile[1])
        ways = [way(p, q) for p, q in pairwise(self.tile)]
        return min(d[0] * first[0] + d[1] * first[1] for d in ways) < math.cos(math.radians(_TRUE))

    def station(self, point: Point) -> Mm:
        """Return how far along the run, from its start, a point of the tile's edge stands, mm."""
        if not self.is_bent:
            return self._lead + along(self.tile[0], point, way(*self.tile))
        return (self._lead + LineString(self.tile).project(ShapelyPoint(point))) * self._scale

    def across(self, station: Mm) -> tuple[Point, Point]:
        """Return where a square cut at a station meets the near and the far edge."""
        rest = station / self._scale - self._lead
        pairs = list(pairwise(self.tile))
        p, q = pairs[0]
        for p, q in pairs:
            if rest <= math.dist(p, q) or q == self.tile[-1]:
                break
            rest -= math.dist(p, q)
        d = way(p, q)
        aside = (d[1], -d[0]) if self.tile_left else (-d[1], d[0])
        base = (p[0] + d[0] * rest, p[1] + d[1] * rest)
        near, far = ((base[0] + aside[0] * w, base[1] + aside[1] * w) for w in self._widths)
        return near, far

    @property
    def bends(self) -> tuple[Point, ...]:
        """Corners of the tile's edge between its ends, where the run is bent."""
        return self.tile[1:-1]

    def skewed(self, station: Mm, *, at_end: bool) -> tuple[Point, Point]:
        """Return where both edges end when an end is cut as the run's own is, with its long point at a station."""
        k = -1 if at_end else 0
        d = way(self.tile[-2], self.tile[-1]) if at_end else way(self.tile[0], self.tile[1])
        back = station - (self.length if at_end else 0.0)
        near, far = ((p[0] + d[0] * back, p[1] + d[1] * back) for p in (self.near[k], self.far[k]))
        return near, far

    @property
    def _widths(self) -> tuple[Mm, Mm]:
        """Distance from the tile's edge to the near and to the far edge."""
        d = way(self.tile[0], self.tile[1])
        aside = (d[1], -d[0]) if self.tile_left else (-d[1], d[0])
        return along(self.tile[0], self.near[0], aside), along(self.tile[0], self.far[0], aside)

    @property
    def _lead(self) -> Mm:
        """How far it starts before the tile's edge does; less than 0 where it stops short of it."""
        d = way(self.tile[0], self.tile[1])
        return -min(along(self.tile[0], p, d) for p in (self.near[0], self.far[0]))

    @property
    def _scale(self) -> float:
        """Its length over that of the tile's edge beside it: 1, but for a curve, where the longer edge counts."""
        if not self.is_bent:
            return 1.0
        d = way(self.tile[-2], self.tile[-1])
        past = max(along(self.tile[-1], p, d) for p in (self.near[-1], self.far[-1]))
        return self.length / (self._lead + line_length(self.tile) + past)


def trim_runs(job: Job, laid: Sequence[LaidFace]) -> tuple[tuple[TrimRun, ...], tuple[TrimCorner, ...]]:
    """Return every run of every trim, face by face and side by side, and every corner in which two of them meet."""
    runs: list[TrimRun] = []
    corners: list[TrimCorner] = []
    count: dict[str, int] = {}
    for face in laid:
        strips = [Strip(job, face, stretch, name) for stretch, name in _named(face)]
        by_stretch = {id(s.stretch): s for s in strips}
        wall = face.face.wall
        for strip in strips:
            count[wall] = count.get(wall, 0) + 1
            before, after = (by_stretch.get(id(s)) for s in (strip.stretch.before, strip.stretch.after))
            runs.append(_run(strip, before, after, f"{wall}-T{count[wall]}"))
            corner = corner_of(strip, after) if after is not None else None
            corners += [corner] if corner is not None else []
    return tuple(runs), tuple(corners)


def _named(face: LaidFace) -> Iterator[tuple[Stretch, str]]:
    """Yield the trimmed stretches of a face with their ids, in the order of its sides, each from the left or below."""
    found: dict[int, list[Stretch]] = {}
    for stretch in stretches(face):
        if stretch.border is not None and face.edges[stretch.border].border.kind == "trim":
            found.setdefault(stretch.border, []).append(stretch)
    for i, same in sorted(found.items()):
        border = face.edges[i].border
        name = " ".join(word for word in (face.face.id, border.of, border.side) if word)
        for n, stretch in enumerate(sorted(same, key=lambda s: min(s.points[0], s.points[-1])), 1):
            yield stretch, name if n == 1 else f"{name}/{n}"


def _run(strip: Strip, before: Strip | None, after: Strip | None, tag: str) -> TrimRun:
    near, far = strip.edge(strip.near), strip.edge(strip.far)
    start, near[0], far[0] = end_of(strip, before, strip.stretch.before, leaving=False)
    end, near[-1], far[-1] = end_of(strip, after, strip.stretch.after, leaving=True)
    tile, ends = list(strip.stretch.points), (start, end)
    dx, dy = tile[-1][0] - tile[0][0], tile[-1][1] - tile[0][1]
    upright = abs(dy) > abs(dx)
    back = (dy if upright else dx) < 0
    if back:
        tile, near, far, ends = tile[::-1], near[::-1], far[::-1], (end, start)
    return TrimRun(
        id=strip.id, face=strip.face.face.id, length=_length(near, far), trim=strip.name, tag=tag, of=strip.border.of,
        side=strip.border.side, upright=upright, tile=tuple(tile), near=tuple(near), far=tuple(far), outer=strip.outer,
        tile_left=not back, ends=ends,
    )  # fmt: skip


def _length(near: Sequence[Point], far: Sequence[Point]) -> Mm:
    """Return the length over all, long point to long point; of a bent run that of its longer edge."""
    if len(near) > 2:
        return max(line_length(near), line_length(far))
    places = [along(near[0], p, way(near[0], near[1])) for p in (*near, *far)]
    return max(places) - min(places)


def with_tiles(run: TrimRun, pieces: Sequence[Piece], joint: Mm) -> TrimRun:
    """Return a run that knows the tiles along it and the joints between them.

    Args:
        run: The run.
        pieces: The pieces of its face.
        joint: The widest grout joint there, mm; a wider gap between two tiles is none.
    """
    found = sorted(_beside(run, pieces, joint), key=lambda f: f[:2])
    joints = []
    for (_, low, _), (high, _, _) in pairwise(found):
        if -EPS <= high - low <= 1.5 * joint + 2 * EPS:
            joints.append((low + high) / 2)
    inner = tuple(s for s in joints if EPS < s < run.length - EPS)
    return replace(run, tiles=tuple(name for *_, name in found), tile_joints=inner)


def _beside(run: TrimRun, pieces: Sequence[Piece], joint: Mm) -> Iterator[tuple[Mm, Mm, str]]:
    """Yield from where to where along a run each tile stands, and its id; a course may start up to a joint away."""
    reach = joint + EPS
    band = LineString(run.tile).buffer(reach, cap_style="flat", join_style="mitre")
    x0, y0, x1, y1 = band.bounds
    for piece in pieces:
        xs, ys = [p[0] for p in piece.outer], [p[1] for p in piece.outer]
        if min(xs) > x1 or max(xs) < x0 or min(ys) > y1 or max(ys) < y0:
            continue
        found = shapely.intersection(LinearRing(piece.outer), band)
        # a side across the run is no longer in the band than the band is wide
        sides = [s for s in shapely.get_parts(shapely.line_merge(found)).tolist() if s.length > 2 * reach + EPS]
        spots = [run.station((float(x), float(y))) for s in sides for x, y in s.coords]
        if spots:
            yield min(spots), max(spots), piece.id
