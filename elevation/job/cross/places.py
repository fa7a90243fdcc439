"""Places: what a wall carries stands on it, and not in each other's way."""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry import Polygon, box

from elevation.features import Feature, Fixture, Hole, Niche, Opening, Zone
from elevation.geom import EPS
from elevation.job.cross.view import Carried, View, carried, rough_shape, thing
from elevation.job.messages import Fault
from elevation.job.models import Wall
from elevation.job.paths import Path


def shapes_on(at: Path, wall: Wall, kinds: type[Feature] | tuple[type[Feature], ...]) -> list[tuple[Carried, Polygon]]:
    """Return the clear shapes of some kinds of feature, those that are shapes."""
    found = []
    for path, feature in carried(at, wall):
        cutout = feature.cutout() if isinstance(feature, kinds) else None
        if cutout is not None and (shape := Polygon(cutout.ring)).is_valid and shape.area > 0:
            found.append(((path, feature), shape))
    return found


def features_on_wall(view: View) -> Iterator[Fault]:
    """Find niches, openings, holes and zones that reach beyond the wall, and fixtures that do not touch it."""
    for at, wall in view.walls():
        room = rough_shape(wall)
        if room is None:
            continue
        slack = room.buffer(EPS + _out_of_true(wall, view.job.tape), join_style="mitre")
        # a zone is clipped to the wall, so that a wainscot may be given as a rectangle under a rake
        slack_box = box(*slack.bounds)
        shapely.prepare(slack)
        for (path, fixture), shape in shapes_on(at, wall, Fixture):
            over = shape.bounds[3] - slack.bounds[3]
            if over > 0 and slack.intersects(shape):
                text = (
                    f"{thing(fixture)} reaches {view.say(over)} above the top of wall {wall.id}, {_size(view, room)}"
                )
                yield Fault((*path, "height"), f"is too much: {text}; height is its own, y is where it begins")
            if not slack.intersects(shape):
                yield Fault(path, f"stands clear of wall {wall.id}, {_size(view, room)}; it must at least touch it")
        for (path, feature), shape in shapes_on(at, wall, (Niche, Opening, Hole, Zone)):
            if not (slack_box if isinstance(feature, Zone) else slack).covers(shape) or not slack.intersects(shape):
                text = f"{thing(feature)} reaches {_beyond(view, room, shape)} of wall {wall.id}, {_size(view, room)}"
                yield Fault(path, text)


def _out_of_true(wall: Wall, tape: float) -> float:
    """Return how far a wall's sides lean, as found, and the tape may be off, mm; 0 for a wall without a survey.

    What it carries was measured from one corner, along sides that are neither level nor plumb.
    """
    if wall.survey is None:
        return 0.0
    lines = (wall.survey.down, wall.survey.up, wall.survey.left, wall.survey.right)
    return tape + max(max(r[1] for r in line) - min(r[1] for r in line) for line in lines)


def _size(view: View, room: Polygon) -> str:
    x0, y0, x1, y1 = room.bounds
    return f"which is {view.say(x1 - x0)} wide and {view.say(y1 - y0)} high"


def _beyond(view: View, room: Polygon, shape: Polygon) -> str:
    """Return by how much, and over which side, a shape leaves the wall."""
    a, b = room.bounds, shape.bounds
    over = {"left": a[0] - b[0], "bottom": a[1] - b[1], "right": b[2] - a[2], "top": b[3] - a[3]}
    side, most = max(over.items(), key=lambda item: item[1])
    if most <= EPS:
        return "beyond the border"
    return f"{view.say(most)} beyond the {side}"


def features_apart(view: View) -> Iterator[Fault]:
    """Find niches, openings and holes that overlap, and niches behind a fixture."""
    for at, wall in view.walls():
        taken = shapes_on(at, wall, (Niche, Opening, Hole))
        yield from _overlaps(view, taken, taken)
        yield from _overlaps(view, shapes_on(at, wall, Fixture), shapes_on(at, wall, Niche))


def zones_apart(view: View) -> Iterator[Fault]:
    """Find zones that overlap: of two zones, which one's tile is meant there?"""
    for at, wall in view.walls():
        zones = shapes_on(at, wall, Zone)
        yield from _overlaps(view, zones, zones)


def _overlaps(
    view: View, firsts: list[tuple[Carried, Polygon]], seconds: list[tuple[Carried, Polygon]]
) -> Iterator[Fault]:
    if not firsts or not seconds:
        return
    same = firsts is seconds
    tree = shapely.STRtree([shape for _, shape in firsts])
    pairs = tree.query([shape for _, shape in seconds], predicate="intersects").T.tolist()
    for second, first in sorted(pairs):
        if same and first >= second:
            continue
        (_, feature), shape = firsts[first]
        (path, other_feature), other = seconds[second]
        common = shape.intersection(other)
        x0, y0, x1, y1 = common.bounds if not common.is_empty else (0.0, 0.0, 0.0, 0.0)
        if min(x1 - x0, y1 - y0) > EPS:
            by = f"{view.say(x1 - x0)} x {view.say(y1 - y0)}"
            yield Fault(path, f"overlaps {thing(feature)} by {by}; move one of the two")
        elif max(x1 - x0, y1 - y0) > EPS and all(isinstance(f, Niche) for f in (feature, other_feature)):
            yield Fault(
                path,
                f"touches {thing(feature)}: neither framing nor tile goes between them; leave room for a strip of "
                "tile, or make one niche with a shelf",
            )


def fixture_corners(view: View) -> Iterator[Fault]:
    """Find fixtures whose upper corners are rounded by more than they are wide or high."""
    for at, wall in view.walls():
        for i, fixture in enumerate(wall.fixture):
            most = min(fixture.width / 2, fixture.height)
            if fixture.radius > most + EPS:
                yield Fault(
                    (*at, "fixture", i, "radius"),
                    f"does not fit: {thing(fixture)} is {view.say(fixture.width)} wide and {view.say(fixture.height)} "
                    f"high; at most {view.say(most)}",
                )
