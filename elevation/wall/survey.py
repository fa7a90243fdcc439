"""The outline of a wall as found, from readings against the level line and the plumb line."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint

from elevation.geom import EPS, Point, Ring, polygon
from elevation.job.models import Survey

_FAR = 100_000.0


class SurveyError(ValueError):
    """The readings make no wall; the message says which."""


def outline_as_found(survey: Survey) -> tuple[Ring, tuple[str, ...], Point]:
    """Return the outline in the frame of the face.

    Readings stand in the frame of the two laser lines; first and last readings of a side run on straight to the
    corners. The outline is then moved so that bottom and left sides meet at the origin.

    Returns:
        The ring, counter-clockwise from the lower left corner, mm; the side that each segment belongs to; and where
        plumb line and level line cross.

    Raises:
        SurveyError: Two neighbouring sides do not meet, or meet more than once, or opposite sides cross.
    """
    bottom = _extended([(x, -d) for x, d in survey.down], level=True)
    top = _extended([(x, u) for x, u in survey.up], level=True)
    left = _extended([(x, h) for h, x in survey.left], level=False)
    right = _extended([(x, h) for h, x in survey.right], level=False)
    low_left, low_right = _meet(bottom, left, "down", "left"), _meet(bottom, right, "down", "right")
    top_left, top_right = _meet(top, left, "up", "left"), _meet(top, right, "up", "right")
    runs = (
        ("bottom", _between(bottom, low_left, low_right, 0)),
        ("right", _between(right, low_right, top_right, 1)),
        ("top", _between(top, top_left, top_right, 0)[::-1]),
        ("left", _between(left, low_left, top_left, 1)[::-1]),
    )
    ring: list[Point] = []
    sides: list[str] = []
    for side, run in runs:
        ring.extend((x - low_left[0], y - low_left[1]) for x, y in run[:-1])
        sides.extend([side] * (len(run) - 1))
    if not polygon(tuple(ring)).is_valid:
        raise SurveyError("the sides cross each other between the corners; a reading has a slip or the wrong sign")
    return tuple(ring), tuple(sides), (-low_left[0], -low_left[1])


def _extended(points: Sequence[Point], *, level: bool) -> list[Point]:
    """Return the readings as a run that goes on straight, far beyond both ends; one reading is a true line."""
    points = _without_noise(points)
    if len(points) == 1:
        (x, y) = points[0]
        return [(x - _FAR, y), (x + _FAR, y)] if level else [(x, y - _FAR), (x, y + _FAR)]
    return [_beyond(points[1], points[0]), *points[1:-1], _beyond(points[-2], points[-1])]


def _without_noise(points: Sequence[Point]) -> list[Point]:
    """Return readings without those that stand on the line between their neighbours: a bend that is not there."""
    if len(points) < 3:
        return list(points)
    return [(float(x), float(y)) for x, y in LineString(points).simplify(EPS, preserve_topology=False).coords]


def _beyond(a: Point, b: Point) -> Point:
    """Return a point far past ``b`` on the way from ``a``."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    scale = _FAR / max(abs(dx), abs(dy))
    return b[0] + dx * scale, b[1] + dy * scale


def _meet(one: Sequence[Point], other: Sequence[Point], name: str, other_name: str) -> Point:
    crossing = LineString(one).intersection(LineString(other))
    if not isinstance(crossing, ShapelyPoint):
        raise SurveyError(
            f"the readings {name} and {other_name} do not meet in one corner; check their signs and stations"
        )
    return float(crossing.x), float(crossing.y)


def _between(run: Sequence[Point], start: Point, end: Point, axis: int) -> list[Point]:
    """Return the run from one corner to the other, with the readings between them."""
    inner = [p for p in run if start[axis] < p[axis] < end[axis]]
    if end[axis] <= start[axis]:
        raise SurveyError("the corners come out in the wrong order; a reading has the wrong sign")
    return [start, *inner, end]
