"""Shelves across corners: a neighbour at that corner, a height known on both walls, and room on both."""

from __future__ import annotations

from collections.abc import Iterator

from shapely.geometry import Polygon, box

from elevation.features import CornerShelf, Feature, Fixture, Hole, Niche, Opening
from elevation.geom import EPS
from elevation.job.cross.view import View, carried, laser_ring, lower_left, rough_shape, thing
from elevation.job.messages import Fault
from elevation.job.models import Wall
from elevation.job.paths import Path

_CUT_OUT = (Niche, Opening, Hole, Fixture)


def corner_shelves(view: View) -> Iterator[Fault]:
    """Find shelves in no inside corner, at no height known on both walls, beyond a wall, or in the way of others."""
    taken: dict[str, list[tuple[CornerShelf, Polygon]]] = {}
    for at, wall in view.walls():
        for i, shelf in enumerate(wall.corner_shelf):
            path = (*at, "corner_shelf", i)
            other = view.job.neighbour(wall.id, shelf.corner)
            if other is None:
                yield Fault((*path, "corner"), _no_neighbour(view, wall, shelf))
                continue
            lift = _lift(wall, other)
            if lift is None:
                without = wall if _datum(wall) is None else other
                yield Fault(
                    (*path, "y"),
                    f"cannot be carried round the corner to wall {other.id}: wall {without.id} has no level line; "
                    f"give it a datum{'' if _datum(wall) or _datum(other) else ', and the other one too'}",
                )
                continue
            for on, end, leg, top in (
                (wall, shelf.corner, shelf.leg[0], shelf.y),
                (other, "right" if shelf.corner == "left" else "left", shelf.leg[1], shelf.y + lift),
            ):
                yield from _on_wall(view, path, shelf, on, (end, leg, top), taken.setdefault(on.id, []))


def _no_neighbour(view: View, wall: Wall, shelf: CornerShelf) -> str:
    way = "before" if shelf.corner == "left" else "after"
    if len(view.job.wall) < 2:
        return "is no inside corner: a shelf across a corner needs a second wall, and this is the only one"
    return (
        f"is no inside corner: walls stand in the order round the room, and wall {wall.id} meets none {way} it there; "
        'both sides of the corner must be left out or say meets = "corner"'
    )


def _datum(wall: Wall) -> float | None:
    """Return the level line above a wall's lower left corner, mm; ``None``: it has none."""
    if wall.survey is None:
        return wall.datum
    ring = laser_ring(wall.survey)
    return -lower_left(ring)[1] if ring else None


def _lift(wall: Wall, other: Wall) -> float | None:
    """Return how much higher a height stands above the other wall's lower left corner, mm; ``None``: not known."""
    here, there = _datum(wall), _datum(other)
    if here is not None and there is not None:
        return there - here
    # rectangles without any level line stand on the same floor
    plain = here is None and there is None and wall.outline is None and other.outline is None
    return 0.0 if plain else None


def _on_wall(
    view: View, path: Path, shelf: CornerShelf, wall: Wall, place: tuple[str, float, float],
    taken: list[tuple[CornerShelf, Polygon]],
) -> Iterator[Fault]:  # fmt: skip
    """Find what is wrong with a shelf on one of its walls."""
    end, leg, top = place
    room = rough_shape(wall)
    if room is None:
        return
    x0, y0, x1, y1 = room.bounds
    if leg > x1 - x0 + EPS:
        yield Fault((*path, "leg"), f"is longer than wall {wall.id}, which is {view.say(x1 - x0)} wide")
        return
    left = x0 if end == "left" else x1 - leg
    area = box(left, top - shelf.thickness, left + leg, top)
    if top > y1 + EPS or top - shelf.thickness < y0 - EPS:
        yield Fault(
            (*path, "y"), f"puts it beyond wall {wall.id}, which is {view.say(y1 - y0)} high; there its top stands at "
            f"{view.say(top)}",
        )  # fmt: skip
        return
    # ids of one table are looked at together with all that the wall carries
    own = any(s is shelf for s in wall.corner_shelf)
    for _, feature in carried((), wall):
        shape = _shape(feature)
        if shape is not None and shape.intersection(area).area > EPS:
            yield Fault(path, f"runs into {thing(feature)} of wall {wall.id}; move one of the two, or shorten its leg")
        if feature.id.casefold() == shelf.id.casefold() and not own:
            yield Fault((*path, "id"), f"is the id of something else on wall {wall.id} too, where the other leg lies")
    for before, there in taken:
        if there.intersection(area).area > EPS:
            yield Fault(path, f"overlaps shelf {before.id} on wall {wall.id}; move one of the two")
        if before.id.casefold() == shelf.id.casefold() and not own and before not in wall.corner_shelf:
            yield Fault((*path, "id"), f"is the id of another shelf on wall {wall.id} too; each needs its own")
    taken.append((shelf, area))


def _shape(feature: Feature) -> Polygon | None:
    cutout = feature.cutout() if isinstance(feature, _CUT_OUT) else None
    shape = Polygon(cutout.ring) if cutout is not None else None
    return shape if shape is not None and shape.is_valid else None
