"""Which wall runs into an inside corner, and what of its tile the other one hides."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from elevation.job.models import Job, Wall
from elevation.wall.face import Border, Face


def lapped(job: Job, faces: tuple[Face, ...]) -> tuple[Face, ...]:
    """Return the faces with laps reckoned at every inside corner where exactly one wall is in ``[room] first``.

    The wall tiled first runs into the corner; the other wall's tile starts at its face, tile and bed away, and hides
    the same much of it. Without ``first``, nothing changes.
    """
    by_id = {w.id: w for w in job.wall}
    changes: dict[tuple[str, str], Border] = {}
    for left, right in inside_corners(job):
        for this, side, other in ((left, "right", right), (right, "left", left)):
            if (this in job.room.first) == (other in job.room.first):
                continue
            face = next(f for f in faces if f.id == this)
            here = next(b for b in face.borders if not b.of and b.side == side)
            build = build_up(job, by_id[other])
            if this in job.room.first:
                changes[this, side] = replace(here, hidden=max(0.0, build - here.gap[0]))
            else:
                changes[this, side] = replace(here, behind=build)
    return tuple(
        replace(f, borders=tuple(changes.get((f.id, b.side), b) if not b.of else b for b in f.borders)) for f in faces
    )


def build_up(job: Job, wall: Wall) -> float:
    """Return how far the finished face of a wall stands before what was measured to, mm."""
    assert wall.layout.tile is not None
    tile = job.tile[wall.layout.tile].thickness
    room = job.room
    return {
        "finish": 0.0,
        "board": room.membrane + room.bed + tile,
        "studs": room.board + room.membrane + room.bed + tile,
    }[room.to]


def inside_corners(job: Job) -> Iterator[tuple[str, str]]:
    """Yield the walls left and right of every inside corner, going round the room to the right."""
    for i, wall in enumerate(job.wall):
        other = job.wall[(i + 1) % len(job.wall)]
        if len(job.wall) < 2 or (i == len(job.wall) - 1 and len(job.wall) == 2):
            continue
        meets = [w.edges.get(side) for w, side in ((wall, "right"), (other, "left"))]
        if all(e is not None and e.meets == "corner" for e in meets):
            yield wall.id, other.id
