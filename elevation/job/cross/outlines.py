"""Outlines: arcs that reach, corners that go round once, counter-clockwise."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from shapely import is_valid_reason
from shapely.geometry import MultiPoint, Polygon

from elevation.features.base import Shaped
from elevation.geom import Point, signed_area
from elevation.job.cross.view import View, carried, outline_points
from elevation.job.messages import Fault
from elevation.job.models import Arc
from elevation.job.paths import Path


def wall_outlines(view: View) -> Iterator[Fault]:
    """Find walls whose outline is no shape."""
    for at, wall in view.walls():
        if wall.outline is None:
            continue
        path = (*at, "outline")
        try:
            points, _ = outline_points(wall.outline)
        except ValueError as error:
            text, place = error.args
            yield Fault((*path, place, "arc"), text or _too_tight(view, wall.outline, place))
            continue
        yield from _no_shape(view, path, points)


def feature_outlines(view: View) -> Iterator[Fault]:
    """Find openings and zones whose outline is no shape."""
    for at, wall in view.walls():
        for path, feature in carried(at, wall):
            if isinstance(feature, Shaped) and feature.outline is not None:
                yield from _no_shape(view, (*path, "outline"), feature.outline)


def _too_tight(view: View, outline: Sequence[Point | Arc], place: int) -> str:
    before, arc, after = outline[place - 1], outline[place], outline[(place + 1) % len(outline)]
    assert isinstance(arc, Arc)
    assert not isinstance(before, Arc)
    assert not isinstance(after, Arc)
    reach = math.dist(before, after)
    if reach == 0:
        return "stands between two corners in the same place; an arc needs two ends"
    least = view.say(reach / 2)
    return f"is too tight: the corners beside it are {view.say(reach)} apart, so the radius is at least {least}"


def _no_shape(view: View, path: Path, points: Sequence[Point]) -> Iterator[Fault]:
    for i, (p, q) in enumerate(zip(points, [*points[1:], points[0]], strict=True)):
        if math.dist(p, q) < 1e-6:
            yield Fault(path, f"has the same corner twice in a row, at {_at(view, points[i])}; leave one out")
            return
    shape = Polygon(points)
    if MultiPoint(points).convex_hull.area < 1.0:
        yield Fault(path, "holds no area; give at least three corners that do not stand in one line")
        return
    if not shape.is_valid:
        where = is_valid_reason(shape)
        spot = where[where.find("[") + 1 : where.find("]")].split() if "[" in where else []
        place = f" at {_at(view, (float(spot[0]), float(spot[1])))}" if len(spot) >= 2 else ""
        yield Fault(path, f"crosses or touches itself{place}; give the corners in order, once round")
    elif signed_area(points) < 0:
        yield Fault(path, "runs clockwise; give the corners counter-clockwise, from the lower left to the right first")


def _at(view: View, point: Point) -> str:
    return f"({view.say(point[0])}, {view.say(point[1])})"
