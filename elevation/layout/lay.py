"""Lay out all faces of a job whose starts are decided, walls that others are tied to first."""

from __future__ import annotations

import math
from typing import Literal

from elevation.errors import JobError, Problem
from elevation.geom import Point
from elevation.job.models import Job
from elevation.layout.edges import settled, tightest
from elevation.layout.groups import lattice_of
from elevation.layout.laid import LaidFace, LaidZone
from elevation.layout.regions import facing_of, zone_regions
from elevation.layout.restart import bands_of, start_beyond
from elevation.layout.start import Site, resolve
from elevation.patterns import ByWall, Start
from elevation.wall import FIELD, Face


def lay_decided(job: Job, faces: tuple[Face, ...]) -> tuple[LaidFace, ...]:
    """Return every face laid out, in the order given; a start still open is centred, whole tiles at the bottom.

    Raises:
        JobError: Gaps leave no room, a start stands on nothing, or ties go round in a circle.
    """
    laid: dict[str, LaidFace] = {}
    waiting = list(faces)
    while waiting:
        ready = [f for f in waiting if _needs(f) <= laid.keys()]
        if not ready:
            names = ", ".join(f.id for f in waiting if not f.of)
            raise JobError([Problem("wall", f"the starts of walls {names} refer to each other in a circle")])
        for face in ready:
            laid[face.id] = lay_face(job, face, laid)
            waiting.remove(face)
    return tuple(laid[f.id] for f in faces)


def _needs(face: Face) -> set[str]:
    """Return the faces that must be laid out first."""
    needs = {face.wall} if face.of else set()
    for zone in face.zones:
        start = zone.pattern.start
        if isinstance(start, Start) and isinstance(start.y, ByWall) and start.y.wall != face.id:
            needs.add(start.y.wall)
    return needs


def lay_face(job: Job, face: Face, laid: dict[str, LaidFace]) -> LaidFace:
    """Lay out one face; ``laid`` holds the faces it refers to."""
    joints = [zone.joint[0] for zone in face.zones]
    lattices = [lattice_of(job, zone) for zone in face.zones]
    edges = tightest(face)
    regions = zone_regions(face, edges, joints)
    field = _origin(Site(face, face.zones[0], edges, lattices[0], joints[0], regions[0]), laid)
    bands = bands_of(face, regions)
    decided = settled(face, lattices[0], field, bands, joints[0])
    if decided != edges:
        edges, regions = decided, zone_regions(face, decided, joints)
    zones = []
    for zone, joint, lattice, region in zip(face.zones, joints, lattices, regions, strict=True):
        site = Site(face, zone, edges, lattice, joint, region)
        if zone.id == FIELD:
            origin = field
        else:
            origin = start_beyond(bands, zone, field, joint) if zone.beyond else _origin(site, laid)
        zones.append(LaidZone(zone, joint, lattice, origin, region))
    return LaidFace(face, edges, tuple(zones))


def _origin(site: Site, laid: dict[str, LaidFace]) -> Point:
    start = site.zone.pattern.start
    if site.zone.carried:
        wall = laid[site.face.wall].field_beside(site.face.of)
        if site.lattice == (wall.lattice.straight() if site.zone.carried == "y" else wall.lattice):
            carried = wall.origin[0] - site.face.at[0], wall.origin[1] - site.face.at[1]
            return carried if site.zone.carried == "both" else _from_the_front(site, carried, laid)
    elif isinstance(start, Start):
        return resolve(start, site, laid)
    return _centred(site, laid)


def _from_the_front(site: Site, carried: Point, laid: dict[str, LaidFace]) -> Point:
    """Return the start of a return: whole tiles at the front edge, joints in line with the wall's along it.

    Where the wall's courses are shifted, the one at the front edge of a sill goes on as the course after the one that
    ends below it, that of a head as the course before the one that starts above it.
    """
    match site.face.kind:
        case "sill" | "head":
            at_sill = site.face.kind == "sill"
            edge: Literal["bottom", "top"] = "bottom" if at_sill else "top"
            gap = next(
                e.offset for e in laid[site.face.wall].edges
                if e.border.of == site.face.of and facing_of(e.border.line) == edge
            )  # fmt: skip
            courses = (-carried[1] - gap if at_sill else gap - carried[1]) / site.lattice.b[1]
            course = math.ceil(courses - 1e-6) if at_sill else math.floor(courses + 1e-6) - 1
            return carried[0] + course * site.lattice.b[0], resolve(Start(x="left", y=edge), site, laid)[1]
        case _:
            side: Literal["left", "right"] = "left" if site.face.kind == "left" else "right"
            return resolve(Start(x=side, y="bottom"), site, laid)[0], carried[1]


def _centred(site: Site, laid: dict[str, LaidFace]) -> Point:
    """Return the start with the larger cuts at both ends: a joint or a tile midway; whole tiles at the bottom.

    The search decides all starts that it can; this is for lattices that it cannot lay.
    """
    width = site.slot_size[0]

    def end(origin: Point) -> float:
        return (origin[0] - site.joint - site.region.bounds[0]) % site.lattice.a[0] or width

    choices = [resolve(Start(x=x, y="bottom"), site, laid) for x in ("joint", "tile")]
    return max(choices, key=lambda o: min(width, end(o)))
