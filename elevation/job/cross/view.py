"""What the cross checks read: the job, the names that the file as written knows, and each wall's rough shape."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import shapely
from shapely.geometry import Polygon

from elevation.features import FEATURES, Edge, Feature
from elevation.geom import Point, Ring, arc_between, box_ring, clean_ring
from elevation.job.models import Arc, Job, Survey, Tile, Wall
from elevation.job.paths import Path
from elevation.job.words import say
from elevation.patterns import Pattern
from elevation.units import Unit

Carried = tuple[Path, Feature]


@dataclass(frozen=True)
class View:
    """A job, as much of it as could be read, and the file's data.

    Attributes:
        job: The models.
        data: The whole file: a name may be known there even when its table could not be read.
        unit: Unit of the file, for messages.
    """

    job: Job
    data: dict[str, Any]
    unit: Unit

    def say(self, mm: float) -> str:
        """Return a length for a message."""
        return say(mm, self.unit)

    @cached_property
    def tiles(self) -> list[str]:
        """Return the ids of the file's tiles."""
        tiles = self.data.get("tile")
        return list(tiles) if isinstance(tiles, dict) else []

    @cached_property
    def trims(self) -> list[str]:
        """Return the ids of the file's trims."""
        trims = self.data.get("trim")
        return list(trims) if isinstance(trims, dict) else []

    @cached_property
    def wall_ids(self) -> list[str]:
        """Return the ids of the file's walls."""
        return [str(wall["id"]) for wall in _tables(self.data.get("wall")) if "id" in wall]

    def walls(self) -> Iterator[tuple[Path, Wall]]:
        """Yield each wall with its path."""
        for i, wall in enumerate(self.job.wall):
            yield ("wall", i), wall

    def ids_on(self, wall: Wall) -> list[str]:
        """Return the ids of what a wall carries, as the file has them."""
        return [
            str(table["id"])
            for written in _tables(self.data.get("wall"))
            if written.get("id") == wall.id
            for kind in FEATURES
            for table in _tables(written.get(kind))
            if "id" in table
        ]

    def layouts(self, at: Path, wall: Wall) -> Iterator[tuple[Path, Pattern]]:
        """Yield the layout tables of a wall, its zones and its niches; a zone's or niche's may name no tile."""
        yield (*at, "layout"), wall.layout
        for i, zone in enumerate(wall.zone):
            yield (*at, "zone", i, "layout"), zone.layout
        for i, niche in enumerate(wall.niche):
            if niche.layout is not None:
                yield (*at, "niche", i, "layout"), niche.layout

    def stands_in(self, wall: Wall) -> bool:
        """Tell whether a wall's layout could not be read, so that a harmless one stands in for it."""
        return any(
            written.get("id") == wall.id and not isinstance(written.get("layout"), dict)
            for written in _tables(self.data.get("wall"))
        )

    def tile_of(self, wall: Wall) -> Tile | None:
        """Return the tile of a wall's field, where it is known."""
        return self.job.tile.get(wall.layout.tile or "")


def _tables(data: Any) -> list[dict[str, Any]]:
    return [item for item in data if isinstance(item, dict)] if isinstance(data, list) else []


def thing(feature: Feature) -> str:
    """Return what a message calls something on a wall: ``niche n1``."""
    words = {"WallMark": "mark", "CornerShelf": "shelf"}
    kind = type(feature).__name__
    return f"{words.get(kind, kind.lower())} {feature.id}"


def carried(at: Path, wall: Wall) -> Iterator[Carried]:
    """Yield everything that a wall carries, with its path."""
    for kind in FEATURES:
        for i, feature in enumerate(getattr(wall, kind)):
            yield (*at, kind, i), feature


def edges_of(at: Path, wall: Wall) -> Iterator[tuple[Path, Edge]]:
    """Yield every edge that the file says something of, with its path."""
    for name, edge in wall.edges.items():
        yield (*at, "edges", name), edge
    for path, feature in carried(at, wall):
        edges = getattr(feature, "edges", None)
        if isinstance(edges, dict):
            yield from (((*path, "edges", name), edge) for name, edge in edges.items())
        elif edges is not None:
            yield from (((*path, "edges", name), getattr(edges, name)) for name in type(edges).model_fields)


def outline_points(outline: list[Any]) -> tuple[list[Point], int]:
    """Return the points of a wall's outline, arcs as chords, and the number of its sides.

    Raises:
        ValueError: An arc comes first, stands beside another, or is too tight (then without text); the second argument
            is its place in the outline.
    """
    points: list[Point] = []
    corners = [c for c in outline if not isinstance(c, Arc)]
    for i, corner in enumerate(outline):
        if not isinstance(corner, Arc):
            points.append((corner[0], corner[1]))
            continue
        before = outline[i - 1]
        after = outline[(i + 1) % len(outline)]
        if i == 0:
            raise ValueError("comes first; an outline starts with a corner, and an arc stands between two corners", i)
        if isinstance(before, Arc) or isinstance(after, Arc):
            raise ValueError("stands beside another arc; put the corner in between where they meet", i)
        try:
            _, way = arc_between(before, after, corner.arc)
        except ValueError:
            raise ValueError("", i) from None
        points += way[1:-1]
    return points, len(corners)


def rough_shape(wall: Wall) -> Polygon | None:
    """Return a wall's shape in the frame of its features, as found; ``None`` when it cannot be told or is no shape."""
    ring: Ring
    if wall.outline is not None:
        try:
            ring = tuple(outline_points(wall.outline)[0])
        except ValueError:
            return None
    elif wall.survey is not None:
        ring = survey_ring(wall.survey)
    else:
        assert wall.width is not None
        assert wall.height is not None
        ring = box_ring(0.0, 0.0, wall.width, wall.height)
    shape = Polygon(ring) if len(ring) >= 3 else None
    return shape if shape is not None and shape.is_valid and shape.area > 0 else None


def survey_ring(survey: Survey) -> Ring:
    """Return the outline that the readings make, its lower left corner at (0, 0), mm; empty when they make none."""
    ring = laser_ring(survey)
    if not ring:
        return ()
    x0, y0 = lower_left(ring)
    return tuple((x - x0, y - y0) for x, y in ring)


def lower_left(ring: Ring) -> Point:
    """Return the corner nearest to the lower left."""
    return min(ring, key=lambda p: p[0] + p[1])


def laser_ring(survey: Survey) -> Ring:
    """Return the outline of the readings, from where plumb and level line cross, mm; empty when they make none."""
    far = 1e5
    down = _through([(x, -d) for x, d in survey.down], far)
    up = _through(list(survey.up), far)
    left = [(x, y) for y, x in _through(list(survey.left), far)]
    right = [(x, y) for y, x in _through(list(survey.right), far)]
    # each pair of lines closes far outside the wall, so that the four half planes meet in the wall itself
    halves = (
        [*down, (far, far), (-far, far)],
        [(-far, -far), (far, -far), *reversed(up)],
        [*left, (far, far), (far, -far)],
        [*right, (-far, far), (-far, -far)],
    )
    area = shapely.make_valid(Polygon(halves[0]))
    for half in halves[1:]:
        area = shapely.intersection(area, shapely.make_valid(Polygon(half)))
    if not isinstance(area, Polygon) or area.is_empty:
        return ()
    return clean_ring(area.exterior.coords)


def read_at(readings: list[Point], station: float) -> float:
    """Return what a line of readings comes to at a station, drawn out straight beyond its ends."""
    after = next((i for i, r in enumerate(readings) if r[0] >= station), len(readings) - 1)
    (a, fa), (b, fb) = readings[max(0, after - 1)], readings[max(1, after)]
    return fa + (fb - fa) * (station - a) / (b - a)


def _through(readings: list[Point], far: float) -> list[Point]:
    """Return readings with their first and last stretch drawn out straight to both ends."""
    if len(readings) < 2:
        return [(-far, readings[0][1]), (far, readings[0][1])]
    (a, fa), (b, fb) = readings[0], readings[1]
    (c, fc), (d, fd) = readings[-2], readings[-1]
    low = fa + (fb - fa) * (-far - a) / (b - a) if b > a else fa
    high = fd + (fd - fc) * (far - d) / (d - c) if d > c else fd
    return [(-far, low), *readings, (far, high)]
