"""Rule: the preferred width of soft joints at other perimeters."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import limit, side_name, text
from elevation.checks.soft_joint_width import MOVEMENT, needs_soft_joint
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class PerimeterGap(Rule):
    """At tub, floor, ceiling and other borders a soft joint of 1/4 in (6 mm) is preferred, 1/8 in the least.

    Inside corners between tiled walls are not meant: there the joint may be as narrow as 1/8 in.
    """

    id: ClassVar[str] = "perimeter-gap"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = MOVEMENT

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each wall with narrower joints at its perimeter."""
        least, preferred = limit(plan, 1 / 8, 3.0), limit(plan, 1 / 4, 6.0)
        for wall in plan.walls:
            narrow = [
                r
                for f in plan.faces_of(wall.face.id)
                for r in plan.runs
                if r.face == f.face.id and r.meets not in ("corner", "frame", "casing")
                and needs_soft_joint(plan, r) and least - EPS <= r.gap[0] < preferred - EPS
            ]  # fmt: skip
            if narrow:
                names = ", ".join(f"{side_name(r)} ({text(plan, r.gap[0])})" for r in narrow)
                yield self.found(wall.face.id, f"soft joints under the preferred {text(plan, preferred)}: {names}")
