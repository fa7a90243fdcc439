"""Sides that may move: only those in the open, and with nothing standing where they may come to stand."""

from __future__ import annotations

from collections.abc import Iterator

from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from elevation.features import Edge, Feature
from elevation.geom import EPS
from elevation.job.cross.places import shapes_on
from elevation.job.cross.view import View, edges_of, rough_shape, thing
from elevation.job.messages import Fault
from elevation.job.models import Wall
from elevation.job.paths import Path

_OPEN = (None, "wall", "outside")
Box = tuple[float, float, float, float]


def sides_may_move(view: View) -> Iterator[Fault]:
    """Find sides that may move although they are no sides in the open, or into something else."""
    for at, wall in view.walls():
        for path, edge in edges_of(at, wall):
            if edge.move is None:
                continue
            where = (*path, "move")
            text = _not_open(edge) or _no_side(wall, path, len(at))
            if text:
                yield Fault(where, text)
            elif not edge.move[0] <= 0 <= edge.move[1]:
                yield Fault(where, 'must run from 0 or less, inward, to 0 or more, outward, such as ["-1", "2"]')
            else:
                yield from _in_the_way(view, wall, path, edge.move, len(at))


def _not_open(edge: Edge) -> str:
    if edge.meets not in _OPEN:
        return f'is for a side in the open; this one meets "{edge.meets}", which stands where it stands'
    if edge.with_ is not None:
        return f"is for a side in the open; this one goes round the corner to wall {edge.with_}"
    return ""


def _no_side(wall: Wall, path: Path, depth: int) -> str:
    """Return why an edge is none that can move; empty when it may be one."""
    if path[depth] == "edges":
        if wall.outline is not None:
            return "is for a wall given by width and height, or by a survey; correct the outline instead"
        return ""
    if path[depth] == "zone":
        zone = wall.zone[int(path[depth + 1])]
        return "" if zone.outline is None else "is for a zone given by x, y, width and height; correct the outline"
    if path[depth] == "niche":
        return "is for sides of walls and zones; a niche has a key of its own, move = { x = [..], y = [..] }"
    return "is for sides of walls and zones; this stands where it stands"


def _in_the_way(view: View, wall: Wall, path: Path, move: tuple[float, float], depth: int) -> Iterator[Fault]:
    """Find what stands where a side may come to stand, and sides that may move past the one opposite."""
    room = rough_shape(wall)
    if room is None:
        return
    side = str(path[-1])
    own = wall.zone[int(path[depth + 1])] if path[depth] == "zone" else None
    bounds: Box = room.bounds
    if own is not None:
        assert own.x is not None
        assert own.y is not None
        assert own.width is not None
        assert own.height is not None
        bounds = (own.x, own.y, own.x + own.width, own.y + own.height)
        if not _inside(_place(bounds, side, move[1]), side, room.bounds):
            yield Fault((*path, "move"), f"would take the zone to the {side} of wall {wall.id} or beyond")
            return
    size = bounds[3] - bounds[1] if side in ("bottom", "top") else bounds[2] - bounds[0]
    if size + move[0] <= view.job.joint[1] + EPS:
        text = f"would leave nothing: it is {view.say(size)} to the side opposite"
        yield Fault((*path, "move"), text)
        return
    reach = _swath(bounds, side, move)
    for (_, feature), shape in shapes_on(path[:depth], wall, Feature):
        if feature is not own and shape.intersects(reach):
            yield Fault((*path, "move"), f"goes where {thing(feature)} stands; it must stay clear of it")
            return


def _place(bounds: Box, side: str, outward: float) -> float:
    low = side in ("left", "bottom")
    at = bounds[{"left": 0, "bottom": 1, "right": 2, "top": 3}[side]]
    return at - outward if low else at + outward


def _inside(place: float, side: str, bounds: Box) -> bool:
    limit = _place(bounds, side, 0.0)
    return place > limit + EPS if side in ("left", "bottom") else place < limit - EPS


def _swath(bounds: Box, side: str, move: tuple[float, float]) -> BaseGeometry:
    """Return where a side may come to stand."""
    a, b = sorted((_place(bounds, side, move[0]), _place(bounds, side, move[1])))
    x0, y0, x1, y1 = bounds
    return box(a, y0, b, y1) if side in ("left", "right") else box(x0, a, x1, b)
