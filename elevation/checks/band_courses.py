"""Rule: bands beyond which whole tiles resume stand at one height on walls that share their courses."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.layout import LaidFace, LaidZone
from elevation.patterns import ByWall, Start
from elevation.plan import Plan


class BandCourses(Rule):
    """Where walls share their courses, courses above a band with ``restart`` still meet at the corner.

    Such a band starts the courses above it anew. They go round the room only if the other wall has a band at the same
    height, as high, that restarts its courses too.
    """

    id: ClassVar[str] = "band-courses"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each wall whose courses leave those of the wall it is tied to."""
        for wall in plan.walls:
            start = wall.zones[0].place.pattern.start
            if not isinstance(start, Start) or not isinstance(start.y, ByWall) or start.y.wall == wall.face.id:
                continue
            other = plan.face(start.y.wall)
            apart = _apart(wall, other)
            if apart is None:
                continue
            from_height, by, zone, there = apart
            base = "the level line"
            height = f"{text(plan, abs(from_height))} {'above' if from_height > 0 else 'below'} {base}"
            lacks = other.face.id if there == wall.face.id else wall.face.id
            yield self.found(
                wall.face.id,
                f"from {height} its courses no longer meet those of wall {other.face.id}, which stand "
                f"{text(plan, by)} off: zone {zone} of wall {there} restarts them. Give wall {lacks} such a band at "
                "the same height, or take restart from that one",
            )


def _apart(one: LaidFace, two: LaidFace) -> tuple[float, float, str, str] | None:
    """Return from what height above the datum, and by how much, course lines part; then the band, and its wall."""
    stretches = [_stretches(face) for face in (one, two)]
    for low, high, zone in stretches[0]:
        for bottom, top, other in stretches[1]:
            rise = zone.lattice.b[1]
            if min(high, top) - max(low, bottom) <= rise:
                continue
            lines = zone.origin[1] - one.face.datum[1] - other.origin[1] + two.face.datum[1]
            by = abs(lines - round(lines / rise) * rise)
            if by > EPS:
                later = (zone, one) if low >= bottom and zone.place.beyond else (other, two)
                return max(low, bottom), by, later[0].place.beyond, later[1].face.id
    return None


def _stretches(wall: LaidFace) -> list[tuple[float, float, LaidZone]]:
    """Return the parts of a field with the heights above the datum that each takes."""
    return [(z.region.bounds[1] - wall.face.datum[1], z.region.bounds[3] - wall.face.datum[1], z) for z in wall.field]
