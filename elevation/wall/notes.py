"""What the wall stage has to say about a job."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.errors import Finding
from elevation.job.models import Job
from elevation.wall.agreement import agreement_findings
from elevation.wall.build import build_faces
from elevation.wall.laps import inside_corners


def wall_findings(job: Job) -> Iterator[Finding]:
    """Yield what was found on each wall, readings that cannot both be right, and corners without a lap."""
    yield from agreement_findings(job, build_faces(job))
    corners = [f"{left}-{right}" for left, right in inside_corners(job) if not {left, right} & set(job.room.first)]
    if corners:
        yield Finding(
            "laps",
            "note",
            "room.first",
            f"no laps are reckoned at the inside corners {', '.join(corners)}: nothing says which is tiled first; "
            'widths are taken as finished, corner to corner. Write [room] first = ["B"] to have them reckoned',
            "common practice",
        )
