"""Which wall runs into an inside corner, what of its tile the other one hides; what is still to come elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from elevation.job.models import Job
from elevation.wall.build_up import backing, build_up
from elevation.wall.face import Border, Face
from elevation.wall.outside import round_corners


def lapped(job: Job, faces: tuple[Face, ...]) -> tuple[Face, ...]:
    """Return the faces with what is still to come in front of the readings reckoned in.

    At an inside corner where exactly one wall is in ``[room] first``, that wall runs into the corner and the other
    one's tile starts at its face, tile and bed away, and hides the same much of it. Readings to the studs lose the
    other wall's board as well. A floor still to come lifts the bottom of the walls that meet it. Outside
    corners: see ``wall.outside``. Without ``first``, no laps.
    """
    by_id = {w.id: w for w in job.wall}
    changes: dict[tuple[str, str], Border] = round_corners(job, faces)
    for left, right in inside_corners(job):
        for this, side, other in ((left, "right", right), (right, "left", left)):
            if (this in job.room.first) == (other in job.room.first):
                continue
            face = next(f for f in faces if f.id == this)
            here = next(b for b in face.borders if not b.of and b.side == side)
            build, bare = build_up(job, by_id[other]), backing(job)
            if this in job.room.first:
                changes[this, side] = replace(here, behind=bare, hidden=max(0.0, build - bare - here.gap[0]))
            else:
                changes[this, side] = replace(here, behind=build)
    return tuple(
        replace(f, borders=tuple(_on_floor(job, changes.get((f.id, b.side), b)) if not b.of else b for b in f.borders))
        for f in faces
    )


def _on_floor(job: Job, border: Border) -> Border:
    """Return a bottom that meets the floor or the pan, lifted by what is still to come under it."""
    if border.side == "bottom" and border.meets in ("floor", "pan") and job.room.floor:
        return replace(border, behind=border.behind + job.room.floor)
    return border


def inside_corners(job: Job) -> Iterator[tuple[str, str]]:
    """Yield the walls left and right of every inside corner, going round the room to the right."""
    for i, wall in enumerate(job.wall):
        other = job.wall[(i + 1) % len(job.wall)]
        if len(job.wall) < 2 or (i == len(job.wall) - 1 and len(job.wall) == 2):
            continue
        meets = [w.edges.get(side) for w, side in ((wall, "right"), (other, "left"))]
        if all(e is not None and e.meets == "corner" for e in meets):
            yield wall.id, other.id
