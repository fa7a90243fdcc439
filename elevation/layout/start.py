"""Where each zone's pattern starts: the start of the job file as a point on the face."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from elevation.errors import JobError, Problem
from elevation.geom import Point, Region
from elevation.layout.laid import LaidEdge, LaidFace
from elevation.layout.regions import key_of
from elevation.patterns import At, ByDatum, ByWall, Lattice, Start
from elevation.wall import Face, ZonePlace


@dataclass(frozen=True, slots=True)
class Site:
    """A zone that is about to get its start: the zone, its face, the edges and the region as they stand; mm."""

    face: Face
    zone: ZonePlace
    edges: tuple[LaidEdge, ...]
    lattice: Lattice
    joint: float
    region: Region

    @property
    def slot_size(self) -> tuple[float, float]:
        """Width and height of the slot that a start refers to."""
        ring = self.lattice.motif[0].ring
        return ring[2][0] - ring[0][0], ring[2][1] - ring[0][1]


def resolve(start: Start, site: Site, laid: Mapping[str, LaidFace]) -> Point:
    """Return the lower left corner of the slot that ``start`` refers to, mm on the face.

    Args:
        start: A start in x and y.
        site: What starts there.
        laid: Faces laid out before, for ``{ wall = }``.
    """
    width, height = site.slot_size
    x0, y0, x1, y1 = site.region.bounds
    middle, joint, face = (x0 + x1) / 2, site.joint, site.face
    match start.x:
        case "joint":
            x = middle + joint / 2
        case "tile":
            x = middle - width / 2
        case "left":
            x = x0
        case "right":
            x = x1 - width
        case At() as at:
            x = _x_on(at, site)
        case length:
            x = float(length)
    match start.y:
        case "bottom":
            y = y0
        case "top":
            y = y1 - height
        case ByDatum(datum=above):
            y = face.datum[1] + above
        case ByWall(wall=other):
            carried = laid[other]
            y = carried.zones[0].origin[1] - carried.face.datum[1] + face.datum[1]
        case At() as at:
            y = _y_on(at, site)
        case length:
            y = float(length)
    return x, y


def _x_on(at: At, site: Site) -> float:
    least, most, _, _ = _extent(at, site)
    width, joint = site.slot_size[0], site.joint
    match at.at:
        case "joint":
            return (least + most) / 2 + joint / 2
        case "tile":
            return (least + most) / 2 - width / 2
        case "left":
            return least - width
        case "right":
            return most
        case other:
            raise _wrong(site, f'starts in x at "{other}"; joint, tile, left or right would do')


def _y_on(at: At, site: Site) -> float:
    _, _, least, most = _extent(at, site)
    height, joint = site.slot_size[1], site.joint
    match at.at:
        case "sill" | "bottom":
            return least - height
        case "head" | "top":
            return most
        case "joint":
            return (least + most) / 2 + joint / 2
        case "tile":
            return (least + most) / 2 - height / 2
        case other:
            raise _wrong(site, f'starts in y at "{other}"; sill, head, joint or tile would do')


def _wrong(site: Site, text: str) -> JobError:
    return JobError([Problem(key_of(site.face, site.zone.id), text)])


def _extent(at: At, site: Site) -> tuple[float, float, float, float]:
    """Return left, right, lower and upper limit of what the start stands on, gaps included; mm."""
    face = site.face
    others = {z.id: z.shape for z in face.zones if z.shape is not None and z.id != site.zone.id}
    if at.on in others:
        ring = others[at.on].ring
        gaps = [site.joint] * len(ring)
        outer = ring
    else:
        cut = next((c for c in face.cutouts if c.id == at.on), None)
        if cut is None:
            raise _wrong(site, f'starts on "{at.on}", which is not on this wall')
        outer = cut.shape.ring
        gaps = [site.edges[i].offset for i in cut.shape.borders]
    xs, ys = [p[0] for p in outer], [p[1] for p in outer]
    if len(set(gaps)) == 1:
        gap = gaps[0]
        return min(xs) - gap, max(xs) + gap, min(ys) - gap, max(ys) + gap
    # a rectangle with its own gap on each side: bottom, right, top, left
    return min(xs) - gaps[3], max(xs) + gaps[1], min(ys) - gaps[0], max(ys) + gaps[2]
