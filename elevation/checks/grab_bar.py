"""Rule: the height of grab bars."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import limit, text
from elevation.checks.room import floor_level, rims
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class GrabBar(Rule):
    """Where access is asked for, the top of a level grab bar stands 33 to 36 in (840 to 915 mm) above the floor.

    The lower of two bars at the back of a tub stands 8 to 10 in (205 to 255 mm) above its rim. Only drawn to be
    coordinated with the blocking: someone else reviews accessibility.
    """

    id: ClassVar[str] = "grab-bar"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = Source("ADA Standards", "2010", "609.4 height, 607.4.2 bars at bathtubs")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each level bar that is at neither height."""
        low, high = limit(plan, 33, 840.0), limit(plan, 36, 915.0)
        lower = limit(plan, 8, 205.0), limit(plan, 10, 255.0)
        for wall in plan.walls:
            floor = floor_level(plan, wall)
            for mark in plan.job.wall_by_id(wall.face.id).mark:
                if mark.kind != "bar" or mark.height > mark.width:
                    continue
                top, where = mark.y + mark.height, f"{wall.face.id} {mark.id}"
                over = [top - r.height for r in rims(wall) if r.away(mark.x, mark.x + mark.width) <= EPS]
                if any(lower[0] - EPS <= h <= lower[1] + EPS for h in over):
                    continue
                asked = f"{text(plan, low)} to {text(plan, high)} above the floor"
                if floor is None:
                    yield self.found(
                        where, f"how high it is above the floor the job file does not tell; {asked} is asked for"
                    )
                elif not low - EPS <= top - floor <= high + EPS:
                    yield self.found(
                        where, f"its top is {text(plan, top - floor)} above the floor; {asked} is asked for"
                    )
