"""From a wall of the job file to its faces: outline as found, borders, cut-outs, zones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from shapely.geometry import Point as ShapelyPoint

from elevation.errors import JobError, Problem
from elevation.features import Cutout, Edge, Feature, Fixture, Hole, Niche, Opening
from elevation.features.base import BOX_SIDES
from elevation.geom import EPS, Point, Ring, arc_between, box_ring, polygon
from elevation.job.models import Arc, Job, Wall
from elevation.wall.edges import border
from elevation.wall.face import FIELD, Border, CutOut, Face, Shape, ZonePlace
from elevation.wall.laps import lapped
from elevation.wall.recess import edges_on_wall
from elevation.wall.returns import recess_faces
from elevation.wall.shelves import ShelfEnd, Standing, shelf_ends
from elevation.wall.survey import SurveyError, outline_as_found

Outline = tuple[Ring, tuple[str, ...], dict[str, tuple[Point, float]], Point, bool]


def build_faces(job: Job) -> tuple[Face, ...]:
    """Return the faces of all walls, in the order of the job: each wall, then the faces of its niches.

    Raises:
        JobError: A survey makes no wall, or an outline's arc no arc.
    """
    problems: list[Problem] = []
    outlines: dict[str, Outline] = {}
    for n, wall in enumerate(job.wall, 1):
        try:
            outlines[wall.id] = _outline(wall)
        except SurveyError as error:
            problems.append(Problem(f"wall[{n}].survey", str(error)))
        except ValueError as error:
            problems.append(Problem(f"wall[{n}].outline", str(error)))
    if problems:
        raise JobError(problems)
    shelves = shelf_ends(job, {name: Standing(found[0], found[3][1]) for name, found in outlines.items()})
    walls = lapped(job, tuple(_wall_face(job, wall, outlines[wall.id], shelves[wall.id]) for wall in job.wall))
    return tuple(
        face for wall, found in zip(job.wall, walls, strict=True) for face in (found, *recess_faces(job, wall, found))
    )


def _outline(wall: Wall) -> Outline:
    """Return ring, side of each segment, arcs by side, the datum, and whether there is one."""
    if wall.survey is not None:
        ring, sides, datum = outline_as_found(wall.survey)
        return ring, sides, {}, datum, True
    datum, has_datum = (0.0, wall.datum if wall.datum is not None else 0.0), wall.datum is not None
    if wall.outline is None:
        assert wall.width is not None
        assert wall.height is not None
        return box_ring(0, 0, wall.width, wall.height), BOX_SIDES, {}, datum, has_datum
    return *_ring_with_arcs(wall.outline), datum, has_datum


def _ring_with_arcs(corners: Sequence[Point | Arc]) -> tuple[Ring, tuple[str, ...], dict[str, tuple[Point, float]]]:
    """Return the ring of an outline, arcs as chords, and the arcs; sides are counted from 1, an arc is one side."""
    ring: list[Point] = []
    sides: list[str] = []
    arcs: dict[str, tuple[Point, float]] = {}
    points = [(i, c) for i, c in enumerate(corners) if not isinstance(c, Arc)]
    for n, (i, start) in enumerate(points):
        end = points[(n + 1) % len(points)][1]
        between = corners[(i + 1) % len(corners)]
        run = [start]
        if isinstance(between, Arc):
            centre, chords = arc_between(start, end, between.arc)
            arcs[str(n + 1)] = (centre, between.arc)
            run = chords[:-1]
        ring.extend(run)
        sides.extend([str(n + 1)] * len(run))
    return tuple(ring), tuple(sides), arcs


class _Borders:
    """Collects the borders of a face and hands out their places."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.all: list[Border] = []

    def shape(
        self, of: str, ring: Ring, sides: Sequence[str], edges: dict[str, Edge], usual: tuple[float, float] | None,
        behind: float | None = None,
    ) -> Shape:  # fmt: skip
        """Add one border for every named side of ``ring`` and return the shape."""
        places: dict[str, int] = {}
        for side in dict.fromkeys(sides):
            line = _line_of(ring, [i for i, s in enumerate(sides) if s == side])
            places[side] = len(self.all)
            self.all.append(border(self.job, of, side, line, edges.get(side), usual, behind))
        return Shape(ring, tuple(places[s] for s in sides))


def _line_of(ring: Ring, segments: Sequence[int]) -> tuple[Point, ...]:
    """Return the run of points of consecutive segments of a ring."""
    first = next((i for i in segments if (i - 1) % len(ring) not in segments), segments[0])
    return tuple(ring[(first + k) % len(ring)] for k in range(len(segments) + 1))


def _wall_face(job: Job, wall: Wall, outline_found: Outline, shelves: Sequence[ShelfEnd]) -> Face:
    ring, sides, arcs, datum, has_datum = outline_found
    borders = _Borders(job)
    outline = borders.shape("", ring, sides, wall.edges, None)
    features: list[Feature] = [*wall.niche, *wall.opening, *wall.fixture, *wall.hole]
    cutouts = tuple(_cut_out(job, wall, borders, f, ring, datum) for f in features)
    cutouts += tuple(_shelf(borders, end) for end in shelves)
    assert wall.layout.tile is not None
    field = ZonePlace(FIELD, wall.layout.tile, wall.layout, wall.layout.joint or job.joint)
    zones = [field]
    for zone in wall.zone:
        cut = zone.cutout()
        shape = borders.shape(zone.id, cut.ring, cut.sides, cut.edges, cut.usual)
        tile = zone.layout.tile or wall.layout.tile
        joint = zone.layout.joint or wall.layout.joint or job.joint
        zones.append(ZonePlace(zone.id, tile, zone.layout, joint, shape))
    zones += [replace(field, id=f"{FIELD}.{zone.id}", beyond=zone.id) for zone in wall.zone if zone.restart]
    return Face(
        id=wall.id, wall=wall.id, of="", word="", kind="wall", title=wall.title, outline=outline,
        borders=tuple(borders.all), cutouts=cutouts, zones=tuple(zones), datum=datum, has_datum=has_datum,
        arcs=tuple((*arc, outline.borders[sides.index(side)]) for side, arc in arcs.items()),
    )  # fmt: skip


def _cut_out(job: Job, wall: Wall, borders: _Borders, feature: Feature, outline: Ring, datum: Point) -> CutOut:
    cut = feature.cutout()
    assert cut is not None
    if isinstance(feature, Fixture) and feature.top is not None:
        cut = _with_rim(cut, feature, [(datum[0] + x, datum[1] - down) for x, down in feature.top])
    usual, behind, edges = cut.usual, None, cut.edges
    if isinstance(feature, Niche | Opening):
        usual, behind = _at_return(job, wall, feature)
        edges = edges_on_wall(feature, cut.edges)
    shape = borders.shape(feature.id, cut.ring, cut.sides, edges, usual, behind)
    kind, word = _words(feature)
    radius, rounded = cut.radius, _clear_corners(cut, outline) if cut.radius > 0 else ()
    circle = None
    cover = None
    if isinstance(feature, Hole):
        cover = feature.cover
        if cut.circle and feature.diameter is not None:
            circle = ((feature.x, feature.y), feature.diameter / 2)
    return CutOut(feature.id, kind, word, shape, radius if rounded else 0.0, rounded, circle, cover)


def _shelf(borders: _Borders, end: ShelfEnd) -> CutOut:
    shape = borders.shape(end.shelf.id, end.ring, BOX_SIDES, {}, end.shelf.joint)
    return CutOut(end.shelf.id, "fixture", "shelf", shape)


def _with_rim(cut: Cutout, fixture: Fixture, rim: Sequence[Point]) -> Cutout:
    """Return the outline of a fixture with its rim as found; first and last readings go on straight to its ends."""
    left, right = fixture.x, fixture.x + fixture.width
    inner = [p for p in rim if left + EPS < p[0] < right - EPS]
    top = [(right, _level_at(rim, right)), *inner[::-1], (left, _level_at(rim, left))]
    ring = ((left, fixture.y), (right, fixture.y), *top)
    sides = ("bottom", "right", *["top"] * (len(top) - 1), "left")
    return replace(cut, ring=ring, sides=sides)


def _level_at(line: Sequence[Point], x: float) -> float:
    """Return the height of a broken line at ``x``; beyond its ends it goes on straight."""
    i = max(0, min(len(line) - 2, sum(p[0] < x for p in line) - 1))
    (x1, y1), (x2, y2) = line[i], line[i + 1]
    return y1 + (y2 - y1) * (x - x1) / (x2 - x1)


def _at_return(job: Job, wall: Wall, feature: Niche | Opening) -> tuple[tuple[float, float] | None, float | None]:
    """Return joint, and tile of the return before it, of a side without trim: nothing where the wall's tile laps.

    Both are ``None`` where no return is tiled.
    """
    if isinstance(feature, Opening) and feature.depth is None:
        return None, None
    if feature.lap == "wall":
        return (0.0, 0.0), 0.0
    joint = (wall.layout.joint or job.joint)[0]
    return (joint, joint), job.tile[wall.layout.tile or ""].thickness


def _words(feature: Feature) -> tuple[Literal["niche", "opening", "fixture", "hole"], str]:
    match feature:
        case Niche():
            return "niche", "niche"
        case Opening():
            return "opening", feature.kind
        case Fixture():
            return "fixture", feature.kind
        case _:
            return "hole", "hole"


def _clear_corners(cut: Cutout, outline: Ring) -> tuple[int, ...]:
    """Return which upper corners of a fixture stand clear of the wall's sides."""
    inside = polygon(outline).buffer(-EPS)
    # the corners where the top meets another side
    corners = [i for i in range(len(cut.ring)) if (cut.sides[i] == "top") != (cut.sides[i - 1] == "top")]
    return tuple(i for i in corners if inside.covers(ShapelyPoint(cut.ring[i])))
