"""Names: ids used once, ids that name something, sides that the shape has."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevation.features import Fixture
from elevation.features.base import Shaped
from elevation.geom import Point
from elevation.job.cross.view import View, carried, edges_of
from elevation.job.messages import Fault
from elevation.job.models import Arc
from elevation.job.paths import Path
from elevation.job.words import either, near, quoted, unknown

_SIDES = ("left", "right", "bottom", "top")


def own_ids(view: View) -> Iterator[Fault]:
    """Find ids given twice: walls in the job, and what a wall carries on that wall."""
    yield from _twice([((*at, "id"), wall.id) for at, wall in view.walls()], "another wall")
    for at, wall in view.walls():
        yield from _twice([((*p, "id"), f.id) for p, f in carried(at, wall)], f"something else on wall {wall.id}")
        for i, zone in enumerate(wall.zone):
            if zone.id.casefold() == "field":
                text = 'is the name of the main zone of every wall; choose another, such as "z1"'
                yield Fault((*at, "zone", i, "id"), text)


def _twice(ids: list[tuple[Path, str]], what: str) -> Iterator[Fault]:
    seen: dict[str, str] = {}
    for path, name in ids:
        first = seen.get(name.casefold())
        seen.setdefault(name.casefold(), name)
        if first == name:
            yield Fault(path, f"is the id of {what} too; each needs its own")
        elif first is not None:
            yield Fault(path, f"differs from {quoted(first)} only in capitals; each id must differ in more than that")


def names_used(view: View) -> Iterator[Fault]:
    """Find ids of tiles, trims and walls that name nothing."""
    for i, name in enumerate(view.job.room.first):
        if name not in view.wall_ids:
            yield Fault(("room", "first", i), unknown("wall", name, view.wall_ids))
    for at, wall in view.walls():
        for path, layout in view.layouts(at, wall):
            if layout.tile is None:
                if path == (*at, "layout") and not view.stands_in(wall):
                    yield Fault(path, f"names no tile; write tile = {quoted((view.tiles or ['field'])[0])}")
            elif view.tiles and layout.tile not in view.tiles:
                yield Fault((*path, "tile"), unknown("tile", layout.tile, view.tiles))
        for path, edge in edges_of(at, wall):
            if edge.trim is not None and edge.trim not in view.trims:
                yield Fault((*path, "trim"), unknown("trim", edge.trim, view.trims))
            if edge.with_ is not None and edge.with_ == wall.id:
                yield Fault((*path, "with"), "is this wall itself; name the wall round the corner")
            elif edge.with_ is not None and edge.with_ not in view.wall_ids:
                yield Fault((*path, "with"), unknown("wall", edge.with_, view.wall_ids))


def edge_sides(view: View) -> Iterator[Fault]:
    """Find edges under a name that the shape has no side for."""
    for at, wall in view.walls():
        corners = None if wall.outline is None else [c for c in wall.outline if not isinstance(c, Arc)]
        yield from _sides((*at, "edges"), list(wall.edges), corners)
        for path, feature in carried(at, wall):
            if isinstance(feature, Shaped):
                corners = feature.outline
                yield from _sides((*path, "edges"), list(feature.edges), corners)
            elif isinstance(feature, Fixture):
                yield from _sides((*path, "edges"), list(feature.edges), None)


def _sides(path: Path, names: list[str], corners: Sequence[Point] | None) -> Iterator[Fault]:
    sides = _SIDES if corners is None else tuple(str(i + 1) for i in range(len(corners)))
    for name in names:
        if name in sides:
            continue
        if corners is not None:
            there = _numbers(name, corners)
            meant = f"; the {name} is {' and '.join(there)}" if there else ""
            text = f"is not a side; an outline's sides are numbered, here 1 to {len(corners)}{meant}"
            yield Fault((*path, name), text)
        else:
            yield Fault((*path, name), f"is not a side; the sides are {either(sides, 'and')}{near(name, sides)}")


def _numbers(name: str, corners: Sequence[Point]) -> list[str]:
    """Return the numbers of the sides of an outline that a word such as ``left`` means."""
    found = []
    for i, (x, y) in enumerate(corners):
        x2, y2 = corners[(i + 1) % len(corners)]
        level, upright = "bottom" if x2 > x else "top", "right" if y2 > y else "left"
        if name == (level if abs(x2 - x) >= abs(y2 - y) else upright):
            found.append(str(i + 1))
    return found
