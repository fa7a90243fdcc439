"""What the wall stage has to say about a job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from elevation.errors import Finding
from elevation.job.models import Job
from elevation.wall.agreement import agreement_findings
from elevation.wall.build import build_faces
from elevation.wall.laps import inside_corners
from elevation.wall.outside import corner_words, outside_corners, side_round


def wall_findings(job: Job) -> Iterator[Finding]:
    """Yield what was found on each wall, readings that cannot both be right, and what happens at corners."""
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
    for wall in job.wall:
        for side, edge in wall.edges.items():
            other = next((w for w in job.wall if w.id == edge.with_), None)
            if edge.meets == "outside" and other is not None and side_round(wall, side, other) is None:
                yield Finding(
                    "outside-corner", "note", f"{wall.id} {side}",
                    f"which side of wall {other.id} is round the corner is not said, so no build-up is reckoned. "
                    f'Give that side meets = "outside", with = "{wall.id}"', "common practice",
                )  # fmt: skip
    for corner in outside_corners(job):
        reckoned = (
            "" if job.room.first else ". Without [room] first no build-up is reckoned there: widths are as finished"
        )
        if corner.how == "not said":
            reckoned = ". Give one of the two a trim, or write one of them in [room] first: it is then tiled first"
        yield Finding("outside-corner", "note", corner.name, f"{corner_words(corner)}{reckoned}", "common practice")
