"""How an end of a run of trim is cut, alone or in a corner with another run.

Two runs that meet in a corner are mitred, butted, or parted by a bought corner piece, as the trim's ``corner`` says:

* mitre: both are cut along the line through the two corners of the frame; half the angle between the two sides;
* butt: the run that lies nearer to level goes through, the other butts to it: a head lies on its jambs, the jambs
  stand on the sill (common practice: no open end shows from below or above);
* piece: both stop at the corner piece, which is as wide as the trim both ways. It is made for square corners, and for
  two runs of the same trim: any other corner is mitred, or butted where two trims meet.

A run that ends where no trim meets it is flush with the tile it stands beside; where it runs up against tile it stops
its own joint short of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from elevation.cutting.trim_edges import Stretch
from elevation.geom import Point, Ring, line_crossing
from elevation.job.models import Job, Trim
from elevation.layout import LaidFace
from elevation.units import Mm

EndKind = Literal["square", "angle", "mitre", "butt", "piece"]
Line = tuple[Point, Point]
"""An endless line through two points."""

_SQUARE = 1.0
"""An end that is less out of square than this, in degrees, is cut square."""
_IN_LINE = 5.0
"""Two sides that turn by less than this, in degrees, go on in one line."""
_ACUTE = 15.0
"""A sharper corner than this, in degrees, would be all point: both runs end square."""
_PIECE = 3.0
"""A corner piece fits a corner that is no more out of square than this, in degrees."""
_AS_LEVEL = 0.02
"""Two runs whose slopes differ by less than this are equally level."""


@dataclass(frozen=True, slots=True)
class EndCut:
    """How an end of a run is cut.

    Attributes:
        kind: ``square``; ``angle``: along a sloping side; ``mitre``; ``butt``: against another run, or past it;
            ``piece``: against a corner piece.
        angle: Between the cut and the run, degrees; 90 is square.
        long: Which edge ends in the long point; empty for a square cut. The outer edge is the one towards the tile
            round an opening, and the one away from it on a wall's border.
        beside: Id of the run that it meets; empty for none.
        through: Of a butt: this run goes through.
    """

    kind: EndKind
    angle: float = 90.0
    long: Literal["", "outer", "inner"] = ""
    beside: str = ""
    through: bool = False


@dataclass(frozen=True, slots=True)
class TrimCorner:
    """Two runs of trim that meet.

    Attributes:
        face: Id of the face.
        kind: How they meet.
        runs: Ids of the two.
        trims: Ids of their trims.
        turn: ``outside``: the trim goes round a corner of the tile; ``inside``: the tile goes round the trim.
        ring: What they share, or the corner piece; mm on the face.
        cut: The line along which they meet; empty for a corner piece.
        said: Why it is not as the trim's ``corner`` says; empty when it is.
    """

    face: str
    kind: Literal["mitre", "butt", "piece"]
    runs: tuple[str, str]
    trims: tuple[str, str]
    turn: Literal["outside", "inside"]
    ring: Ring
    cut: tuple[Point, ...]
    said: str = ""


def way(p: Point, q: Point) -> Point:
    """Return the unit vector from one point to another."""
    long = math.dist(p, q)
    return (q[0] - p[0]) / long, (q[1] - p[1]) / long


def along(origin: Point, point: Point, direction: Point) -> float:
    """Return how far a point lies from an origin in a direction, mm."""
    return (point[0] - origin[0]) * direction[0] + (point[1] - origin[1]) * direction[1]


def right_of(line: Line, distance: Mm) -> Line:
    """Return a line moved to its right."""
    (x, y), d = line[0], way(*line)
    p = (x + d[1] * distance, y - d[0] * distance)
    return p, (p[0] + d[0], p[1] + d[1])


def line_length(points: Sequence[Point]) -> Mm:
    """Return the length of a broken line, mm."""
    return sum(math.dist(p, q) for p, q in pairwise(points))


class Strip:
    """A stretch of the tile's edge with its trim beside it; the tile lies to the left, the trim to the right.

    Attributes:
        id: Id of the run.
        face: Its face.
        stretch: The stretch.
        border: The side it belongs to.
        name: Id of the trim.
        trim: The trim.
        bevel: Two tiles are mitred there, with nothing between them.
        near: Distance from the tile's edge to the near edge of the trim, mm.
        far: To its far edge, mm.
        outer: Which of the two is the outer edge.
    """

    def __init__(self, job: Job, face: LaidFace, stretch: Stretch, name: str) -> None:
        """Take a stretch along a side with trim."""
        assert stretch.border is not None
        self.id, self.face, self.stretch = name, face, stretch
        self.border = face.edges[stretch.border].border
        assert self.border.trim is not None
        self.name = self.border.trim
        self.trim: Trim = job.trim[self.name]
        self.bevel = self.trim.kind == "mitre"
        self.near = 0.0 if self.bevel else self.trim.joint
        self.far = 0.0 if self.bevel else self.trim.joint + self.trim.face
        self.outer: Literal["near", "far"] = "near" if face.face.tile_is_outside(stretch.border) else "far"

    def edge(self, distance: Mm) -> list[Point]:
        """Return the line beside the tile's edge, before its ends are cut."""
        points = self.stretch.points
        lines = []
        for p, q in pairwise(points):
            d = way(p, q)
            lines.append([(x + d[1] * distance, y - d[0] * distance) for x, y in (p, q)])
        inner = [line_crossing(a[0], a[1], b[0], b[1]) or a[1] for a, b in pairwise(lines)]
        return [lines[0][0], *inner, lines[-1][1]]


def end_of(strip: Strip, other: Strip | None, beside: Stretch | None, *, leaving: bool) -> tuple[EndCut, Point, Point]:
    """Return how an end of a run is cut, and where its near and its far edge end there.

    Args:
        strip: The run.
        other: The run it may meet there.
        beside: What the tile's edge goes on with there.
        leaving: The end that the ring leaves by; else the one it comes in by.
    """
    at_end = _last(strip.stretch) if leaving else _first(strip.stretch)
    at = at_end[1] if leaving else at_end[0]
    d = way(*at_end)
    near, far = right_of(at_end, strip.near), right_of(at_end, strip.far)
    pair = None if other is None else (strip, other) if leaving else (other, strip)
    meeting = corner_of(*pair) if pair is not None else None
    id_beside = other.id if other is not None else ""
    turn = _turn(strip.stretch, beside) if leaving else _turn(beside, strip.stretch)
    if meeting is not None:
        assert other is not None
        through = meeting.kind == "butt" and _goes_through(strip, other)
        line = _stop(other, meeting, through=through, leaving=leaving)
        end = EndCut(meeting.kind, beside=id_beside, through=through)
    elif strip.bevel:
        mitred = other is not None and other.bevel and abs(turn) >= _IN_LINE
        return EndCut("mitre" if mitred else "square", beside=id_beside), at, at
    elif beside is None or _no_corner(turn):
        line = (at, (at[0] + d[1], at[1] - d[0]))
        end = EndCut("square", beside=id_beside)
    else:
        line = _first(beside) if leaving else _last(beside)
        if turn < 0:
            line = right_of(line, strip.trim.joint)
        end = EndCut("angle", beside=id_beside)
    near_end, far_end = line_crossing(*near, *line), line_crossing(*far, *line)
    assert near_end is not None, "the cut of an end crosses the run"
    assert far_end is not None, "the cut of an end crosses the run"
    ahead = along(near_end, far_end, d) * (1 if leaving else -1)
    return _measured(end, strip, ahead), near_end, far_end


def corner_of(first: Strip, second: Strip) -> TrimCorner | None:
    """Return the corner of two strips that follow one another on a ring; ``None`` where they do not meet in one."""
    turn = _turn(first.stretch, second.stretch)
    if first.bevel or second.bevel or _no_corner(turn):
        return None
    kind, said = _rule(first, second, turn)
    one, two = _last(first.stretch), _first(second.stretch)
    near, far = right_of(one, first.near), right_of(one, first.far)
    other_near, other_far = right_of(two, second.near), right_of(two, second.far)
    pairs = ((near, other_near), (far, other_near), (far, other_far), (near, other_far))
    ring = tuple(p for a, b in pairs if (p := line_crossing(*a, *b)) is not None)
    outside = turn > 0
    cut: tuple[Point, ...] = ()
    if kind == "mitre":
        cut = ring[0], ring[2]
    elif kind == "butt" and _goes_through(first, second):
        cut = (ring[0], ring[3]) if outside else (ring[1], ring[2])
    elif kind == "butt":
        cut = (ring[0], ring[1]) if outside else (ring[3], ring[2])
    return TrimCorner(
        first.face.face.id, kind, (first.id, second.id), (first.name, second.name),
        "outside" if outside else "inside", ring, cut, said,
    )  # fmt: skip


def _first(stretch: Stretch) -> Line:
    return stretch.points[0], stretch.points[1]


def _last(stretch: Stretch) -> Line:
    return stretch.points[-2], stretch.points[-1]


def _turn(first: Stretch | None, second: Stretch | None) -> float:
    """Return the turn of the tile's edge from one stretch to the next, degrees: to the left, round tile, positive."""
    if first is None or second is None:
        return 0.0
    a, b = way(*_last(first)), way(*_first(second))
    return math.degrees(math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]))


def _no_corner(turn: float) -> bool:
    return abs(turn) < _IN_LINE or 180.0 - abs(turn) < _ACUTE


def _rule(first: Strip, second: Strip, turn: float) -> tuple[Literal["mitre", "butt", "piece"], str]:
    """Return how two runs meet, and why when it is not what their trims say."""
    asked = first.trim.corner
    if first.name != second.name:
        alike = asked == second.trim.corner == "mitre" and first.trim.kind == second.trim.kind
        if alike or asked == second.trim.corner == "butt":
            return asked, ""
        return "butt", f"trims {first.name} and {second.name} meet there, so they are butted"
    if asked == "piece" and abs(abs(turn) - 90.0) > _PIECE:
        return "mitre", f"a corner piece is made for a square corner and this one has {180 - abs(turn):.0f}°: mitred"
    return asked, ""


def _goes_through(this: Strip, other: Strip) -> bool:
    """Tell whether this run goes through where the two are butted: the more level one, of two alike the left one."""
    slopes = [abs(way(s.stretch.points[0], s.stretch.points[-1])[1]) for s in (this, other)]
    if abs(slopes[0] - slopes[1]) >= _AS_LEVEL:
        return slopes[0] < slopes[1]
    return _middle(this) < _middle(other)


def _middle(strip: Strip) -> Point:
    p, q = strip.stretch.points[0], strip.stretch.points[-1]
    return (p[0] + q[0]) / 2, (p[1] + q[1]) / 2


def _stop(other: Strip, meeting: TrimCorner, *, through: bool, leaving: bool) -> Line:
    """Return the line along which a run is cut where it meets another in a corner."""
    if meeting.kind == "mitre":
        return meeting.cut[0], meeting.cut[1]
    line = _first(other.stretch) if leaving else _last(other.stretch)
    outside = meeting.turn == "outside"
    return right_of(line, other.far if through == outside else other.near)


def _measured(end: EndCut, strip: Strip, ahead: float) -> EndCut:
    """Return the cut with its angle and its long point; ``ahead``: how far the far edge reaches past the near one."""
    angle = math.degrees(math.atan2(strip.far - strip.near, abs(ahead)))
    if 90.0 - angle < _SQUARE:
        return replace(end, kind="square") if end.kind == "angle" else end
    return replace(end, angle=angle, long="outer" if (ahead > 0) == (strip.outer == "far") else "inner")
