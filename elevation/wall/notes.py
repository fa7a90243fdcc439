"""What the wall stage has to say about a job."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.errors import Finding
from elevation.job.models import Job
from elevation.wall.laps import inside_corners


def wall_findings(job: Job) -> Iterator[Finding]:
    """Yield a note where walls meet in an inside corner and nothing says which of them is tiled first."""
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
