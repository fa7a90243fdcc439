"""Slots and regions become pieces: clipped, sorted into courses, named, numbered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import Polygon

from elevation.errors import JobError, Problem
from elevation.geom import Point, Region, Ring, bounds, parts, rings_of, signed_area
from elevation.job.models import Job
from elevation.layout import LaidFace, LaidZone
from elevation.layout.regions import rounded_corners, visible_region
from elevation.pieces.numbers import course_label, first_courses, piece_number, prefix
from elevation.pieces.order import setting_order
from elevation.pieces.piece import Circle, Kind, Piece
from elevation.pieces.shape import circles_of, factory_edges, kind_of, without_spurs
from elevation.pieces.tiling import Tiling, tile_region
from elevation.wall import is_field


@dataclass(frozen=True, slots=True)
class ZonePieces:
    """The pieces of a zone, course by course from below, each course from the left."""

    face: str
    zone: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class _Rough:
    """A piece before it is counted."""

    row: int
    at: Point
    slot: Ring
    upright: bool
    outer: Ring
    holes: tuple[Ring, ...]
    part: int
    kind: Kind
    circles: tuple[Circle, ...]


def make_pieces(job: Job, laid: tuple[LaidFace, ...]) -> tuple[ZonePieces, ...]:
    """Return the pieces of every zone of every face, in the order of faces and zones."""
    rough = {(f.face.id, z.place.id): _rough(f, z) for f in laid for z in f.zones}
    rows = {key: (min(r.row for r in found), max(r.row for r in found)) for key, found in rough.items() if found}
    first = first_courses(laid, rows)
    zones: list[ZonePieces] = []
    for face in laid:
        shown = visible_region(face)
        places: dict[int, int] = {}
        found: dict[str, tuple[Piece, ...]] = {}
        for zone in (*face.field, *(z for z in face.zones if not is_field(z.place.id))):
            name, key = zone.place.id, (face.face.id, zone.place.id)
            # a part of the field to the right of a band goes on counting the places of its courses
            before = places if is_field(name) else {}
            found[name] = tuple(_counted(face, zone, rough[key], first[key], shown, before))
            if is_field(name):
                places.update((p.course, p.place) for p in found[name])
        zones += [ZonePieces(face.face.id, z.place.id, found[z.place.id]) for z in face.zones]
    _refuse_twins(zones)
    order = setting_order(job, laid, {(z.face, z.zone): z.pieces for z in zones})
    return tuple(replace(z, pieces=tuple(p.in_turn(order[p.id]) for p in z.pieces)) for z in zones)


def _refuse_twins(zones: Sequence[ZonePieces]) -> None:
    """Refuse ids of walls and niches whose letters run together so that two pieces get the same number."""
    seen: dict[str, Piece] = {}
    for piece in (p for z in zones for p in z.pieces if p.number is not None):
        twin = seen.setdefault(piece.number or "", piece)
        if twin is not piece:
            text = (
                f"the ids of {twin.face} and {piece.face} run together: both have a piece {piece.number}; rename one"
            )
            raise JobError([Problem("wall", text)])


def circles_on(face: LaidFace) -> tuple[Circle, ...]:
    """Return every circle that may cut into tile on a face."""
    found = [Circle(c, r, cut.id) for cut in face.face.cutouts for c, r in rounded_corners(cut, face.edges)]
    for centre, radius, border in face.face.arcs:
        inner = abs(radius) - face.edges[border].offset * (1 if radius > 0 else -1)
        found.append(Circle(centre, inner, face.edges[border].border.name))
    return tuple(found)


def _rough(face: LaidFace, zone: LaidZone) -> list[_Rough]:
    tiling = tile_region(zone.lattice, zone.origin, zone.region)
    circles = circles_on(face)
    found = _whole(zone, tiling)
    for address, at, left in zip(tiling.cut.tolist(), tiling.cut_at.tolist(), tiling.left.tolist(), strict=True):
        motif = zone.lattice.motif[address[2]]
        slot = moved(motif.ring, at)
        solid = [area for part in parts(left) for area in without_spurs(part)]
        areas = sorted(solid, key=lambda a: (round(a.bounds[0], 3), round(a.bounds[1], 3)))
        row = address[1] * zone.lattice.rows + motif.row
        for part, area in enumerate(areas, 1):
            outer, holes = rings_of(area)
            near = circles_of(outer, holes, circles) if circles else ()
            kind = kind_of(outer, holes, slot, near)
            found.append(_Rough(row, at, slot, motif.upright, outer, holes, part, kind, near))
    return found


def _whole(zone: LaidZone, tiling: Tiling) -> list[_Rough]:
    found = []
    for address, at in zip(tiling.whole.tolist(), tiling.whole_at.tolist(), strict=True):
        motif = zone.lattice.motif[address[2]]
        slot = moved(motif.ring, at)
        row = address[1] * zone.lattice.rows + motif.row
        found.append(_Rough(row, at, slot, motif.upright, slot, (), 1, "whole", ()))
    return found


def moved(ring: Ring, at: Point) -> Ring:
    """Return a ring with its first point at ``at``."""
    x, y = at[0] - ring[0][0], at[1] - ring[0][1]
    return tuple((px + x, py + y) for px, py in ring)


def _counted(
    face: LaidFace, zone: LaidZone, rough: list[_Rough], first: int, shown: Region | None, before: Mapping[int, int]
) -> list[Piece]:
    """Return the pieces of a zone with course, place and number; ``before``: places taken already, by course."""
    boxes = [bounds(r.outer) for r in rough]
    turn = sorted(range(len(rough)), key=lambda i: (rough[i].row, round(boxes[i][0], 3), round(boxes[i][1], 3)))
    start = prefix(face, zone.place.id)
    pieces: list[Piece] = []
    place, row = 0, None
    for r, (x0, y0, x1, y1) in ((rough[i], boxes[i]) for i in turn):
        course = r.row - first + 1
        place = place + 1 if r.row == row else before.get(course, 0) + 1
        row = r.row
        whole = r.kind == "whole"
        label = course_label(course)
        pieces.append(
            Piece(
                id=f"{face.face.id}/{zone.place.id}/{label}/{place}/{r.part}",
                number=None if whole else piece_number(start, course, place),
                face=face.face.id,
                zone=zone.place.id,
                tile=zone.place.tile,
                course=course,
                place=place,
                part=r.part,
                kind=r.kind,
                outer=r.outer,
                holes=r.holes,
                slot=r.slot,
                upright=r.upright,
                width=x1 - x0,
                height=y1 - y0,
                area=signed_area(r.outer) + sum(signed_area(h) for h in r.holes),
                shown=(x1 - x0, y1 - y0) if shown is None else _shown(Polygon(r.outer, r.holes), shown),
                factory_edges=factory_edges(r.outer, r.slot),
                circles=r.circles,
            )
        )
    return pieces


def _shown(area: Polygon, region: Region) -> tuple[float, float]:
    """Return width and height of what shows of a piece."""
    seen = shapely.intersection(area, region)
    if seen.is_empty:
        return 0.0, 0.0
    x0, y0, x1, y1 = seen.bounds
    return x1 - x0, y1 - y0
