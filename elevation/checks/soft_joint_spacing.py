"""Rule: how far tile may run without a soft joint."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import limit, text
from elevation.checks.room import is_wet
from elevation.checks.soft_joint_width import MOVEMENT
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class SoftJointSpacing(Rule):
    """Indoors tile runs no further than 25 ft without a soft joint, 12 ft where it gets wet or sun falls on it.

    Walls at a tub or pan count as wet; sun is not in the job file.
    """

    id: ClassVar[str] = "soft-joint-spacing"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = MOVEMENT

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each wall whose tile runs further."""
        for wall in plan.walls:
            wet = is_wet(wall)
            most = limit(plan, 144, 3600.0) if wet else limit(plan, 300, 7500.0)
            x0, y0, x1, y1 = (f(z.region.bounds[i] for z in wall.zones) for i, f in enumerate((min, min, max, max)))
            for run, way in ((x1 - x0, "across"), (y1 - y0, "up")):
                if run > most + EPS:
                    yield self.found(
                        wall.face.id,
                        f"the tile runs {text(plan, run)} {way} without a soft joint; {text(plan, most)} is the most"
                        f"{' where it gets wet' if wet else ' indoors'}. Part it with a soft joint on a joint line, "
                        "where whoever designs the room shows it",
                    )
