"""Which walls share course lines, and what is open on each: the plots of a room, before the search."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from elevation.geom import Point
from elevation.job.models import Job
from elevation.layout.edges import tightest
from elevation.layout.laid import LaidEdge
from elevation.layout.plots import Plot, is_searchable, make_plot
from elevation.layout.regions import zone_regions
from elevation.layout.restart import bands_of
from elevation.layout.spans import zone_outlines
from elevation.layout.start import Site, resolve
from elevation.patterns import ByWall, Lattice, Start
from elevation.wall import Face, ZonePlace


@dataclass(frozen=True, slots=True)
class Group:
    """Walls that share course lines and wait for a start.

    Attributes:
        plots: Their fields, in the order of the job.
        open: Ids of those whose start is left to the search.
    """

    plots: tuple[Plot, ...]
    open: frozenset[str]


def lattice_of(job: Job, zone: ZonePlace) -> Lattice:
    """Return the lattice of a zone at its least joint.

    A jamb is mostly narrower than a tile: each of its courses starts at the front, shifted or not on the wall.
    """
    tile = job.tile[zone.tile]
    lattice = zone.pattern.lattice(tile.length, tile.width, zone.joint[0])
    return lattice.straight() if zone.carried == "y" else lattice


def is_open(zone: ZonePlace) -> bool:
    """Tell whether a zone's start is left to the search."""
    return not isinstance(zone.pattern.start, Start)


def room_groups(job: Job, faces: Sequence[Face]) -> tuple[Group, ...]:
    """Return the groups of walls of which at least one start is open, in the order of the job.

    Walls tied by ``{ wall = }`` share their lines. So do all walls left open that have a datum and courses of the same
    height: one set of level lines goes round the room.

    Raises:
        JobError: Gaps leave no room, or a start across stands on nothing.
    """
    walls = [f for f in faces if not f.of]
    lattices = {f.id: lattice_of(job, f.zones[0]) for f in walls}
    leader = {f.id: f.id for f in walls}

    def root(name: str) -> str:
        while leader[name] != name:
            name = leader[name]
        return name

    first_open: dict[tuple[float, float], str] = {}
    for face in walls:
        zone = face.zones[0]
        if not is_open(zone):
            tie = _tie(zone)
            if tie is not None and tie in leader and root(tie) != root(face.id):
                leader[root(face.id)] = root(tie)
        elif face.has_datum and is_searchable(lattices[face.id]):
            lattice = lattices[face.id]
            courses = (round(lattice.b[1], 6), round(lattice.motif[0].ring[2][1], 6))
            leader[root(face.id)] = root(first_open.setdefault(courses, face.id))
    groups: dict[str, list[Face]] = {}
    for face in walls:
        groups.setdefault(root(face.id), []).append(face)
    out = []
    for members in groups.values():
        still = frozenset(f.id for f in members if is_open(f.zones[0]) and is_searchable(lattices[f.id]))
        if still:
            # those that decide come first: the search brings every start up into their first module
            order = sorted(members, key=lambda f: f.id not in still)
            kept = [f for f in order if f.id in still or is_searchable(lattices[f.id])]
            out.append(Group(tuple(field_plot(job, f, lattices[f.id]) for f in kept), still))
    return tuple(out)


def _tie(zone: ZonePlace) -> str | None:
    start = zone.pattern.start
    return start.y.wall if isinstance(start, Start) and isinstance(start.y, ByWall) else None


def field_plot(job: Job, face: Face, lattice: Lattice) -> Plot:
    """Return the plot of a wall's field, every edge at its least gap."""
    joints = [z.joint[0] for z in face.zones]
    edges = tightest(face)
    outlines = zone_outlines(face, edges, joints)
    regions = zone_regions(face, edges, joints)
    start = face.zones[0].pattern.start
    x = None
    if isinstance(start, Start):
        site = Site(face, face.zones[0], edges, lattice, joints[0], regions[0])
        x = resolve(Start(x=start.x, y=0.0), site, {})[0]

    def plot(n: int, x: float | None, y: float | None) -> Plot:
        base = face.datum[1]
        return make_plot(job, face, edges, n, outlines[n], lattice, joints[0], x=x, y=y, base=base, opens=True)

    field, beyond = plot(0, x, None), []
    for band in bands_of(face, regions):
        n = next(n for n, zone in enumerate(face.zones) if zone.beyond == band.zone)
        at = band.high + joints[0]
        part = plot(n, x, at) if band.way == "up" else plot(n, at, None)
        beyond.append(replace(part, moves=field.moves))
    return replace(field, beyond=tuple(beyond)) if beyond else field


def zone_plot(job: Job, face: Face, edges: Sequence[LaidEdge], n: int, origin: Point | None = None) -> Plot:
    """Return the plot of any zone of a face whose edges are decided; ``origin``: its start, when it has one."""
    zone = face.zones[n]
    joints = [z.joint[0] for z in face.zones]
    outline = zone_outlines(face, edges, joints)[n]
    x, y = origin if origin is not None else (None, None)
    return make_plot(job, face, edges, n, outline, lattice_of(job, zone), joints[n], x=x, y=y, base=0.0, opens=False)
