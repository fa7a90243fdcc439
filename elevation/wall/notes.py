"""What the wall stage has to say about a job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from elevation.errors import Finding
from elevation.job.models import Job
from elevation.wall.agreement import agreement_findings
from elevation.wall.build import build_faces
from elevation.wall.laps import inside_corners


def wall_findings(job: Job) -> Iterator[Finding]:
    """Yield what was found on each wall, readings that cannot both be right, and corners without a lap."""
    yield from agreement_findings(job, build_faces(job))
    open_corners = [pair for pair in inside_corners(job) if not set(pair) & set(job.room.first)]
    if open_corners:
        corners = [f"{left}-{right}" for left, right in open_corners]
        # the wall that stands in most of them: of an alcove the one at the back
        most = Counter(wall for pair in open_corners for wall in pair).most_common(1)[0][0]
        yield Finding(
            "laps",
            "note",
            "room.first",
            f"no laps are reckoned at the inside corners {', '.join(corners)}: nothing says which is tiled first; "
            f'widths are taken as finished, corner to corner. Write [room] first = ["{most}"] to have them reckoned, '
            f"if wall {most} is",
            "common practice",
        )
