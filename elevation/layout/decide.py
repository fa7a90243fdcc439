"""Every start, joint and niche left open is decided: the job that comes out has nothing left to choose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from elevation.geom import Point
from elevation.job.models import Job, Term
from elevation.layout.groups import is_open, lattice_of, room_groups, zone_plot
from elevation.layout.laid import LaidFace
from elevation.layout.plots import is_searchable
from elevation.layout.search import GroupSearch, RoomStart, WallStart
from elevation.layout.sides import wall_with
from elevation.patterns import ByDatum, ByWall, Start
from elevation.wall import Face, build_faces

SPACERS: dict[str, tuple[float, ...]] = {
    "in": tuple(n * 25.4 / 32 for n in (1, 2, 3, 4, 5, 6, 8, 10, 12, 16)),
    "mm": (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0),
}
"""Widths that spacers are sold in, mm: common practice."""


def joints_open(job: Job) -> tuple[float, ...]:
    """Return the joint widths that the job leaves open: the range's ends and every spacer between, mm."""
    least, most = job.joint
    between = [s for s in SPACERS[job.units] if least + 1e-6 < s < most - 1e-6]
    return (least, *between, most) if most - least > 1e-6 else (least,)


@dataclass(frozen=True)
class Found:
    """What the search found for one width of the joint; pieces are counted when the key is first asked for.

    Attributes:
        job: The job with that joint.
        joint: The width, mm.
        searches: One for each group of walls.
    """

    job: Job
    joint: float
    searches: tuple[GroupSearch, ...]

    @cached_property
    def head(self) -> tuple[float, ...]:
        """Key of the room, all groups together, in the terms before any that is counted."""
        return together([s.least for s in self.searches], self.searches[0].head)

    @cached_property
    def starts(self) -> tuple[RoomStart, ...]:
        """The best start of each group."""
        return tuple(s.best() for s in self.searches)

    @cached_property
    def key(self) -> tuple[float, ...]:
        """Key of the room in all terms."""
        return together([s.key for s in self.starts], self.searches[0].prefer)


def best_of(found: Sequence[Found]) -> Found:
    """Return the best width of the joint, of those that are as good the least."""
    least = min(f.head for f in found)
    return min((f for f in found if f.head == least), key=lambda f: (f.key, f.joint))


def search_room(job: Job, faces: Sequence[Face]) -> tuple[Found, ...]:
    """Return what the search found for every width of the joint that is open; nothing when no start is.

    Raises:
        JobError: Gaps leave no room, or a start stands on nothing.
    """
    groups = room_groups(job, faces)
    if not groups:
        return ()
    found = []
    for joint in joints_open(job):
        fixed = job if job.joint == (joint, joint) else job.model_copy(update={"joint": (joint, joint)})
        here = groups if joint == job.joint[0] else room_groups(fixed, build_faces(fixed))
        found.append(Found(fixed, joint, tuple(GroupSearch(g.plots, job.room.prefer) for g in here)))
    return tuple(found)


def together(keys: Sequence[Sequence[float]], prefer: Sequence[Term]) -> tuple[float, ...]:
    """Return the key of several walls or groups from theirs: sums, and of narrowest the least."""
    columns = zip(*keys, strict=True)
    return tuple(round(max(c) if t == "narrowest" else sum(c), 6) for t, c in zip(prefer, columns, strict=True))


def apply(job: Job, joint: float, starts: Sequence[RoomStart]) -> Job:
    """Return the job with the starts of all open walls, the joint, the places of niches and of sides written in."""
    by_wall = {w.plot.face.id: (w, room) for room in starts for w in room.walls}
    leads = {id(room): _lead(room) for room in starts}
    walls = []
    for wall in job.wall:
        entry = by_wall.get(wall.id)
        if entry is None:
            walls.append(wall)
            continue
        start, room = entry
        wall, by = wall_with(wall, start.sides())
        update: dict[str, Any] = {}
        if start.plot.x is None:
            lead = leads[id(room)]
            written = exact_start(start, None if lead == wall.id else lead, by)
            update["layout"] = wall.layout.model_copy(update={"start": written})
        moved = start.niches()
        if moved:
            update["niche"] = [
                n.model_copy(update={"x": n.x + moved[n.id][0], "y": n.y + moved[n.id][1]}) if n.id in moved else n
                for n in wall.niche
            ]
        walls.append(wall.model_copy(update=update) if update else wall)
    return job.model_copy(update={"joint": (joint, joint), "wall": walls})


def _lead(room: RoomStart) -> str:
    """Return the wall of which the others take their courses: the first left open."""
    return next(w.plot.face.id for w in room.walls if w.plot.x is None)


def exact_start(start: WallStart, lead: str | None, by: Point = (0.0, 0.0)) -> Start:
    """Return a start in lengths, mm; courses from the datum, or from the leading wall.

    Args:
        start: The start.
        lead: The wall of which the courses are taken; ``None``: its own.
        by: How far all that is on the wall has moved in its frame, because the corner it is reckoned from did.
    """
    face = start.plot.face
    u, v = start.u + by[0], start.v + by[1]
    if lead is not None:
        return Start(x=u, y=ByWall(wall=lead))
    return Start(x=u, y=ByDatum(datum=start.v - face.datum[1]) if face.has_datum else v)


def decide_zones(
    job: Job, faces: Sequence[Face], laid_fields: Sequence[LaidFace]
) -> tuple[Job, dict[str, GroupSearch]]:
    """Return the job with the starts of open zones and niche backs written in; a search for each.

    Args:
        job: The job, every wall's own start decided.
        faces: Its faces.
        laid_fields: The same faces laid out.
    """
    searches: dict[str, GroupSearch] = {}
    updates: dict[str, Start] = {}
    for laid in laid_fields:
        for n, zone in enumerate(laid.face.zones):
            if not is_open(zone) or zone.beyond or (n == 0 and laid.face.kind != "back"):
                continue
            lattice = lattice_of(job, zone)
            if (zone.carried and _carries_on(laid, laid_fields)) or not is_searchable(lattice):
                continue
            name = f"{laid.face.id}/{zone.id}"
            search = GroupSearch([zone_plot(job, laid.face, laid.edges, n)], job.room.prefer)
            searches[name] = search
            start = search.best().walls[0]
            updates[name] = Start(x=start.u, y=start.v)
    if not updates:
        return job, searches
    return _with_zone_starts(job, updates), searches


def _carries_on(back: LaidFace, laid: Sequence[LaidFace]) -> bool:
    wall = next(f for f in laid if f.face.id == back.face.wall)
    return wall.zones[0].lattice == back.zones[0].lattice


def _with_zone_starts(job: Job, updates: dict[str, Start]) -> Job:
    walls = []
    for wall in job.wall:
        zones = [
            z.model_copy(update={"layout": z.layout.model_copy(update={"start": updates[f"{wall.id}/{z.id}"]})})
            if f"{wall.id}/{z.id}" in updates else z
            for z in wall.zone
        ]  # fmt: skip
        niches = []
        for niche in wall.niche:
            start = updates.get(f"{wall.id}.{niche.id}.back/field")
            if start is not None:
                layout = niche.layout or wall.layout
                niches.append(niche.model_copy(update={"layout": layout.model_copy(update={"start": start})}))
            else:
                niches.append(niche)
        walls.append(wall.model_copy(update={"zone": zones, "niche": niches}))
    return job.model_copy(update={"wall": walls})
