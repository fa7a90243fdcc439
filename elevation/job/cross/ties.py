"""Starts that lean on something: a feature of the wall, the datum, the courses of another wall."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.features import Niche, WallMark
from elevation.geom import EPS
from elevation.job.cross.view import View, carried
from elevation.job.messages import Fault
from elevation.job.models import Wall
from elevation.job.paths import Path
from elevation.job.words import either, near, unknown
from elevation.patterns import At, ByDatum, ByWall, Pattern, Start

_ACROSS = ("joint", "tile", "left", "right")
_UP_NICHE = ("sill", "head")
_UP = ("bottom", "top")


def _starts(view: View, at: Path, wall: Wall) -> Iterator[tuple[Path, Pattern, Start]]:
    for path, layout in view.layouts(at, wall):
        if isinstance(layout.start, Start):
            yield (*path, "start"), layout, layout.start


def starts_on(view: View) -> Iterator[Fault]:
    """Find starts on something that the wall does not carry, or at an edge that it does not have."""
    for at, wall in view.walls():
        there = {f.id: f for _, f in carried(at, wall)}
        known = view.ids_on(wall)
        for path, _, start in _starts(view, at, wall):
            for axis, place in (("x", start.x), ("y", start.y)):
                if not isinstance(place, At):
                    continue
                if place.on not in known:
                    yield Fault((*path, axis, "on"), _not_carried(place.on, wall.id, known))
                    continue
                words: tuple[str, ...] = _ACROSS if axis == "x" else _UP_NICHE + _UP
                feature = there.get(place.on)
                if axis == "y" and feature is not None:
                    words = _UP_NICHE if isinstance(feature, Niche) else _UP + _UP_NICHE
                bare = isinstance(feature, WallMark) and not feature.width
                if bare and axis == "x" and place.at in ("left", "right"):
                    yield Fault((*path, axis, "at"), 'is a side of a mark without width; write "joint" or "tile"')
                elif place.at not in words:
                    way = "across" if axis == "x" else "up"
                    yield Fault((*path, axis, "at"), f"is no place {way}; write {either(words)}")


def _not_carried(name: str, wall: str, known: list[str]) -> str:
    hint = near(name, known) or (f"; there is {either(known, 'and')}" if known else "; it carries nothing")
    return f"names nothing on wall {wall}{hint}"


def ties_end(view: View) -> Iterator[Fault]:
    """Find walls that take their courses from one another in a circle, and names of walls that are none."""
    takes: dict[str, str] = {}
    for at, wall in view.walls():
        for path, layout, start in _starts(view, at, wall):
            if not isinstance(start.y, ByWall):
                continue
            if start.y.wall not in view.wall_ids:
                yield Fault((*path, "y", "wall"), unknown("wall", start.y.wall, view.wall_ids))
            elif layout is wall.layout:
                takes.setdefault(wall.id, start.y.wall)
    for at, wall in view.walls():
        way = [wall.id]
        while way[-1] in takes and len(way) <= len(takes):
            way.append(takes[way[-1]])
            if way[-1] == wall.id:
                break
        if len(way) == 2 and way[0] == way[1]:
            yield Fault((*at, "layout", "start", "y", "wall"), "is this wall itself; name another, or give a start")
        elif len(way) > 2 and way[-1] == wall.id and wall.id == min(way):
            yield Fault(
                (*at, "layout", "start", "y", "wall"),
                f"makes a circle, {' from '.join(way)}; one of these walls needs a start of its own",
            )


def datum_there(view: View) -> Iterator[Fault]:
    """Find starts by the datum on walls that do not say where it is."""
    known = {wall.id: wall.datum is not None or wall.survey is not None for _, wall in view.walls()}
    for at, wall in view.walls():
        for path, _, start in _starts(view, at, wall):
            if not isinstance(start.y, ByDatum | ByWall):
                continue
            key = "datum" if isinstance(start.y, ByDatum) else "wall"
            if not known[wall.id]:
                yield Fault((*path, "y", key), 'needs the level line; give this wall a datum, such as datum = "36"')
            elif isinstance(start.y, ByWall) and not known.get(start.y.wall, True):
                text = f"needs the level line on wall {start.y.wall} too; give that wall a datum"
                yield Fault((*path, "y", key), text)


def same_courses(view: View) -> Iterator[Fault]:
    """Find walls tied to a wall whose courses have another height."""
    walls = {wall.id: wall for _, wall in view.walls()}
    for at, wall in view.walls():
        for path, layout, start in _starts(view, at, wall):
            if not isinstance(start.y, ByWall) or start.y.wall == wall.id or start.y.wall not in walls:
                continue
            other = walls[start.y.wall]
            mine, theirs = _course(view, wall, layout), _course(view, other, other.layout)
            if mine is None or theirs is None:
                continue
            (height, least, most), (height2, least2, most2) = mine, theirs
            if abs(height - height2) > EPS / 100:
                yield Fault(
                    (*path, "y", "wall"),
                    f"cannot be: the tile stands {view.say(height)} high here, on wall {other.id} "
                    f"{view.say(height2)}; tied walls need tiles of the same height",
                )
            elif least > most2 + 1e-6 or least2 > most + 1e-6:
                yield Fault(
                    (*path, "y", "wall"),
                    f"cannot be: the joint here is {view.say(least)}, on wall {other.id} {view.say(least2)}; "
                    "tied walls need the same joint",
                )


def _course(view: View, wall: Wall, layout: Pattern) -> tuple[float, float, float] | None:
    """Return a course's height without joint, and the least and most joint, mm."""
    tile = view.job.tile.get(layout.tile or wall.layout.tile or "")
    if tile is None:
        return None
    lattice = layout.lattice(tile.length, tile.width, 0.0)
    least, most = layout.joint or (wall.layout.joint or view.job.joint)
    return lattice.b[1] / lattice.rows, least, most
