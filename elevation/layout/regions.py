"""Regions: the outline moved in by its gaps, less what is cut out of it, shared among the zones."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import shapely
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from elevation.errors import JobError, Problem
from elevation.geom import (
    Point,
    Region,
    Ring,
    arc_points,
    box_ring,
    circle_ring,
    clean_ring,
    offset_ring,
    parts,
    polygon,
    rings_of,
    signed_area,
)
from elevation.layout.laid import LaidEdge, LaidFace
from elevation.layout.restart import divided
from elevation.wall import FIELD, CutOut, Face, Shape

_FAR = 1e6


def face_region(face: Face, edges: Sequence[LaidEdge]) -> Region:
    """Return what tile may cover on a face, all zones together.

    Raises:
        JobError: The gaps leave nothing.
    """
    whole = _tiled_area(face.outline, face.cutouts, tuple(edges))
    if whole is None:
        small = f"the joints inside leave no room for tile; make the {face.word} larger"
        gaps = "the gaps and trims at its sides leave no room for tile; make them smaller"
        raise JobError([Problem(key_of(face), small if face.of else gaps)])
    if whole.is_empty:
        what = "shelves" if face.of else "openings and fixtures"
        raise JobError([Problem(key_of(face), f"nothing is left to tile once its {what} are taken out")])
    return whole


@lru_cache(maxsize=256)
def _tiled_area(outline: Shape, cutouts: tuple[CutOut, ...], edges: tuple[LaidEdge, ...]) -> Region | None:
    """Return what tile may cover; ``None``: the gaps at the sides leave nothing.

    Kept, since the layouts that are offered differ in their starts and few of them in their edges.
    """
    region: BaseGeometry | None = _moved_in(outline, edges)
    if region is None:
        return None
    for i in dict.fromkeys(outline.borders):
        line = edges[i].line
        if line is not None:
            region = region.intersection(_beyond(edges[i], line))
    return solid(region.difference(shapely.union_all([cut_out_area(c, edges) for c in cutouts])))


def visible_region(laid: LaidFace) -> Polygon | None:
    """Return what of a face shows once the walls that lap it are tiled; ``None``: nothing is hidden."""
    if not any(e.border.hidden for e in laid.edges):
        return None
    outline = laid.face.outline
    inset = [
        laid.edges[i].offset + laid.edges[i].border.hidden if laid.edges[i].border.hidden else 0.0
        for i in outline.borders
    ]
    return polygon(offset_ring(outline.ring, inset))


def zone_regions(face: Face, edges: Sequence[LaidEdge], joints: Sequence[float]) -> tuple[Region, ...]:
    """Return the region of every zone of a face, in order; ``joints`` are the zones' joints, mm.

    Raises:
        JobError: The gaps leave a zone nothing, or a band that restarts the field does not divide it.
    """
    whole = face_region(face, edges)
    taken: list[Polygon] = []
    regions: list[Region] = []
    for zone in face.zones[1:]:
        if zone.shape is None:
            continue
        outside = offset_ring(zone.shape.ring, [-joints[0]] * len(zone.shape.ring))
        taken.append(polygon(outside))
        inner = _moved_in(zone.shape, edges)
        region = solid(whole.intersection(inner)) if inner is not None else MultiPolygon()
        if region.is_empty:
            raise JobError([Problem(key_of(face, zone.id), _why_empty(face, zone.shape, inner, edges))])
        regions.append(region)
    left = solid(whole.difference(shapely.union_all(taken))) if taken else whole
    if left.is_empty:
        text = (
            "leaves nothing of the field, gaps included; give the wall's own layout the tile and pattern of the zone, "
            "and leave that zone out"
        )
        raise JobError([Problem(f"{key_of(face)}, zone", text)])
    field, *beyond = divided(face, left)
    return field, *regions, *beyond


def _why_empty(face: Face, shape: Shape, inner: Polygon | None, edges: Sequence[LaidEdge]) -> str:
    """Return why nothing of a zone is left to tile, and what would do."""
    if inner is None:
        return "the gaps and trims at its sides leave no room for tile; make it larger"
    for cut in face.cutouts:
        if cut_out_area(cut, edges).buffer(1e-3).covers(inner):
            inside = "give the niche a layout of its own for its back" if cut.kind == "niche" else "leave the zone out"
            return f"lies wholly where {cut.word} {cut.id} is, so no tile of it is left; move it, or {inside}"
    return "lies where no tile goes; move it onto the wall's tile, or leave it out"


def key_of(face: Face, zone: str = FIELD) -> str:
    """Return the key path, for a message, of a face or zone: ``wall "B"``, ``wall "B", niche "n1"``."""
    words = [f'wall "{face.wall}"']
    if face.of:
        words.append(f'{face.word} "{face.of}"')
    if zone != FIELD:
        words.append(f'zone "{zone}"')
    return ", ".join(words)


def solid(region: BaseGeometry) -> Region:
    """Return the polygons that are there at all, rings in normal form, as one region."""
    found = [Polygon(*rings_of(p)) for p in parts(region)]
    return found[0] if len(found) == 1 else MultiPolygon(found)


def _moved_in(shape: Shape, edges: Sequence[LaidEdge]) -> Polygon | None:
    """Return the shape with every side moved in by its gap; ``None`` when nothing is left."""
    ring = offset_ring(shape.ring, [edges[i].offset for i in shape.borders])
    area = polygon(ring)
    # a ring that folded over has turned round, or crosses itself
    # at an outside corner tile runs past the side
    out = 1e-3 + max(0.0, *(-edges[i].offset for i in shape.borders))
    within = polygon(shape.ring).buffer(out, join_style="mitre")
    if not area.is_valid or signed_area(ring) <= 0 or not within.covers(area):
        return None
    return area


def cut_out_area(cut: CutOut, edges: Sequence[LaidEdge]) -> Polygon:
    """Return what a feature takes from the tile: its outline moved out by its gaps, corners rounded."""
    if cut.circle is not None:
        centre, radius = cut.circle
        return polygon(circle_ring(centre, radius + edges[cut.shape.borders[0]].offset))
    ring = _moved_out(cut, edges)
    if cut.rounded:
        ring = _rounded(ring, _rounded_at(cut, ring), cut.radius + edges[cut.shape.borders[cut.rounded[0]]].offset)
    area: BaseGeometry = polygon(clean_ring(ring))
    for i in dict.fromkeys(cut.shape.borders):
        line = edges[i].line
        if line is not None and edges[i].border.side != "top":
            x0, y0, x1, y1 = area.bounds
            reach = (
                box(min(x0, line), y0, max(x1, line), y1)
                if facing_of(edges[i].border.line) in ("left", "right")
                else box(x0, min(y0, line), x1, max(y1, line))
            )
            area = area.union(_beyond(edges[i], line).intersection(reach))
    assert isinstance(area, Polygon)
    return area


def rounded_corners(cut: CutOut, edges: Sequence[LaidEdge]) -> list[tuple[Point, float]]:
    """Return centre and radius of the arcs that a feature cuts into the tile; mm on the face."""
    if cut.circle is not None:
        return [(cut.circle[0], cut.circle[1] + edges[cut.shape.borders[0]].offset)]
    if not cut.rounded:
        return []
    ring = _moved_out(cut, edges)
    radius = cut.radius + edges[cut.shape.borders[cut.rounded[0]]].offset
    return [(_corner_arc(ring, i, radius)[0], radius) for i in _rounded_at(cut, ring)]


def _moved_out(cut: CutOut, edges: Sequence[LaidEdge]) -> Ring:
    """Return the outline of a cut-out moved out by its gaps; a crooked top that is kept straight is one level side."""
    line = next((edges[i].line for i in cut.shape.borders if edges[i].border.side == "top"), None)
    if line is None:
        return offset_ring(cut.shape.ring, [-edges[i].offset for i in cut.shape.borders])
    offsets = {edges[i].border.side: edges[i].offset for i in cut.shape.borders}
    xs, ys = [p[0] for p in cut.shape.ring], [p[1] for p in cut.shape.ring]
    left, right, bottom = min(xs) - offsets["left"], max(xs) + offsets["right"], min(ys) - offsets["bottom"]
    return box_ring(left, bottom, right - left, line - bottom)


def _rounded_at(cut: CutOut, ring: Ring) -> tuple[int, ...]:
    """Return the rounded corners in a ring that may have fewer points than the fixture's own."""
    if len(ring) == len(cut.shape.ring):
        return cut.rounded
    middle = (ring[0][0] + ring[1][0]) / 2
    return tuple(2 if cut.shape.ring[i][0] > middle else 3 for i in cut.rounded)


def _rounded(ring: Ring, corners: Sequence[int], radius: float) -> Ring:
    out: list[Point] = []
    for i, point in enumerate(ring):
        out.extend(_corner_arc(ring, i, radius)[1] if i in corners else [point])
    return tuple(out)


def _corner_arc(ring: Ring, i: int, radius: float) -> tuple[Point, list[Point]]:
    """Return centre and points of the arc that rounds a convex corner of a counter-clockwise ring."""
    p, before, after = ring[i], ring[i - 1], ring[(i + 1) % len(ring)]
    la, lb = math.dist(p, before), math.dist(p, after)
    a = ((before[0] - p[0]) / la, (before[1] - p[1]) / la)
    b = ((after[0] - p[0]) / lb, (after[1] - p[1]) / lb)
    half = math.acos(max(-1.0, min(1.0, a[0] * b[0] + a[1] * b[1]))) / 2
    reach = min(radius / math.tan(half), la, lb)
    radius = reach * math.tan(half)
    away = radius / math.sin(half)
    mid = math.hypot(a[0] + b[0], a[1] + b[1])
    centre = (p[0] + (a[0] + b[0]) / mid * away, p[1] + (a[1] + b[1]) / mid * away)
    start = (p[0] + a[0] * reach, p[1] + a[1] * reach)
    sweep = math.pi - 2 * half
    points = arc_points(centre, radius, math.atan2(start[1] - centre[1], start[0] - centre[0]), sweep)
    return centre, points


def _beyond(edge: LaidEdge, line: float) -> Polygon:
    """Return the half of the plane inside a border that is kept straight: for an outline, where the tile is."""
    return {
        "bottom": box(-_FAR, line, _FAR, _FAR),
        "top": box(-_FAR, -_FAR, _FAR, line),
        "left": box(line, -_FAR, _FAR, _FAR),
        "right": box(-_FAR, -_FAR, line, _FAR),
    }[facing_of(edge.border.line)]


def facing_of(line: Sequence[Point]) -> str:
    """Return which side of an area a border is, from the way it runs: a bottom runs to the right."""
    dx, dy = line[-1][0] - line[0][0], line[-1][1] - line[0][1]
    if abs(dx) >= abs(dy):
        return "bottom" if dx > 0 else "top"
    return "right" if dy > 0 else "left"
